"""The line drawings of the pages: small, drawn for the site, one stroke wide.

Each is the inside of a 24 × 24 picture whose strokes take the colour of the text. A
drawing never stands alone: the word is beside it, or its label is said to a reader.
"""

from __future__ import annotations

from xml.sax.saxutils import quoteattr

ICONS: dict[str, str] = {
    # The shop's rooms.
    "tonight": '<path d="M4 20V9l8-5 8 5v11M9 20v-6h6v6"/><path d="M12 4V2"/>',
    "nights": '<path d="M19 14.5A8 8 0 0 1 9.5 5a8 8 0 1 0 9.5 9.5z"/><path d="M17 4v4M15 6h4"/>',
    "people": '<circle cx="8" cy="8" r="3.2"/><path d="M2.5 20c.4-4 2.5-6 5.5-6s5.1 2 5.5 6"/>'
    '<circle cx="17" cy="9.5" r="2.4"/><path d="M16 14.2c3-.4 5 1.8 5.5 5.8"/>',
    "mine": '<circle cx="12" cy="7.5" r="3.5"/><path d="M5 21c.5-5 3-7.5 7-7.5s6.5 2.5 7 7.5z"/>',
    "stock": '<path d="M3 3v18M21 3v18M3 10h18M3 19h18"/><path d="M6 10V6h5v4M8 19v-5h8v5"/>',
    "sheets": '<path d="M4 3h16v18H4z"/><path d="M8 8h8M8 6v4M16 6v4M8 18v-4h4v4"/>',
    "winter": '<path d="M12 2v20M3.3 7l17.4 10M20.7 7 3.3 17"/><path d="m9.5 4 2.5 2 2.5-2'
    'M9.5 20l2.5-2 2.5 2"/>',
    "paper": '<path d="M7 8V3h10v5M7 17H3V8h18v9h-4"/><path d="M7 14h10v7H7z"/>',
    "rules": '<path d="M12 3v18M7 21h10M4 7h16"/><path d="M4 7 1.8 13h4.4zM20 7l-2.2 6h4.4z"/>',
    # What can be done, and what happened.
    "more": '<path d="M4 7h16M4 12h16M4 17h16"/>',
    "out": '<path d="M10 3H4v18h6M9 12h12M17 8l4 4-4 4"/>',
    "plus": '<path d="M12 4v16M4 12h16"/>',
    "minus": '<path d="M4 12h16"/>',
    "undo": '<path d="M9 5 4 10l5 5"/><path d="M4 10h10a6 6 0 0 1 0 12h-3"/>',
    "done": '<path d="m4 13 5.5 6L20 5"/>',
    "stop": '<path d="M5 5l14 14M19 5 5 19"/>',
    "warn": '<path d="M12 3 1.8 21h20.4z"/><path d="M12 10v5M12 17.5v.5"/>',
    "lock": '<path d="M5 11h14v10H5z"/><path d="M8 11V8a4 4 0 0 1 8 0v3"/>',
    "print": '<path d="M7 8V3h10v5M7 17H3V8h18v9h-4"/><path d="M7 14h10v7H7z"/>',
    "search": '<circle cx="10.5" cy="10.5" r="6.5"/><path d="m15.5 15.5 6 6"/>',
    "next": '<path d="M4 12h16M14 6l6 6-6 6"/>',
    "back": '<path d="M20 12H4M10 6l-6 6 6 6"/>',
    "edit": '<path d="M4 20v-4L16 4l4 4L8 20z"/><path d="m13.5 6.5 4 4"/>',
    "clock": '<circle cx="12" cy="12" r="9"/><path d="M12 6v6l4 3"/>',
    "fire": '<path d="M12 2c1 4 6 6.5 6 12a6 6 0 0 1-12 0c0-3 1.5-4.5 2.5-6 .5 2 1.5 3 2.5 3'
    ' 0-3 .2-6 1-9z"/>',
    "truck": '<path d="M2 6h12v11H2zM14 10h4l4 4v3h-8z"/><circle cx="6.5" cy="18" r="2"/>'
    '<circle cx="17.5" cy="18" r="2"/>',
    "saw": '<circle cx="12" cy="13" r="7"/><circle cx="12" cy="13" r="1.5"/>'
    '<path d="M2 20h20M12 3v3M18 5.5l-2 2.5M6 5.5 8 8"/>',
}


def icon_svg(name: str, label: str = "") -> str:
    """The drawing as inline SVG; hidden from screen readers unless it has a label.

    Raises
    ------
    KeyError
        When there is no drawing of that name.
    """
    said = f'role="img" aria-label={quoteattr(label)}' if label else 'aria-hidden="true"'
    return (
        f'<svg class="wb-icon" viewBox="0 0 24 24" width="24" height="24" {said} fill="none" '
        'stroke="currentColor" stroke-width="2" stroke-linecap="round" stroke-linejoin="round">'
        f"{ICONS[name]}</svg>"
    )
