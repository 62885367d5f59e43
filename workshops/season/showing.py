"""A stored outlook, read back and drawn."""

from __future__ import annotations

from workshops.season.engine import plan
from workshops.season.engine.plan import Outlook
from workshops.season.models import OutlookRun
from workshops.season.picture import draw, picture_of


def stored(run: OutlookRun) -> Outlook:
    """The outlook of a run."""
    return plan.from_json(run.result)


def drawn(outlook: Outlook, *, width: int = 960, name: str = "winter") -> str:
    """The winter's band as SVG, for the page and for paper; 400 wide for a phone or a card.

    ``name`` tells several pictures on one page apart.
    """
    return draw(picture_of(outlook), width=width, name=name)
