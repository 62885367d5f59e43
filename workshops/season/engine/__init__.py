"""The outlook: what the rest of the winter is likely to bring, as bands and not as one number.

``problem`` what goes in, ``learn`` what the club's own nights teach, ``trials`` one function a
random step, ``policy`` who goes where in a block, ``winter`` the nights one after another,
``tell`` from ten thousand winters to a plan, ``solve`` the one public function, ``plan`` the
result, ``score`` how good earlier outlooks were. Pure computing: NumPy, never Django.
"""
