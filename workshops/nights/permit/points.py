"""What is asked before the first spark, and what to do when an answer is no.

Source: 29 CFR 1910.252(a)(2), and common practice of hot-work permits; the club adds its own.
"""

from __future__ import annotations

from dataclasses import dataclass

from inventory.places.models import Shop
from workshops.nights.permit.models import PermitPoint


@dataclass(frozen=True, slots=True)
class Point:
    """One point: its key, what is asked, and what to do when the answer is no."""

    key: str
    words: str
    if_no: str


POINTS = (
    Point("sweep", "The floor is swept for 35 ft around", "Sweep it, then answer again."),
    Point(
        "combustibles", "What burns is 35 ft away, or covered with blankets that do not burn",
        "Move it or cover it. What can be neither moved nor covered: no hot work here.",
    ),
    Point(
        "straw", "No straw and no hay lies in the room, and no dust of them",
        "Carry it out and sweep. Where straw was handled tonight, hot work waits.",
    ),
    Point(
        "openings", "Doors, gaps and holes within 35 ft are closed or covered",
        "Close or cover them; look at the other side of walls and floor.",
    ),
    Point(
        "screens", "Screens stand between the arc and everybody else",
        "Set the screens, or send the others out of sight of the arc.",
    ),
    Point(
        "extinguisher", "The extinguisher named below is at hand, full, its check in date",
        "Fetch one that is. Without one there is no hot work.",
    ),
    Point(
        "air", "Fume is drawn off; zinc and paint are stripped or that metal is refused",
        "Open the air and strip the metal, or leave it for another night.",
    ),
    Point(
        "alarm", "All know the alarm, the way out and where to meet",
        "Say it aloud to everybody here, then answer again.",
    ),
    Point(
        "watch", "Whoever watches does nothing else and stays to the end of the watch",
        "Name somebody who can stay, or shorten the hot work.",
    ),
)  # fmt: skip


def points_of(shop: Shop) -> tuple[Point, ...]:
    """The usual points and the club's own, in the order they are asked. One query."""
    own = PermitPoint.objects.filter(shop=shop, is_in_use=True)
    return (*POINTS, *(Point(f"club-{row.pk}", row.words, row.if_no) for row in own))
