"""What past nights teach the outlook: who came when asked, what was made in how long."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import date

from django.db.models import Sum

from inventory.materials.models import Item
from inventory.places.models import Shop
from workshops.nights.models import Night, RollLine, SignUp, Tally
from workshops.season.engine import problem as engine
from workshops.season.models import Winter

YES, NO = SignUp.Answer.YES, SignUp.Answer.NO


@dataclass
class Turnout:
    """How often one person was expected on nights that were held, and came."""

    asked: int = 0
    came: int = 0
    said_yes: int = 0
    came_after_yes: int = 0
    said_no: int = 0
    came_after_no: int = 0

    def note(self, answer: str, came: bool) -> None:
        """One held night."""
        self.asked += 1
        self.came += came
        if answer == YES:
            self.said_yes += 1
            self.came_after_yes += came
        elif answer == NO:
            self.said_no += 1
            self.came_after_no += came


@dataclass
class History:
    """All past nights of a shop, both winters. Loading takes 4 queries."""

    nights: list[Night]
    answers: dict[int, dict[int, str]] = field(default_factory=dict)
    came: dict[int, set[int]] = field(default_factory=dict)
    work: dict[int, list[engine.PastWork]] = field(default_factory=dict)

    @property
    def held(self) -> list[Night]:
        """The nights that took place."""
        return [night for night in self.nights if night.status == Night.Status.CLOSED]

    def turnouts(self) -> dict[int, Turnout]:
        """Person -> how often they were expected and came. No query."""
        found: dict[int, Turnout] = defaultdict(Turnout)
        for night in self.held:
            answers, came = self.answers.get(night.pk, {}), self.came.get(night.pk, set())
            for person in answers.keys() | came:
                found[person].note(answers.get(person, ""), person in came)
        return found

    def past_nights(self) -> tuple[engine.PastNight, ...]:
        """The nights as the engine asks them. No query."""
        return tuple(
            engine.PastNight(
                date=night.date.isoformat(),
                held=night.status == Night.Status.CLOSED,
                asked=len(self.answers.get(night.pk, {}).keys() | self.came.get(night.pk, set())),
                came=len(self.came.get(night.pk, ())),
                work=tuple(self.work.get(night.pk, ())),
            )
            for night in self.nights
        )


def history_of(shop: Shop, before: date) -> History:
    """Every night before a day that was held or cancelled. 4 queries; may be empty."""
    past = Night.objects.filter(shop=shop, date__lt=before).exclude(status=Night.Status.PLANNED)
    history = History(nights=list(past.order_by("date")))
    for night, person, answer in SignUp.objects.filter(night__in=past).values_list(
        "night", "person", "answer"
    ):
        history.answers.setdefault(night, {})[person] = answer
    for night, person in RollLine.objects.filter(night__in=past).values_list("night", "person"):
        history.came.setdefault(night, set()).add(person)
    history.work = _work(past)
    return history


def _work(past: Iterable[Night]) -> dict[int, list[engine.PastWork]]:
    standing = Tally.objects.standing().filter(night__in=past, person_minutes__isnull=False)
    rows = (
        standing.order_by()
        .values("night", "operation")
        .annotate(
            good=Sum("good"), hold=Sum("hold"), scrap=Sum("scrap"), spent=Sum("person_minutes")
        )
    )
    found: dict[int, list[engine.PastWork]] = defaultdict(list)
    for row in rows:
        found[row["night"]].append(
            engine.PastWork(
                operation=str(row["operation"]), good=row["good"] + row["hold"],
                scrapped=row["scrap"], person_minutes=float(row["spent"]),
            )
        )  # fmt: skip
    return found


def made_by_night(winter: Winter) -> dict[date, dict[int, int]]:
    """Night -> set item -> complete sets counted good that night, this winter. 1 query."""
    rows = (
        Tally.objects.standing().filter(
            shop=winter.shop,
            night__date__gte=winter.starts_on, night__date__lte=winter.ends_on,
            operation__recipe__output__kind=Item.Kind.SET,
        )
        .order_by("night__date")
        .values("night__date", "operation__recipe__output")
        .annotate(made=Sum("good"))
    )  # fmt: skip
    found: dict[date, dict[int, int]] = defaultdict(dict)
    for row in rows:
        found[row["night__date"]][row["operation__recipe__output"]] = row["made"]
    return found


def made_this_winter(winter: Winter) -> dict[int, int]:
    """Operation -> good pieces this winter, for learning. 1 query."""
    rows = (
        Tally.objects.standing()
        .filter(shop=winter.shop, night__date__gte=winter.starts_on)
        .order_by()
        .values_list("operation")
        .annotate(made=Sum("good"))
    )
    return dict(rows)
