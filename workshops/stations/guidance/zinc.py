"""Zinc on the steel: what it does in an arc, and what the card says."""

from __future__ import annotations

from workshops.stations.geometry.parts import Section, SectionKind

# 29 CFR 1910.1000 table Z-1, zinc oxide fume, mg per cubic metre over eight hours.
PERMITTED_FUME_MG_M3 = 5
# NIOSH, over eight hours and for fifteen minutes.
RECOMMENDED_FUME_MG_M3, RECOMMENDED_SHORT_MG_M3 = 5, 10
COATED = frozenset({"galvanised", "galvanized", "zinc", "zinc plated"})
_ALWAYS_COATED = frozenset({SectionKind.CONDUIT, SectionKind.WIRE_MESH})


def is_zinc_likely(section: Section, finish: str = "") -> bool:
    """Whether the stock carries zinc: steel conduit and mesh usually do, other stock by word."""
    return section.kind in _ALWAYS_COATED or finish.strip().lower() in COATED


def zinc_words() -> str:
    """The sentence that a welding card carries for coated stock."""
    return (
        "Zinc smokes white in the arc and brings fever 3 to 10 hours later: take other stock, or"
        " strip the coating well back from the weld, outdoors or under an extractor."
        f" Limit for the fume: {PERMITTED_FUME_MG_M3} mg in a cubic metre over 8 hours."
    )
