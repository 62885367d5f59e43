"""A stored outlook, read back, drawn and put into words for a page."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from workshops.season.engine import plan, sentences
from workshops.season.engine.plan import NightOutlook, Outlook
from workshops.season.models import OutlookRun
from workshops.season.picture import draw, picture_of

PHONE = 400  # units across; the picture is laid out for a phone below 600


@dataclass(frozen=True, slots=True)
class NightRow:
    """One night to come, with its day as a date."""

    day: date
    night: NightOutlook


def stored(run: OutlookRun) -> Outlook:
    """The outlook of a run."""
    return plan.from_json(run.result)


def drawn(outlook: Outlook, *, for_phone: bool = False) -> str:
    """The winter's band as SVG, for the page and for paper."""
    if for_phone:
        return draw(picture_of(outlook), width=PHONE, name="winter-small")
    return draw(picture_of(outlook))


def night_rows(outlook: Outlook) -> list[NightRow]:
    """The nights to come, first one first."""
    return [NightRow(date.fromisoformat(night.date), night) for night in outlook.nights]


def words(outlook: Outlook) -> list[str]:
    """The sentences without gaps and assumptions, which the page shows apart."""
    return sentences.told(outlook)


def counted_on(run: OutlookRun) -> list[str]:
    """What the run took for granted of buying, in sentences; empty when nothing is missing."""
    titles = {row["id"]: row["title"] for row in run.problem["items"]}
    by_day: dict[str, list[str]] = {}
    for row in run.problem["arrivals"]:
        # A metal cut to several lengths arrives once, whatever lengths it is counted for.
        title, names = titles[row["item"].partition("-")[0]], by_day.setdefault(row["date"], [])
        if title not in names:
            names.append(title)
    told = []
    if by_day:
        days = [
            f"{sentences.joined(sorted(by_day[day]))} by {_spoken(day)}" for day in sorted(by_day)
        ]
        told.append(f"That what is missing is ordered now and comes in time: {'; '.join(days)}.")
    ordered = {row["item"] for row in run.problem["arrivals"]}
    never = [
        row["title"]
        for row in run.result["short"]
        if row["item"] not in ordered and row["share"] >= sentences.SELDOM
    ]
    if never:
        told.append(f"That no more comes of {sentences.joined(never)} than is there now.")
    return told


def _spoken(day: str) -> str:
    when = date.fromisoformat(day)
    return f"{when:%a} {when.day} {when:%b}"
