"""What steel weighs, in the shop's own units, from the section that an item is described with."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from inventory.ledger.queries import OnHand
from inventory.materials.models import Item
from inventory.measures.fill import GRAMS_PER_POUND
from inventory.measures.lengths import MICROMETRES_PER_FOOT, Units
from inventory.measures.steel import conduit_of, pounds, section_pounds_per_foot

MICROMETRES_PER_METRE = 1_000_000
NOTES = {
    Item.Shape.SQUARE_TUBE: "Worked out with sharp corners: makers' lists, whose corners are"
    " rounded, say up to a tenth less.",
    Item.Shape.CONDUIT: "Worked out from the nominal sizes; what makers list as the least is"
    " some 5 in a hundred lower.",
}


@dataclass(frozen=True, slots=True)
class Weight:
    """How heavy a material is: by length, a piece as bought, and all that there is."""

    by_length: str
    each: str
    on_hand: str
    note: str


def weight_of(there: OnHand) -> Weight | None:
    """The weights of a metal; ``None`` where its section does not say. No query."""
    item, units = there.item, there.item.shop.length_units
    per_foot = section_pounds_per_foot(item.shape, item.outside_um or 0, item.wall_um or 0)
    if per_foot is None:
        return None
    bought = item.bought_length_um
    # On hold or good, it has to be carried: both are weighed.
    lying = sum(int(part.good + part.hold) * part.length_um for part in there.lengths)
    return Weight(
        by_length=_by_length(per_foot, units),
        each=spell_weight(pounds(per_foot, bought), units) if bought else "",
        on_hand=spell_weight(pounds(per_foot, lying), units) if lying else "",
        note=_note(item),
    )


def spell_weight(weight_lb: Decimal, units: Units) -> str:
    """A weight as people say it: ``58.4 lb``, ``412 lb``, ``26.5 kg``."""
    if units is Units.MILLIMETRE:
        return f"{_plain(weight_lb * GRAMS_PER_POUND / 1000)} kg"
    return f"{_plain(weight_lb)} lb"


def _by_length(per_foot: Decimal, units: Units) -> str:
    if units is Units.MILLIMETRE:
        kilograms = per_foot * GRAMS_PER_POUND / 1000
        per_metre = kilograms * MICROMETRES_PER_METRE / MICROMETRES_PER_FOOT
        return f"{per_metre:.2f} kg a metre"
    return f"{per_foot:.3f} lb a foot"


def _plain(value: Decimal) -> str:
    """Tenths below a hundred, whole numbers above: nobody's scales are finer."""
    return f"{value:.1f}" if value < 100 else f"{value:,.0f}"


def _note(item: Item) -> str:
    note = str(NOTES.get(Item.Shape(item.shape), ""))
    conduit = conduit_of(item.outside_um or 0, item.wall_um or 0)
    if item.shape == Item.Shape.CONDUIT and conduit and conduit.least_pounds:
        note += f" A maker lists {conduit.least_pounds} lb for 100 ft of {conduit.trade_size} in."
    return note
