"""Warnings before a sign-off lapses, and lines of the training timetable."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from django.core.mail import send_mail
from django.db import transaction
from django.utils import timezone

from inventory.places.models import Shop
from workshops.access.models import User
from workshops.nights.actions import set_training
from workshops.nights.models import TrainingDate
from workshops.nights.refusals import NightRefused
from workshops.people.cover import Lapse, lapsing_soon, signers_at
from workshops.people.days import spell_day
from workshops.people.gate import Register, register_on
from workshops.people.models import Person
from workshops.stations.models import Station
from workshops.training.models import LapseWarning
from workshops.training.pairing import Pair

Stage = LapseWarning.Stage
Key = tuple[int, str, date, int]  # sign-off, stage, its last day, who is told


@dataclass(frozen=True, slots=True)
class ToTell:
    """One line of somebody's message."""

    lapse: Lapse
    sign_off: int
    stage: Stage
    is_own: bool


def warn_lapses(*, shop: Shop, at: datetime | None = None) -> list[LapseWarning]:
    """Tell people and their authorisers what lapses, once at each of the two warnings.

    One message for each reader. Whoever has no e-mail address is noted, to be told by mouth.
    A message that cannot be sent is not noted, and goes with the next run.
    """
    at = at or timezone.now()
    today = at.astimezone(shop.zone).date()
    register = register_on(shop, today)
    people = {row.pk: row for row in Person.objects.filter(shop=shop)}
    sent = set(
        LapseWarning.objects.filter(shop=shop).values_list(
            "sign_off", "stage", "ends_on", "sent_to"
        )
    )
    found = []
    for reader, lines in _by_reader(register).items():
        new = [each for each in lines if _key(each, reader) not in sent]
        if new:
            found += _tell(shop, people[reader], new, at)
    return found


def _by_reader(register: Register) -> dict[int, list[ToTell]]:
    told: dict[int, list[ToTell]] = {}
    for lapse in lapsing_soon(register):
        signed = register.people[lapse.person].signed[lapse.station.pk]
        stage = _stage(register, lapse)
        told.setdefault(lapse.person, []).append(ToTell(lapse, signed.row, stage, True))
        for signer in signers_at(register, lapse.station.pk):
            if signer != lapse.person:
                told.setdefault(signer, []).append(ToTell(lapse, signed.row, stage, False))
    return told


def _stage(register: Register, lapse: Lapse) -> Stage:
    # Strictly, as the mark of the register has it: with a warning of no days there is none.
    last = register.on + timedelta(days=register.rules.last_warning_days)
    return Stage.LAST if lapse.valid_until < last else Stage.FIRST


def _key(line: ToTell, reader: int) -> Key:
    return (line.sign_off, line.stage.value, line.lapse.valid_until, reader)


@transaction.atomic
def _tell(shop: Shop, reader: Person, lines: list[ToTell], at: datetime) -> list[LapseWarning]:
    # Written first: a second run at the same moment stops here and sends nothing.
    rows = LapseWarning.objects.bulk_create(
        LapseWarning(
            shop=shop, sign_off_id=line.sign_off, stage=line.stage,
            ends_on=line.lapse.valid_until, sent_to=reader, has_email=bool(reader.email),
            sent_at=at,
        )
        for line in lines
    )  # fmt: skip
    if reader.email:
        send_mail(f"{shop.name}: sign-offs that lapse soon", _words(reader, lines), None,
                  [reader.email])  # fmt: skip
    return rows


def _words(reader: Person, lines: list[ToTell]) -> str:
    return "\n".join(["Hello " + reader.first_name + ",", "", *_paragraphs(lines), ""])


def _paragraphs(lines: list[ToTell]) -> Iterator[str]:
    own = [line.lapse for line in lines if line.is_own]
    others = [line.lapse for line in lines if not line.is_own]
    if own:
        yield "These sign-offs of yours end soon:"
        yield from _told(own, is_own=True)
        yield "Please show an authoriser the work before then. Afterwards you can still come,"
        yield "and are shown again before you work there alone."
    if others:
        yield "You may sign others for these; the sign-offs end soon:"
        yield from _told(others, is_own=False)


def _told(lapses: Iterable[Lapse], *, is_own: bool) -> Iterator[str]:
    for lapse in lapses:
        who = "" if is_own else f"{lapse.name}: "
        yield f"  - {who}{lapse.station.name}, last day {spell_day(lapse.valid_until)}"


def take_pairs(*, pairs: Iterable[Pair], by: User | None) -> tuple[list[TrainingDate], list[str]]:
    """Put proposals on the timetable; gives the lines, and what was refused in words.

    Each is asked of the gate anew: what was proposed a minute ago may not stand by now.
    """
    rows, refused = [], []
    for pair in pairs:
        learner = Person.objects.get(pk=pair.learner.person)
        lead = Person.objects.get(pk=pair.lead)
        try:
            rows.append(
                set_training(
                    night=pair.night, learner=learner, lead=lead, by=by,
                    station=Station.objects.get(pk=pair.learner.station.pk),
                )
            )  # fmt: skip
        except NightRefused as refusal:
            refused.append(str(refusal))
    return rows, refused
