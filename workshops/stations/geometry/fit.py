"""Does the stem slide in the post, and which heights do the pin holes give?"""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction

from workshops.stations.geometry.parts import Part, Section, SectionKind


@dataclass(frozen=True, slots=True)
class Play:
    """Room across between inner and outer part; below 0 the one is larger than the bore.

    ``least_um`` with the outer part's wall at its thickest, ``most_um`` at its thinnest.
    """

    least_um: int
    drawn_um: int
    most_um: int

    def slides(self) -> bool:
        """Whether the one goes into the other even where the wall is at its thickest."""
        return self.least_um > 0


@dataclass(frozen=True, slots=True)
class HeightSetting:
    """One hole of the inner part over one of the outer.

    ``height_um`` is how far the far end of the inner part stands out of the outer,
    ``engaged_um`` how far the inner part reaches in.
    """

    inner_hole_um: int
    outer_hole_um: int
    height_um: int
    engaged_um: int


def play_between(inner: Section, outer: Section, wall_tolerance_percent: int) -> Play:
    """The room across when ``inner`` slides in the bore of ``outer``.

    Raises
    ------
    ValueError
        When the outer section has no bore, or the inner is wire mesh.
    """
    if not outer.kind.is_hollow or inner.kind is SectionKind.WIRE_MESH:
        raise ValueError("only tube, conduit or rod slides, and only into tube or conduit")
    # Exact, so that a wall is not rounded twice on its way to the micrometre.
    swing = Fraction(wall_tolerance_percent, 100)
    needed = _needed_um(inner, outer)
    return Play(
        # The tolerance is on both walls, and the outside size is taken as it is listed.
        least_um=round(outer.outside_um - 2 * outer.wall_um * (1 + swing) - needed),
        drawn_um=outer.inside_um - needed,
        most_um=round(outer.outside_um - 2 * outer.wall_um * (1 - swing) - needed),
    )


def _needed_um(inner: Section, outer: Section) -> int:
    """The bore that the inner section takes up: a square in a round bore needs its diagonal."""
    if inner.kind is SectionKind.SQUARE_TUBE and outer.kind is not SectionKind.SQUARE_TUBE:
        # Upwards: a corner that touches does not slide.
        return math.ceil(inner.outside_um * math.sqrt(2))
    return inner.outside_um


def height_settings(inner: Part, outer: Part) -> tuple[HeightSetting, ...]:
    """The heights that the pin holes give, lowest first; empty when none lines up.

    Notes
    -----
    Both parts are measured from the end at which they meet. A hole ``a`` into the inner
    part lies over a hole ``b`` into the outer when the inner reaches ``a + b`` in. A
    setting deeper than the outer part, or than the inner part is long, is none.
    """
    found = [
        HeightSetting(into, down, inner.length_um - into - down, into + down)
        for into in inner.pin_holes_um()
        for down in outer.pin_holes_um()
        # Deeper than the post is long, the stem would stand on the ground or hang out below.
        if into + down <= min(inner.length_um, outer.length_um)
    ]
    return tuple(sorted(found, key=lambda setting: (setting.height_um, setting.inner_hole_um)))


def adjustment_um(settings: tuple[HeightSetting, ...]) -> int:
    """From the lowest to the highest setting; 0 when there are fewer than two."""
    # They come sorted by height.
    return settings[-1].height_um - settings[0].height_um if settings else 0
