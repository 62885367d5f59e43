"""In which order people are asked to come, so that it is not the same one each time."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from inventory.places.models import Shop
from workshops.season.history import History
from workshops.tonight.models import Ask

HALF_LIFE = timedelta(weeks=3)  # after so long an ask weighs half
HEAVY_SHARE, HEAVY_NIGHTS = 0.7, 4  # worked more than this share of at least so many nights


@dataclass(frozen=True)
class Load:
    """What one person carried this winter: asks with their replies, and nights worked.

    Parameters
    ----------
    asked_at
        When they were asked, for other nights than this one.
    replies, said_yes
        How often they answered or could not be reached, and how often they came for it.
    worked, held
        Nights they were in the building, of those held since the winter began.
    """

    asked_at: tuple[datetime, ...] = ()
    replies: int = 0
    said_yes: int = 0
    worked: int = 0
    held: int = 0

    def turn(self, now: datetime) -> float:
        """The lower, the sooner it is their turn to be asked.

        Notes
        -----
        Each ask weighs 1 at first and half as much after three weeks; who works every night
        counts double; and whoever seldom can is rung later, not never: a yes is as likely
        as one of two before anybody knows.
        """
        weight = sum(0.5 ** ((now - each) / HALF_LIFE) for each in self.asked_at)
        share = self.worked / self.held if self.held else 0.0
        likely = (self.said_yes + 1) / (self.replies + 2)
        return float((1 + weight) * (1 + share) / likely)

    @property
    def is_heavy(self) -> bool:
        """Whether they come to nearly every night already."""
        return self.held >= HEAVY_NIGHTS and self.worked >= HEAVY_SHARE * self.held

    def told(self, now: datetime) -> str:
        """In words: asked twice, last 3 weeks ago, said yes once; worked 3 of 10 nights."""
        parts = [self._asked(now)]
        if self.held:
            parts.append(f"worked {self.worked} of {self.held} nights this winter")
        return "; ".join(parts)

    def _asked(self, now: datetime) -> str:
        if not self.asked_at:
            return "not asked yet this winter"
        days = max(0, (now - max(self.asked_at)).days)
        ago = (
            f"{days // 7} weeks ago"
            if days >= 14
            else f"{days} days ago"
            if days > 1
            else "just now"
        )
        times = _times(len(self.asked_at))
        return f"asked {times}, last {ago}, said yes {_times(self.said_yes)}"


def _times(count: int) -> str:
    return {0: "never", 1: "once", 2: "twice"}.get(count, f"{count} times")


def loads_of(
    asks: Iterable[Ask], history: History, *, night: int, since: date
) -> Mapping[int, Load]:
    """Person -> load, of everybody asked or seen since a day. No query.

    Parameters
    ----------
    asks
        Of the winter; those for ``night`` itself are left out.
    """
    held = [each for each in history.held if each.date >= since]
    worked: dict[int, int] = {}
    for each in held:
        for person in history.came.get(each.pk, ()):
            worked[person] = worked.get(person, 0) + 1
    rows: dict[int, list[Ask]] = {}
    for ask in asks:
        if ask.night_id != night:
            rows.setdefault(ask.person_id, []).append(ask)
    return {
        person: _load(rows.get(person, []), worked.get(person, 0), len(held))
        for person in rows.keys() | worked.keys()
    }


def _load(asks: list[Ask], worked: int, held: int) -> Load:
    # Asked for two stations of one night at once, they were asked once.
    asked = {ask.night_id: ask.asked_at for ask in asks}
    replied = {ask.night_id for ask in asks if ask.reply}
    yes = {ask.night_id for ask in asks if ask.reply == Ask.Reply.YES}
    return Load(tuple(asked.values()), len(replied), len(yes), worked, held)


def asks_since(shop: Shop, since: date) -> list[Ask]:
    """The asks of this winter, the latest first. 1 query; may be empty."""
    return list(Ask.objects.filter(shop=shop, night__date__gte=since).order_by("-asked_at", "-pk"))
