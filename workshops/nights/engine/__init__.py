"""Placing one night: people x blocks x stations, most made first, every hard rule kept.

``solve.solve`` places; ``rules`` checks any placing, the solver's or one moved by hand;
``plan`` says what is made, how sure that is, and why. Pure computing, no Django.
"""
