"""Station marks, each drawn from the work itself: the inside of a 48 × 48 picture."""

from __future__ import annotations

# A disc over a stick it has just parted.
_CUT = (
    '<circle cx="24" cy="18" r="12"/><circle cx="24" cy="18" r="2"/>'
    '<path d="M24 6l3-4M36 18l4 3M12 18l-4-3M32.5 9.5l5-1M15.5 9.5l-1-5"/>'
    '<path d="M3 32h15v10H3zM30 32h15v10H30z"/>'
)
# A twist drill through a plate.
_DRILL = (
    '<path d="M18 3h12v7H18zM20 10v19l4 6 4-6V10M20 18l8-4M20 25l8-4"/>'
    '<path d="M4 34h12M32 34h12M4 44h12M32 44h12M4 34v10M44 34v10M16 34v10M32 34v10"/>'
)
# A rod laid round a former.
_BEND = (
    '<path d="M3 41h17a15 15 0 0 0 15-15V4"/><circle cx="20" cy="26" r="8"/>'
    '<path d="M43 26a23 23 0 0 1-7 16M35.500 36.500l.5 5.500 5.500-.5"/>'
)
# A bead in the corner of two plates, under the torch.
_WELD = (
    '<path d="M14 4v37M3 41h42"/><path d="M14 30l11 11H14z" fill="currentColor"/>'
    '<path d="M45 5L29 24M26 21l6 6"/><path d="M31 35l6 1M21 24l-1-6M30 30l4 0"/>'
)
# Two tips closing on two sheets.
_SPOT_WELD = (
    '<path d="M18 3h12v8l-4 7h-4l-4-7zM18 45h12v-8l-4-7h-4l-4 7z"/>'
    '<path d="M3 22h42M3 26h42"/><circle cx="24" cy="24" r="2.5" fill="currentColor"/>'
)
# A guarded wheel and its sparks.
_GRIND = (
    '<circle cx="19" cy="25" r="12"/><circle cx="19" cy="25" r="2.500"/>'
    '<path d="M2 25a17 17 0 0 1 30-11"/><path d="M32 33l12 8M34 27l11 2M27 37l7 9"/>'
)
# A bolt with its nut run up.
_BOLT = (
    '<path d="M12 4h24v9H12zM18 13v19M30 13v19M18 20l12-4M18 27l12-4"/>'
    '<path d="M10 32h28v9H10zM20 32v9M29 32v9M18 41v4h12v-4"/>'
)
# An eye on a flame.
_FIRE_WATCH = (
    '<path d="M4 13c9-11 31-11 40 0-9 11-31 11-40 0z"/>'
    '<circle cx="24" cy="13" r="3.500" fill="currentColor"/>'
    '<path d="M25 25c1 5 8 8 8 14a9 7 0 0 1-18 0c0-3 2-5 3-7 1 2 2 3 4 3 0-4 1-7 3-10z"/>'
)
# A sheet of wire winding up.
_ROLL = (
    '<path d="M24 22a4 4 0 0 1 7 0a7.500 7.500 0 0 1-15 0a11 11 0 0 1 22 0a15 15 0 0 1-14 16"/>'
    '<path d="M24 38h22M31 34v8M38 34v8M45 34v8"/><path d="M16 22a11 11 0 0 0 8 16"/>'
)
# Rings round two wires, the last one about to close.
_RING = (
    '<path d="M2 20h44M2 29h44"/><rect x="5" y="12" width="9" height="25" rx="4.500"/>'
    '<rect x="19" y="12" width="9" height="25" rx="4.500"/>'
    '<path d="M33 9l1 28a4 4 0 0 0 8 0L43 9M30 6l3 3M46 6l-3 3"/>'
)
# Hay going into the end of a cylinder.
_FILL = (
    '<circle cx="24" cy="29" r="17"/><path d="M24 2v17M18 13l6 6 6-6"/>'
    '<path d="M12 29l8-2M17 36l9-2M29 29l8 2M29 38l6-4M21 42l5-1"/>'
)
# A tag with five strokes.
_TAG = (
    '<path d="M3 24L14 9h31v30H14z"/><circle cx="12.500" cy="24" r="2"/>'
    '<path d="M21 16v16M27 16v16M33 16v16M39 16v16M18 30l24-12"/>'
)
# Somebody striding with a stick on the shoulder.
_RUNNER = (
    '<circle cx="23" cy="7" r="4.500"/><path d="M22 14l-3 14-9 15M19 28l10 6 2 10M21 17l9 7"/>'
    '<path d="M3 22L45 11"/>'
)
# Somebody waving at the door.
_GREETER = (
    '<circle cx="17" cy="12" r="6"/><path d="M6 45V33c0-7 4-11 11-11s11 4 11 11v12"/>'
    '<path d="M27 27l9-12V8"/><path d="M41 6c2 3 2 6 1 9M36 3v1"/>'
)
# A hot mug.
_KITCHEN = (
    '<path d="M6 20h27v17a7 7 0 0 1-7 7H13a7 7 0 0 1-7-7z"/>'
    '<path d="M33 24h4a6 6 0 0 1 0 12h-4"/><path d="M14 14c-4-5 4-6 0-11M25 14c-4-5 4-6 0-11"/>'
)
# For a kind of work that a club has added.
_OTHER = '<circle cx="24" cy="24" r="19"/><path d="M15 24h18M24 15v18"/>'

STATIONS: dict[str, str] = {
    "cut": _CUT,
    "drill": _DRILL,
    "bend": _BEND,
    "weld": _WELD,
    "spot_weld": _SPOT_WELD,
    "grind": _GRIND,
    "bolt": _BOLT,
    "fire_watch": _FIRE_WATCH,
    "roll": _ROLL,
    "ring": _RING,
    "fill": _FILL,
    "tag": _TAG,
    "runner": _RUNNER,
    "greeter": _GREETER,
    "kitchen": _KITCHEN,
    "other": _OTHER,
}
