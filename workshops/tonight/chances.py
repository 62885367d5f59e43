"""How likely each person is to be here tonight: from what they said, and what they did before.

Before the doors open it is the outlook's own belief, each person's nights shrunk to the
club's. Once they are open, who is in is here, and who is late is expected less with every
minute, as fast as the club's own late-comers arrive.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import asdict, dataclass
from datetime import datetime

from django.db.models import OuterRef, Subquery

from workshops.nights.clock import minutes, minutes_of, moment
from workshops.nights.coming import Coming
from workshops.nights.models import Night, RollLine, SignUp
from workshops.season.engine.facts import Person
from workshops.season.engine.learn import Turnout, turnout_of
from workshops.season.engine.params import OutlookParams
from workshops.season.history import History

PARAMS = OutlookParams()
LOOK_BACK = 20  # nights whose late-comers are looked at
# Until the club's own roll tells: everybody is in within half an hour, evenly.
USUAL_MINUTES, USUAL_WEIGHT = 30, 4


@dataclass(frozen=True)
class Lateness:
    """How many minutes after the doors, or after the time they had said, people came."""

    minutes: tuple[int, ...] = ()

    def still_to_come(self, late: int) -> float:
        """The share of those who come at all that are not in yet after so many minutes."""
        usual = max(0.0, 1 - max(0, late) / USUAL_MINUTES)
        later = sum(each > late for each in self.minutes)
        return (later + USUAL_WEIGHT * usual) / (len(self.minutes) + USUAL_WEIGHT)

    def chance(self, before: float, late: int) -> float:
        """The chance of somebody who is not in yet, so many minutes after their time.

        Notes
        -----
        Bayes' rule: that they have not come yet is certain if they stay away, and has the
        chance ``still_to_come`` if they come.
        """
        coming = before * self.still_to_come(late)
        return coming / (coming + 1 - before) if coming else 0.0


def beliefs(history: History, people: Iterable[int]) -> dict[int, Turnout]:
    """What the club's nights teach of each of these people; a wide guess before any. No query."""
    counts = history.turnouts()
    rows = [
        Person(id=str(each), title="", **(asdict(counts[each]) if each in counts else {}))
        for each in people
    ]
    return {int(key): each for key, each in turnout_of(rows, PARAMS).items()}


def doors_are_open(night: Night, coming: Iterable[Coming], now: datetime) -> bool:
    """Whether the roll tells by now who is here."""
    return now >= moment(night, night.doors) or any(each.in_at for each in coming)


def lateness_of(night: Night) -> Lateness:
    """How late people came on the last nights. 2 queries; nothing before the first."""
    said = SignUp.objects.filter(night=OuterRef("night"), person=OuterRef("person"))
    held = Night.objects.filter(
        shop=night.shop, date__lt=night.date, status=Night.Status.CLOSED
    ).order_by("-date")
    rows = RollLine.objects.filter(night__in=list(held[:LOOK_BACK])).order_by("in_at")
    rows = rows.select_related("night__shop").annotate(arrives=Subquery(said.values("arrives")[:1]))
    found: dict[tuple[int, int], int] = {}
    for row in rows:
        late = minutes_of(row.in_at, row.night) - minutes(row.arrives or row.night.doors)
        # Whoever goes out for a while and comes back was here from the first time.
        found.setdefault((row.night_id, row.person_id), late)
    return Lateness(tuple(found.values()))


def chances(
    night: Night,
    coming: Sequence[Coming],
    believed: dict[int, Turnout],
    *,
    now: datetime,
    lateness: Lateness | None,
) -> dict[int, float]:
    """Person -> the chance that they are here tonight, of everybody who did not say no. No query.

    Parameters
    ----------
    lateness
        None before the doors open: nobody is late yet.
    """
    found = {}
    for each in coming:
        if each.is_in:
            found[each.person_id] = 1.0
        elif each.in_at is None and each.answer != SignUp.Answer.NO:
            before = _before(each, believed.get(each.person_id))
            due = each.present[0].start if each.present else minutes(night.doors)
            late = minutes_of(now, night) - due
            found[each.person_id] = lateness.chance(before, late) if lateness else before
    return found


def _before(each: Coming, turnout: Turnout | None) -> float:
    if turnout is None:
        return PARAMS.turnout_mean
    belief = turnout.after_yes if each.answer == SignUp.Answer.YES else turnout.unasked
    return float(belief.mean)
