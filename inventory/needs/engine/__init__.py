"""Needs: what the wanted sets take, how many are possible now, what runs out, what to buy by when.

``problem`` is what goes in, ``solve`` the one public function, ``plan`` what comes out;
``explode``, ``sticks``, ``possible``, ``running_out`` and ``buying`` are the computing, one
question each. Never Django.
"""
