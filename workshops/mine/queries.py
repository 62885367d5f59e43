"""What the pages of one's own read."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from datetime import date

from inventory.places.models import Shop
from workshops.access.models import User
from workshops.club.queries import rules_of
from workshops.mine.models import Feed
from workshops.nights.models import Night, RollLine, SignUp
from workshops.people.models import Guardianship, Person

WINTER_BEGINS = 8  # August: the month in which straw and steel are gathered for a new winter
PAST_NIGHTS = 20


@dataclass(frozen=True, slots=True)
class MyNight:
    """A night with what one person answered, and whether they came."""

    night: Night
    answer: SignUp | None
    came: bool = False

    @property
    def said(self) -> str:
        """``yes``, ``maybe``, ``no``, or nothing."""
        return self.answer.answer if self.answer else ""

    @property
    def is_open(self) -> bool:
        """Whether an answer can still be given or changed."""
        return self.night.status == Night.Status.PLANNED


@dataclass(frozen=True, slots=True)
class MyNights:
    """The nights to come, earliest first, and those behind, latest first."""

    ahead: list[MyNight]
    behind: list[MyNight]


@dataclass(frozen=True, slots=True)
class MyHours:
    """Minutes in the building by night, the latest first, and this winter's sums."""

    since: date
    nights: list[tuple[date, int]]
    earlier: list[tuple[date, int]]

    @property
    def minutes(self) -> int:
        """Minutes of this winter."""
        return sum(minutes for _, minutes in self.nights)


def person_of(user: User, shop: Shop) -> Person | None:
    """The person on the shop's list whose account it is, or None (one query)."""
    return Person.objects.filter(shop=shop, user=user).active().first()


def wards_of(person: Person, on: date) -> list[Person]:
    """The minors somebody answers for; none once they are of age (two queries)."""
    adult_age = rules_of(person.shop).adult_age
    rows = Guardianship.objects.filter(guardian=person, minor__is_active=True)
    wards = [row.minor for row in rows.select_related("minor__shop")]
    return [ward for ward in wards if not ward.is_adult_on(on, adult_age)]


def nights_of(person: Person, today: date) -> MyNights:
    """The nights of the person's shop with their answers: three queries; may be empty."""
    answers = {row.night_id: row for row in SignUp.objects.filter(person=person)}
    came = set(RollLine.objects.filter(person=person).values_list("night", flat=True))
    rows = [
        MyNight(night, answers.get(night.pk), night.pk in came)
        for night in Night.objects.filter(shop=person.shop_id).order_by("date")
    ]
    behind = [row for row in reversed(rows) if row.night.date < today]
    return MyNights([row for row in rows if row.night.date >= today], behind[:PAST_NIGHTS])


def answer_of(person: Person, night: Night) -> SignUp | None:
    """What the person answered, or None (one query)."""
    return SignUp.objects.filter(person=person, night=night).first()


def hours_of(person: Person, today: date) -> MyHours:
    """Hours from the roll (one query); a stay still open counts none."""
    year = today.year if today.month >= WINTER_BEGINS else today.year - 1
    since = date(year, WINTER_BEGINS, 1)
    sums: dict[date, int] = defaultdict(int)
    rows = RollLine.objects.filter(person=person, out_at__isnull=False).order_by("-in_at")
    for line in rows.select_related("night"):
        if line.out_at:
            sums[line.night.date] += round((line.out_at - line.in_at).total_seconds() / 60)
    nights = [(day, minutes) for day, minutes in sums.items() if day >= since]
    return MyHours(since, nights, [each for each in sums.items() if each[0] < since])


def feed_by(secret: str) -> Feed | None:
    """The calendar at a secret address, while its person is on the list (one query)."""
    rows = Feed.objects.select_related("shop", "person")
    return rows.filter(secret=secret, person__is_active=True).first()
