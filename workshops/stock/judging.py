"""Go or no-go at the door: what measured metal, wire, straw and hay may be used for.

Each part of the build sheets in force that is cut from the item is judged from what was
measured. A stem in its post is judged by the fit that the build sheets themselves use; the
tolerance of the club is for walls that nobody measured. Nothing here says that a thing is
good to use: ``fits`` means that no rule stops it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import asdict, dataclass, replace
from decimal import Decimal
from enum import StrEnum
from fractions import Fraction

from inventory.deliveries.arrivals import Measured
from inventory.deliveries.models import Received
from inventory.materials.models import Item
from inventory.measures.lengths import Units
from inventory.places.models import Shop
from workshops.club.queries import Rules, rules_of
from workshops.stations.geometry.fit import Play, play_between
from workshops.stations.geometry.parts import Part, Section, SectionKind
from workshops.stations.geometry.sheet import FitSpec, Sheet
from workshops.stations.geometry.spelling import spell_thin
from workshops.stations.models import BuildSheet
from workshops.stations.queries import SheetRefused, sheet_of, sheets_of

# Tube and rod are rolled to their outside far closer than this share: more is another size.
OUTSIDE_APART = 50


class Says(StrEnum):
    """What a judgement comes to."""

    FITS = "fits"
    NOT = "does_not_fit"
    UNKNOWN = "not_measured"
    CARE = "care"  # it may be used, and the welder must know something


_WORST_FIRST = (Says.NOT, Says.CARE, Says.UNKNOWN, Says.FITS)


@dataclass(frozen=True, slots=True)
class Verdict:
    """What may be said of one part; ``sheets`` are drawing numbers with their revisions."""

    part: str
    says: str
    reason: str
    sheets: str = ""

    def to_json(self) -> dict[str, object]:
        """As it is kept with what was received."""
        return asdict(self)


@dataclass(frozen=True, slots=True)
class Judgement:
    """Everything that was said of one item of a delivery."""

    verdicts: tuple[Verdict, ...] = ()

    @property
    def refused(self) -> list[Verdict]:
        """What it does not fit."""
        return [each for each in self.verdicts if each.says == Says.NOT]

    @property
    def may_be_used_for(self) -> list[str]:
        """The parts that it fits, by name."""
        return [each.part for each in self.verdicts if each.says == Says.FITS]

    @property
    def why_held(self) -> str:
        """The reason that stands in the book when it is set aside; empty when all fits."""
        if not self.refused:
            return ""
        names = ", ".join(each.part for each in self.refused)
        return f"does not fit {names}: {self.refused[0].reason}"


@dataclass(frozen=True, slots=True)
class Bench:
    """What is judged against: the shop's build sheets in force, its rules and its units.

    ``stocks`` says for each sheet, by drawing, which stock item each part is cut from.
    """

    units: Units
    rules: Rules
    sheets: tuple[tuple[Sheet, dict[str, int]], ...]


def bench_of(shop: Shop) -> Bench:
    """The sheets in force that can be drawn, and the rules: 3 queries."""
    rows = sheets_of(shop).filter(status=BuildSheet.Status.IN_FORCE)
    return Bench(shop.length_units, rules_of(shop), tuple(_drawn(rows)))


def judge(item: Item, measured: Measured, bench: Bench) -> Judgement:
    """What may be said of the item, worst first; nothing for what no rule is about. No query."""
    if item.kind == Item.Kind.FILL:
        found = _moisture(item, measured, bench)
    elif item.is_by_length:
        found = [*_coating(item, measured, bench), *_parts(item, measured, bench)]
    else:
        found = []
    order = {says: place for place, says in enumerate(_WORST_FIRST)}
    return Judgement(tuple(sorted(_together(found), key=lambda each: order[Says(each.says)])))


def _drawn(rows: Iterable[BuildSheet]) -> Iterator[tuple[Sheet, dict[str, int]]]:
    for row in rows:
        try:
            sheet = sheet_of(row)
        except SheetRefused:
            continue  # a sheet that cannot be drawn judges nothing; its own page says why
        yield sheet, {line.part.item.slug: line.part.stock_id for line in row.sheet_parts.all()}


def _parts(item: Item, measured: Measured, bench: Bench) -> Iterator[Verdict]:
    for sheet, stocks in bench.sheets:
        for part in sheet.parts:
            if stocks.get(part.item) == item.pk:
                says, reason = _part(sheet, part, measured, bench)
                number = f"{sheet.drawing_number} rev {sheet.revision}"
                yield Verdict(part.name, says, reason, number)


def _part(sheet: Sheet, part: Part, measured: Measured, bench: Bench) -> tuple[Says, str]:
    """The first thing that speaks against the part, or that it fits, with the numbers."""
    if part.section.kind is SectionKind.WIRE_MESH:
        return _wire(part, measured, bench)
    seen = _as_measured(part.section, measured)
    if seen is None:
        return Says.NOT, "the wall as measured leaves no bore: measure again"
    against = _outside(part, measured, bench) or _thin_wall(part, measured, bench)
    if against:
        return Says.NOT, against
    if sheet.fit is not None and part.item in (sheet.fit.inner, sheet.fit.outer):
        return _slides(sheet, sheet.fit, replace(part, section=seen), measured, bench)
    return _plain(part, measured, bench)


def _as_measured(section: Section, measured: Measured) -> Section | None:
    """The section with what was measured in the place of what is drawn."""
    outside = measured.outside_um or section.outside_um
    wall = (measured.wall_um or section.wall_um) if section.kind.is_hollow else 0
    try:
        return replace(section, outside_um=outside, wall_um=wall)
    except ValueError:
        return None


def _outside(part: Part, measured: Measured, bench: Bench) -> str:
    drawn, seen = part.section.outside_um, measured.outside_um
    if seen is None or abs(seen - drawn) * OUTSIDE_APART <= drawn:
        return ""
    return (
        f"it measures {spell_thin(seen, bench.units)} across and {spell_thin(drawn, bench.units)}"
        " is drawn: another size"
    )


def _thin_wall(part: Part, measured: Measured, bench: Bench) -> str:
    """A wall below what the club lets the drawn one differ by; a thick one bears as well."""
    drawn, seen = part.section.wall_um, measured.wall_um
    percent = bench.rules.wall_tolerance_percent
    # Rounded down: a wall of exactly nine tenths is no whole number of micrometres.
    if not part.section.kind.is_hollow or seen is None or seen >= drawn * (100 - percent) // 100:
        return ""
    thinner = round(100 * (1 - Fraction(seen, drawn)))
    return (
        f"the wall is {spell_thin(seen, bench.units)}, {thinner} in a hundred thinner than the"
        f" {spell_thin(drawn, bench.units)} drawn; the club's rule allows {percent}"
    )


def _slides(
    sheet: Sheet, fit: FitSpec, part: Part, measured: Measured, bench: Bench
) -> tuple[Says, str]:
    """Whether stem and post go together with this part as measured."""
    is_outer = part.item == fit.outer
    if (measured.wall_um if is_outer else measured.outside_um) is None:
        what = "the wall" if is_outer else "the outside"
        return Says.UNKNOWN, f"measure {what}: it decides whether the stem slides in the post"
    other = sheet.part(fit.inner if is_outer else fit.outer)
    inner, outer = (other, part) if is_outer else (part, other)
    # A wall that was measured is what it is; the tolerance is for one that was not.
    tolerance = 0 if is_outer else bench.rules.wall_tolerance_percent
    try:
        play = play_between(inner.section, outer.section, tolerance)
    except ValueError:
        return Says.NOT, f"{inner.name} cannot slide into {outer.name}"
    wanted = max(fit.clearance_um, bench.rules.stem_clearance_min_um or 0)
    return _said_of_play(play, wanted, f"{inner.name} in {outer.name}", bench.units)


def _said_of_play(play: Play, wanted: int, which: str, units: Units) -> tuple[Says, str]:
    if play.drawn_um <= 0:
        over = spell_thin(-play.drawn_um, units)
        return Says.NOT, f"{which}: {over} too large for the bore, it never slides"
    if not play.slides():
        return Says.NOT, f"{which}: it binds where the wall is at its thickest"
    there, asked = spell_thin(play.drawn_um, units), spell_thin(wanted, units)
    told = f"{which}: {there} of play, {asked} wanted"
    return (Says.FITS if play.drawn_um >= wanted else Says.NOT), told


def _plain(part: Part, measured: Measured, bench: Bench) -> tuple[Says, str]:
    """A part that slides in nothing: its wall, or its diameter, as drawn within the rule."""
    hollow = part.section.kind.is_hollow
    seen = measured.wall_um if hollow else measured.outside_um
    drawn = part.section.wall_um if hollow else part.section.outside_um
    what = "wall" if hollow else "diameter"
    if seen is None:
        return Says.UNKNOWN, f"measure the {what}: {spell_thin(drawn, bench.units)} is drawn"
    spelled = spell_thin(seen, bench.units), spell_thin(drawn, bench.units)
    return Says.FITS, f"{what} {spelled[0]}, {spelled[1]} drawn"


def _wire(part: Part, measured: Measured, bench: Bench) -> tuple[Says, str]:
    """The wire against the club's rule, in thousandths: one gauge number is several sizes."""
    seen, least = measured.wire_um, bench.rules.wire_min_um
    if seen is None:
        return Says.UNKNOWN, "measure the wire: a gauge number means several sizes"
    told = f"wire {spell_thin(seen, bench.units)}"
    if least is None:
        drawn = spell_thin(part.section.wire_um, bench.units)
        return Says.FITS, f"{told}, {drawn} drawn; the club has no rule for wire"
    told += f", the club's rule asks for {spell_thin(least, bench.units)}"
    return (Says.FITS if seen >= least else Says.NOT), told


def _coating(item: Item, measured: Measured, bench: Bench) -> Iterator[Verdict]:
    """A word for the welder when welded parts are cut from coated metal."""
    if measured.finish not in Received.COATED:
        return
    named = Received.Finish(measured.finish).label
    for sheet, stocks in bench.sheets:
        slugs = {slug for joint in sheet.welds() for slug in (joint.part, joint.onto)}
        for part in sheet.parts:
            if part.item in slugs and stocks.get(part.item) == item.pk:
                number = f"{sheet.drawing_number} rev {sheet.revision}"
                reason = f"{named}: the coating comes off before welding; the weld card says so"
                yield Verdict(f"{part.name} (welded)", Says.CARE, reason, number)


def _moisture(item: Item, measured: Measured, bench: Bench) -> list[Verdict]:
    seen, most = measured.moisture_percent, bench.rules.bale_moisture_max_percent
    if seen is None:
        reason = f"probe a bale: the club takes them in up to {most} %"
        return [Verdict(str(item), Says.UNKNOWN, reason)]
    told = f"{_plainly(seen)} % moist, the club takes it in up to {most} %"
    if seen <= most:
        return [Verdict(str(item), Says.FITS, told)]
    return [Verdict(str(item), Says.NOT, f"{told}: damp bales heat and mould")]


def _together(found: Iterable[Verdict]) -> Iterator[Verdict]:
    """Equal words about one part said once, with the drawings that they are true of."""
    sheets: dict[Verdict, list[str]] = {}
    for each in found:
        sheets.setdefault(replace(each, sheets=""), []).append(each.sheets)
    for each, numbers in sheets.items():
        yield replace(each, sheets=", ".join(filter(None, numbers)))


def _plainly(number: Decimal) -> str:
    return f"{number.normalize():f}"
