"""The cautions that a station's card carries unless the club writes its own.

Every caution has a source and says how it is known. Each card ends by deferring to local
codes and licensed practice; none says that the work is without danger.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from workshops.stations.guidance.shade import Process, shade_words
from workshops.stations.guidance.zinc import zinc_words

DEFER = "Local codes, the building's rules and licensed practice come before this card."


class Known(Enum):
    """How far a caution was checked against its source."""

    READ = "read in the source"
    QUOTED = "read where it is quoted"
    MEMORY = "from memory"
    PRACTICE = "common practice, no source"


@dataclass(frozen=True, slots=True)
class Caution:
    """One sentence for a card, with the clause it comes from."""

    text: str
    source: str
    known: Known

    def as_row(self) -> dict[str, str]:
        """The form in which a station keeps it: text and source."""
        return {"text": self.text, "source": self.source}


_USUAL = "common practice, no source"


def _practice(text: str) -> Caution:
    return Caution(text, _USUAL, Known.PRACTICE)


EYE_MARK = Caution(
    "Glasses carry Z87 and, where pieces fly, Z87+.", "ANSI/ISEA Z87.1", Known.QUOTED
)
EARS = Caution(
    "100 dBA is usual beside a chop saw: 2 hours a day at most without muffs or plugs.",
    "29 CFR 1910.95 table G-16; the level of the saw is common practice, no source",
    Known.READ,
)
SWEPT = Caution(
    "Hot work: floor swept and nothing that burns for 35 ft round, or shielded.",
    "29 CFR 1910.252(a)(2)",
    Known.QUOTED,
)
WATCHED = Caution(
    "A named fire watch stays from the first spark to the end of the watch, half an hour after the"
    " last spark at the very least and an hour where NFPA 51B-2019 holds.",
    "29 CFR 1910.252(a)(2)(iii); NFPA 51B-2019",
    Known.READ,
)
WATCHER = Caution(
    "The watch has an extinguisher at hand, knows how to raise the alarm, and fights only a fire"
    " that the extinguisher can beat.",
    "29 CFR 1910.252(a)(2)(iii)",
    Known.READ,
)
ZINC = Caution(zinc_words(), "29 CFR 1910.1000 table Z-1", Known.READ)
UNDER_18 = Caution(
    "Nobody under 18 runs power-driven saws, shears or benders where the club keeps the rules made"
    " for young workers.",
    "29 CFR 570 subpart E, adopted as club policy",
    Known.READ,
)
CARRYING = Caution(
    "Carry sticks and bundles in pairs, close to the body, and set them down before turning.",
    "NIOSH 94-110",
    Known.QUOTED,
)
NO_FLAME = _practice("No flame, spark or smoking where straw or hay is handled or stored.")
SPRING = _practice("Wire springs back and cut ends stab: keep both hands on it until it is tied.")
HOT_BALE = Caution(
    "Damp or warm bales stay outside; over 150 °F in a stack, tell the duty lead at once.",
    "Penn State Extension notice on hay fires",
    Known.READ,
)

CAUTIONS: dict[str, tuple[Caution, ...]] = {
    "cut": (
        _practice("Clamp the stick. Let the blade reach full speed before it touches."),
        _practice("Fresh ends are hot and sharp: deburr before passing on."),
        _practice("An abrasive wheel throws sparks: it is hot work, with permit and watch."),
        EYE_MARK,
        EARS,
        UNDER_18,
    ),
    "drill": (
        _practice("Gloves off, hair and sleeves tied: a spindle takes cloth and hand with it."),
        _practice("Vise or clamp always; take the chuck key out before you switch on."),
        _practice("Ease off at breakthrough. Brush chips away, never by hand."),
        EYE_MARK,
    ),
    "bend": (
        _practice("Fingers clear of the former: it closes without feeling."),
        _practice("Rod springs back and its ends swing at eye height: look behind you."),
        EYE_MARK,
        UNDER_18,
    ),
    "weld": (
        SWEPT,
        WATCHED,
        _practice("Screens stand before the first arc. Call out before you strike."),
        _practice("No arc in a room where straw or hay is worked tonight."),
    ),
    "spot_weld": (
        Caution(
            "Only people shown this welder and judged fit for it use it.",
            "29 CFR 1910.255(a)(3)",
            Known.READ,
        ),
        Caution(
            "Fingers stay out of the tips: guard or two-hand control in place.",
            "29 CFR 1910.255(b)(4)",
            Known.READ,
        ),
        EYE_MARK,
    ),
    "grind": (SWEPT, WATCHED, EYE_MARK, EARS),
    "bolt": (
        _practice("Pull the spanner towards you, with the head held in the vise."),
        _practice("Burrs cut: gloves on for handling, off near any drill."),
        EYE_MARK,
    ),
    "fire_watch": (
        WATCHER,
        WATCHED,
        _practice("The watch does no other work and does not weld."),
    ),
    "roll": (
        SPRING,
        _practice("Two work together, so that one can hold while one ties."),
        NO_FLAME,
    ),
    "ring": (
        SPRING,
        _practice("Ring pliers tire the hand: change over every 30 minutes."),
        NO_FLAME,
    ),
    "fill": (
        _practice("Nobody with asthma or hay trouble fills. Dust can make ill 4 to 6 hours later."),
        _practice("Mouldy hay is not used: bag it and put it outside."),
        HOT_BALE,
        NO_FLAME,
    ),
    "tag": (_practice("Keep aisles and the way out free of racks and filled cylinders."),),
    "runner": (CARRYING, _practice("Look before crossing behind a saw, a bender or a screen.")),
    "greeter": (_practice("Know who is in the building: the roll goes out with you in an alarm."),),
    "kitchen": (_practice("Food stays in the kitchen: hands are washed of metal and dust first."),),
}

DEFAULT_WEAR: dict[str, tuple[str, ...]] = {
    "cut": ("eyes", "ears", "closed shoes"),
    "drill": ("eyes", "hair tied", "closed shoes"),
    "bend": ("eyes", "gloves", "closed shoes"),
    "weld": ("helmet", "glasses under it", "gauntlets", "sleeves", "leather boots"),
    "spot_weld": ("eyes", "gloves", "sleeves", "closed shoes"),
    "grind": ("eyes", "face shield", "ears", "closed shoes"),
    "bolt": ("eyes", "gloves", "closed shoes"),
    "fire_watch": ("eyes", "closed shoes"),
    "roll": ("eyes", "leather gloves", "sleeves", "closed shoes"),
    "ring": ("eyes", "gloves", "closed shoes"),
    "fill": ("N95", "eyes", "sleeves", "closed shoes"),
    "tag": ("closed shoes",),
    "runner": ("closed shoes", "eyes"),
    "greeter": ("closed shoes",),
    "kitchen": ("closed shoes",),
}

DEFAULT_NEVER_WEAR: dict[str, tuple[str, ...]] = {
    "cut": ("loose sleeves", "rings"),
    "drill": ("gloves", "loose sleeves", "rings"),
    "bend": ("loose sleeves", "rings"),
    "weld": ("synthetics", "open shoes", "lighter"),
    "spot_weld": ("rings", "synthetics"),
    "grind": ("loose sleeves", "synthetics", "lighter"),
    "roll": ("lighter",),
    "ring": ("lighter",),
    "fill": ("lighter",),
}


def cautions_for(
    kind: str, *, process: Process | None = None, amperes: int = 0, local_shade: int = 0
) -> tuple[Caution, ...]:
    """The cautions for a station of that kind; empty for a kind not known here.

    Welding with a process and amperes gets its lens as well, and always the word on zinc.
    """
    found = CAUTIONS.get(kind, ())
    if kind != "weld":
        return found
    if process and amperes:
        words = shade_words(process, amperes, local_minimum=local_shade)
        found = (Caution(words, "29 CFR 1910.133(a)(5)", Known.READ), *found)
    return (*found, ZINC)
