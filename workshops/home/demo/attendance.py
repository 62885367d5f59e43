"""Who meant to come to each night, and who came: sign-ups and the roll.

Who came stands in the files. What people had answered before, and when exactly they came
in and went, is drawn from a fixed seed and their habit (``comes``): the same every time.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import time, timedelta
from random import Random

from workshops.home.demo.days import Days, clock
from workshops.home.demo.files import Row, read
from workshops.home.demo.nights import Told
from workshops.home.demo.people import People
from workshops.nights.models import Night, RollLine, SignUp

ASKED_WEEKS = 3  # how far ahead people have begun to answer
YES, MAYBE, NO = SignUp.Answer.YES, SignUp.Answer.MAYBE, SignUp.Answer.NO


def load_attendance(told: list[Told], people: People, days: Days) -> None:
    """Sign-ups of every night that people were asked for, and the roll of those held."""
    habits = {row["key"]: row for row in read("people")["people"]}
    sign_ups: list[SignUp] = []
    roll: list[RollLine] = []
    for row, night in told:
        draw = Random(f"{row['week']} {row.get('day')}")
        if "sign_ups" in row:
            sign_ups += _told_sign_ups(row["sign_ups"], night, people, days)
        elif row["week"] <= ASKED_WEEKS:
            sign_ups += _drawn_sign_ups(row, night, people, draw=draw, habits=habits, days=days)
        roll += _roll(row, night, people, draw=draw, days=days)
    SignUp.objects.bulk_create(sign_ups)
    RollLine.objects.bulk_create(roll)


def _told_sign_ups(rows: list[Row], night: Night, people: People, days: Days) -> Iterator[SignUp]:
    for row in rows:
        yield SignUp(
            night=night, person=people[row["person"]], answer=row["answer"],
            arrives=clock(row["arrives"]) if "arrives" in row else None,
            leaves=clock(row["leaves"]) if "leaves" in row else None,
            answered_at=days.at(night.date - timedelta(days=2), time(20)),
        )  # fmt: skip


def _drawn_sign_ups(
    row: Row, night: Night, people: People, *, draw: Random, habits: dict[str, Row], days: Days
) -> Iterator[SignUp]:
    for key, person in people.items():
        if person.joined_on > night.date:
            continue
        if row["week"] > 0:
            answer = _answer_ahead(draw, habits[key]["comes"])
        else:
            answer = _answer_before(draw, came=key in row.get("came", ()))
        asked = days.at(night.date - timedelta(days=draw.randint(1, 6)), time(19, 30))
        # Nobody has answered in the time to come.
        answered = min(asked, days.at(days.day(-draw.randint(1, 6)), time(19, 30)))
        if answer is None and key in row.get("came", ()):  # written down at the door
            answer, answered = YES, days.at(night.date, night.doors)
        if answer:
            yield SignUp(night=night, person=person, answer=answer, answered_at=answered)


def _answer_before(draw: Random, *, came: bool) -> str | None:
    """What somebody had answered who came, or stayed away; None for nothing."""
    weights = (80, 8, 2, 10) if came else (12, 13, 70, 5)
    return draw.choices((YES, MAYBE, NO, None), weights)[0]


def _answer_ahead(draw: Random, comes: float) -> str | None:
    """What somebody answers for a night to come; half have not answered yet."""
    if draw.random() < 0.5:
        return None
    return draw.choices((YES, MAYBE, NO), (comes, 0.15, 1 - comes))[0]


def _roll(
    row: Row, night: Night, people: People, *, draw: Random, days: Days
) -> Iterator[RollLine]:
    watchers = {key for half in row.get("stood", ()) for key in half.get("fire-watch", ())}
    doors, stop = days.at(night.date, night.doors), days.at(night.date, night.stop)
    lock_up = days.at(night.date, night.lock_up)
    for key in row.get("came", ()):
        out_at = stop + timedelta(minutes=draw.randint(5, 25))
        yield RollLine(
            night=night, person=people[key],
            in_at=doors + timedelta(minutes=draw.randint(-10, 25)),
            out_at=lock_up if key in watchers else min(out_at, lock_up),
        )  # fmt: skip
