"""Cards for wire, straw and hay: roll, ring, fill."""

from __future__ import annotations

from workshops.stations.card_words.card import CardText, Step

ROLL = CardText(
    steps=(
        Step("Lay the wire piece flat", "Curl down, both of you with gloves on",
             "It rolls itself up and stabs"),
        Step("Mark the first turn", "At the mark of the drawing, from the end with cut wires",
             "The ring sets the size of the door"),
        Step("Close the first turn", "Cut ends bent round the next wire, then tie at three places",
             "Open ends scratch birds and hands"),
        Step("Try the diameter gauge", "It must go in and touch all round",
             "A larger ring lets geese in"),
        Step("Lay the straw", "Even, the thickness of the gauge stick, out to both edges",
             "A thin place shows daylight and rots first"),
        Step("Roll on, one pulling and one pressing", "Edges level, straw not pushed ahead",
             "A loose roll sags by spring"),
        Step("Tie for the ring station", "At both ends and the middle, closing edge up",
             "It springs open the moment a hand slips"),
    ),
    first_piece="Gauge in the first turn, stick in the straw, tape round the outside.",
    bad_piece="Egg-shaped, one edge ahead of the other, daylight through the straw.",
    check_every=5,
)  # fmt: skip

RING = CardText(
    steps=(
        Step("Set the roll in the cradle", "Closing edge up, helper holds",
             "You need both hands for the pliers"),
        Step("Ring both ends", "Over the edge wire and the wire beneath",
             "The ends take the pull of the whole roll"),
        Step("Ring the middle, then halve the gaps", "As many as the drawing says",
             "From one end only, the edge wanders"),
        Step("Close each ring fully", "Points past each other, flat on the wire",
             "An open ring falls off in the first storm"),
        Step("Turn the points in", "Run a glove along the edge", "Birds and hands pass here"),
        Step("Count aloud and change over", "Swap every half hour",
             "A tired grip leaves rings open"),
    ),
    first_piece="Count the rings, pull at the edge between two: nothing opens.",
    bad_piece="A ring round one wire only, points sticking out, fewer rings than drawn.",
    check_every=10,
)  # fmt: skip

FILL = CardText(
    steps=(
        Step("Put on the mask", "Pinch it at the nose, breathe out hard, feel for leaks",
             "The dust that hurts is too fine to see"),
        Step("Open the bale outside the ring of work", "Smell and look: dry, green or gold",
             "Mould is thrown out before it flies"),
        Step("Shake the hay loose", "Low, no throwing",
             "Flakes pack hard and birds cannot shape them"),
        Step("Fill from both ends", "Soft, to the mark of the drawing",
             "Full to the roof is as useless as empty"),
        Step("Press a hollow in the middle", "With a forearm, as deep as an elbow",
             "The first hen should find a start"),
        Step("Look through from the end", "No daylight at the wall, no wire ends",
             "Wind finds the thin place"),
        Step("Sweep before you leave", "Damp broom, dust out of the room",
             "Dust waits for the next spark"),
    ),
    first_piece="Tip the first one on its end and shake: nothing may fall out.",
    bad_piece="Hay falls out, grey or musty hay, a hard lump, or daylight at the wall.",
    check_every=10,
)  # fmt: skip
