"""Marks of what is counted, one a kind: the inside of a 48 × 48 picture."""

from __future__ import annotations

ITEMS: dict[str, str] = {
    # The end of a square tube, and its length going away.
    "metal": '<path d="M4 20h20v20H4zM9 25h10v10H9zM4 20L24 6h20L24 20M44 6v20L24 40"/>',
    # A bale between its two strings.
    "fill": '<path d="M4 14h40v22H4zM16 14v22M32 14v22M8 20l4 3M22 22l5 3M36 28l5 3M8 30l4-2"/>',
    # A nut.
    "small": '<path d="M14 6h20l10 18-10 18H14L4 24z"/><circle cx="24" cy="24" r="9"/>',
    # A head on its stem.
    "rack": '<path d="M21 20h6v24h-6zM8 14h32v6H8zM8 14C8 8 6 6 4 4M40 14c0-6 2-8 4-10"/>',
    # A cylinder lying on its post.
    "set": '<path d="M12 6h26v18H12z"/><ellipse cx="12" cy="15" rx="5" ry="9"/>'
    '<path d="M38 6a5 9 0 0 1 0 18M21 24h6v21h-6z"/>',
}  # fmt: skip
