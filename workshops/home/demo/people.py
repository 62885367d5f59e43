"""``people.json``: who comes, what they are signed off for, and who signs in to the site."""

from __future__ import annotations

from datetime import date, time, timedelta

from django.contrib.auth.hashers import make_password

from inventory.places.models import Shop
from workshops.access.actions import NameTaken
from workshops.access.models import Membership, User
from workshops.home.demo.days import Days
from workshops.home.demo.files import Row, kept, read
from workshops.home.demo.stations import LEVELS
from workshops.people.models import Bar, Guardianship, Person, SignOff, Waiver
from workshops.stations.models import Level, Station

# The demo's only password, for all its sign-ins. It opens nothing but the invented club.
DEMO_PASSWORD = "quillmere-winter"

RE_SIGN_WEEK = -10  # everybody signs anew a few days before the first night
YEAR = timedelta(days=365)
LIMITS = {"no dust": "no_dust", "seated only": "seated_only", "no heavy": "no_heavy"}
PAPER = "taken over from the paper register"

People = dict[str, Person]


def sign_ins() -> list[tuple[str, str]]:
    """User name and role of every demo sign-in, for whoever prints them."""
    return [(row["username"], row["role"]) for row in read("people")["sign_ins"]]


def load_people(shop: Shop, stations: dict[str, Station], days: Days) -> People:
    """Everybody by key, with accounts, sign-offs, bars, guardians and waivers."""
    found = read("people")
    users = _load_users(shop, found)
    people = _load_persons(shop, found["people"], users, days)
    likes = Person.likes.through
    likes.objects.bulk_create(
        likes(person_id=people[row["key"]].pk, station_id=stations[slug].pk)
        for row in found["people"]
        for slug in row.get("likes", ())
    )
    _load_sign_offs(shop, found["people"], people, stations=stations, days=days)
    _load_guardians(shop, found["people"], people, days)
    _load_waivers(shop, found["people"], people, days)
    _load_bars(shop, found["bars"], people, stations=stations, days=days)
    return people


def _load_users(shop: Shop, found: Row) -> dict[str, User]:
    """Accounts by the key of their person; one hash for all, since the password is one."""
    names = {row["key"]: row for row in found["people"]}
    taken = User.objects.filter(username__in=[row["username"] for row in found["sign_ins"]]).first()
    if taken is not None:
        raise NameTaken(
            f"Somebody already signs in as “{taken}” here: point DATABASE_URL at another"
            " database for the demo."
        )
    password = make_password(DEMO_PASSWORD)
    users = User.objects.bulk_create(
        User(
            username=row["username"], password=password, email=f"{row['person']}@example.org",
            first_name=names[row["person"]]["first"], last_name=names[row["person"]]["last"],
        )
        for row in found["sign_ins"]
    )  # fmt: skip
    by_person = dict(zip((row["person"] for row in found["sign_ins"]), users, strict=True))
    Membership.objects.bulk_create(
        Membership(user=by_person[row["person"]], shop=shop, role=row["role"])
        for row in found["sign_ins"]
    )
    return by_person


def _load_persons(shop: Shop, rows: list[Row], users: dict[str, User], days: Days) -> People:
    made = Person.objects.bulk_create(
        Person(
            shop=shop, first_name=row["first"], last_name=row["last"],
            user=users.get(row["key"]), email=f"{row['key']}@example.org",
            born_on=days.years_ago(row["age"], -120) if "age" in row else None,
            is_adult_declared="age" not in row,
            joined_on=_joined(row, days),
            **{LIMITS[limit]: True for limit in row.get("limits", ())},
            **kept(row, "phone", "note"),
        )
        for row in rows
    )  # fmt: skip
    return {row["key"]: person for row, person in zip(rows, made, strict=True)}


def _joined(row: Row, days: Days) -> date:
    return days.today if row.get("is_new") else days.week(RE_SIGN_WEEK + _winters(row)[0])


def _load_sign_offs(
    shop: Shop, rows: list[Row], people: People, *, stations: dict[str, Station], days: Days
) -> None:
    """Sign-offs of this winter, and for those who were there those of the last."""
    SignOff.objects.bulk_create(
        SignOff(
            shop=shop, person=people[row["key"]], station=stations[slug], level=level,
            signed_on=on, valid_until=on + YEAR, recorded_at=days.at(on, time(20, 45)),
            **_signed_by(rows, row, slug, people),
        )
        for row in rows
        for slug, entry in row.get("signed", {}).items()
        for level, on in _signed(row, entry, days)
    )  # fmt: skip


def _signed(row: Row, entry: str | Row, days: Days) -> list[tuple[Level, date]]:
    """Level and day of each sign-off that one entry of the file stands for."""
    if isinstance(entry, dict):  # it lapsed, so many days ago, and was not renewed
        return [(LEVELS[entry["level"]], days.day(-entry["lapsed_days"]) - YEAR)]
    return [(LEVELS[entry], days.week(RE_SIGN_WEEK + weeks)) for weeks in _winters(row)]


def _winters(row: Row) -> tuple[int, ...]:
    """The winters for which somebody signed, as weeks from this one."""
    return (-52, 0) if row.get("veteran") else (0,)


def _signed_by(rows: list[Row], row: Row, slug: str, people: People) -> Row:
    """The authoriser of the station who signed; nobody signs for himself."""
    for other in rows:
        if other.get("signed", {}).get(slug) == "may sign others" and other["key"] != row["key"]:
            return {"signed_by": people[other["key"]], "evidence": "first pieces seen"}
    return {"evidence": PAPER}


def _load_guardians(shop: Shop, rows: list[Row], people: People, days: Days) -> None:
    Guardianship.objects.bulk_create(
        Guardianship(
            shop=shop, minor=people[row["key"]], guardian=people[key],
            consent_on=days.week(RE_SIGN_WEEK),
        )
        for row in rows
        for key in row.get("guardians", ())
    )  # fmt: skip


def _load_waivers(shop: Shop, rows: list[Row], people: People, days: Days) -> None:
    Waiver.objects.bulk_create(
        Waiver(
            shop=shop, person=people[row["key"]], version=f"{on.year}", signed_on=on,
            valid_until=on + YEAR,
        )
        for row in rows
        for on in _waivers_signed(row, days)
    )  # fmt: skip


def _waivers_signed(row: Row, days: Days) -> list[date]:
    """Signed anew each winter; some forgot, and who is new has none yet."""
    if row.get("is_new"):
        return []
    if "waiver_ended_days" in row:
        return [days.day(-row["waiver_ended_days"]) - YEAR]
    return [days.week(RE_SIGN_WEEK + weeks) for weeks in _winters(row)]


def _load_bars(
    shop: Shop, rows: list[Row], people: People, *, stations: dict[str, Station], days: Days
) -> None:
    Bar.objects.bulk_create(
        Bar(
            shop=shop, person=people[row["person"]], station=stations[row["station"]],
            reason=row["reason"], set_by=row["set_by"],
            set_at=days.at(days.night(row), time(20, 50)),
        )
        for row in rows
    )  # fmt: skip
