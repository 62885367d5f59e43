"""The club and the rules it has set.

A *rule* is a value the club decided (the ratio of learners, the length of the watch, the
largest ring), with who decided it, when and from what. ``rulebook`` lists every rule the
site knows with its usual value; laws and fire codes differ by place, so none is a
constant in code. Neighbours: access below; stations, people and nights ask the rules.
"""
