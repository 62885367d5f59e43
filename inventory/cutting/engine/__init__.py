"""Cut lists: which pieces come off which stick, with the least metal used, proven where possible.

``problem`` is what goes in, ``solve`` the one public function, ``plan`` what comes out;
``patterns`` and ``model`` are the computing, ``baseline`` the way a careful person would do
it by hand, which every plan is measured against. Never Django.
"""
