"""What to wear and what never to wear: the inside of a 48 × 48 picture, by the word for it."""

from __future__ import annotations

_LENSES = '<rect x="4" y="17" width="17" height="14" rx="6"/><rect x="27" y="17" width="17"'
_GLASSES = f'{_LENSES} height="14" rx="6"/><path d="M21 22c2-2 4-2 6 0M4 22l-2-8M44 22l2-8"/>'
_HOOD = '<path d="M9 8c9-6 21-6 30 0v19c0 9-6 15-15 18-9-3-15-9-15-18z"/>'
_HAND = (
    "M15 44V32l-7-9c-2-3 2-6 4-3l4 5V11a3 3 0 0 1 6 0V6a3 3 0 0 1 6 0v5"
    "a3 3 0 0 1 6 0v5a2.500 2.500 0 0 1 5 0v16c0 5-2 8-4 12z"
)
_FINGERS = "M22 11v10M28 11v10M34 16v6"
_SHIRT = "M16 6c2 4 14 4 16 0l9 5 4 27h-8l-2-14v20H13V24l-2 14H3l4-27z"

WEAR: dict[str, str] = {
    "eyes": _GLASSES,
    "glasses under it": f'{_HOOD}<rect x="13" y="18" width="9" height="8" rx="3"/>'
    '<rect x="26" y="18" width="9" height="8" rx="3"/><path d="M22 21h4"/>',
    "ears": '<path d="M8 28v-4a16 16 0 0 1 32 0v4"/>'
    '<rect x="3" y="26" width="9" height="16" rx="4"/>'
    '<rect x="36" y="26" width="9" height="16" rx="4"/>',
    "face shield": '<path d="M6 5h36v8H6z"/><path d="M9 13v16c0 9 6 15 15 15s15-6 15-15V13"/>'
    '<path d="M17 20l-2 8"/>',
    "helmet": f'{_HOOD}<rect x="14" y="16" width="20" height="9" fill="currentColor"/>',
    "gloves": f'<path d="{_HAND}{_FINGERS}"/>',
    "leather gloves": f'<path d="{_HAND}{_FINGERS}M15 36h22"/>'
    '<path d="M15 41h22" stroke-dasharray="2 3"/>',
    "gauntlets": '<path d="M14 30l-5-7c-2-3 2-5 4-2l3 4V9a3 3 0 0 1 6 0V6a3 3 0 0 1 6 0v3'
    'a3 3 0 0 1 6 0v19l6 17H8z"/><path d="M22 9v9M28 9v9M14 30h20"/>',
    "sleeves": f'<path d="{_SHIRT}"/><path d="M4 33h8M36 33h8"/>',
    "leather boots": '<path d="M13 4h16v21l11 6c4 2 5 5 5 10H13z"/><path d="M13 41v4h32v-4M29 12h-5'
    'M29 18h-5"/>',
    "closed shoes": '<path d="M4 20c5 3 9 2 13-3l11 10c6 3 16 2 16 10v3H4z"/>'
    '<path d="M4 34h40M20 20l-4 4M25 24l-4 4"/>',
    "hair tied": '<circle cx="21" cy="28" r="14"/><circle cx="37" cy="12" r="7"/>'
    '<path d="M9 21c8 1 16-2 22-7"/>',
    "N95": '<path d="M7 22c8-2 11-9 17-9s9 7 17 9c0 12-7 20-17 20S7 34 7 22z"/>'
    '<path d="M7 22l-5-9M41 22l5-9M8 31l-6 3M40 31l6 3M15 27c6 3 12 3 18 0"/>',
    "apron": '<path d="M15 16h18l5 28H10zM15 16V9M33 16V9M15 9a9 6 0 0 1 18 0M18 28h12v7H18z"/>',
    "loose sleeves": '<path d="M16 6c2 4 14 4 16 0l6 4 8 25-13 4-2-10v15H17V29l-2 10-13-4 8-25z"/>',
    "rings": '<circle cx="24" cy="31" r="13"/><path d="M17 6h14l4 5-11 8-11-8zM13 11h22"/>',
    "synthetics": '<path d="M16 4c2 4 14 4 16 0l9 5 3 15h-8l-2-6v11c0 6-4 3-4 8s-5 3-5-1-5-2-5 3'
    '-6 2-6-4V18l-2 6H4L7 9z"/><path d="M21 44v1M30 43v2"/>',
    "open shoes": '<path d="M3 37h42v6H3z"/>'
    '<path d="M7 37V20h10v17M7 27h10M27 37c1-11 13-11 14 0"/>',
    "lighter": '<rect x="12" y="24" width="18" height="20" rx="2"/><path d="M14 24v-6h9v6"/>'
    '<path d="M32 4c4 5 6 8 3 12-2 2-6 1-6-2 0-4 3-5 3-10z"/>',
    "food": '<path d="M11 4v12a5 5 0 0 0 10 0V4M16 4v40M35 22v22M35 4c-7 6-8 15 0 18z"/>',
    "other": '<path d="M16 5c2 4 14 4 16 0l9 5-5 9-3-2v27H15V17l-3 2-5-9z"/>',
}

# What the word means when it stands alone beside the picture.
SPOKEN: dict[str, str] = {
    "eyes": "safety glasses",
    "ears": "ear muffs or plugs",
    "glasses under it": "safety glasses under the helmet",
    "helmet": "welding helmet",
    "sleeves": "long sleeves",
    "N95": "N95 mask",
    "synthetics": "clothes that melt",
}
