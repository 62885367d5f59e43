"""A person's shop nights as a calendar that their telephone subscribes to.

Source
------
RFC 5545 (iCalendar); RFC 7986 for the name and the refresh interval.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import UTC, datetime, timedelta

from icalendar import Calendar, Event

from workshops.mine.models import Feed
from workshops.mine.zones import zone_of
from workshops.nights.clock import moment
from workshops.nights.models import Night, SignUp

MAKER = "-//Winterbench//Shop nights//EN"
KEPT_DAYS = 60  # how long a night that is over stays
EVERY = timedelta(hours=1)


def written(feed: Feed, now: datetime) -> bytes:
    """The calendar of a feed as text of RFC 5545: two queries; a name and no event when empty."""
    calendar = Calendar()
    calendar.add("prodid", MAKER)
    calendar.add("version", "2.0")
    calendar.add("calscale", "GREGORIAN")
    calendar.add("name", f"Shop nights, {feed.shop.name}")
    calendar.add("refresh-interval", EVERY, parameters={"value": "DURATION"})
    shown = list(_shown(feed, now))
    if shown:
        # The shop's own zone, so that six stays six when the clocks change.
        days = [night.date for night, _ in shown]
        calendar.add_component(zone_of(feed.shop.zone, min(days), max(days)))
    for night, answer in shown:
        calendar.add_component(_event(feed, night, answer))
    return bytes(calendar.to_ical())


def _shown(feed: Feed, now: datetime) -> Iterable[tuple[Night, SignUp | None]]:
    since = now.astimezone(feed.shop.zone).date() - timedelta(days=KEPT_DAYS)
    nights = Night.objects.filter(shop=feed.shop, date__gte=since).select_related("shop")
    answers = {row.night_id: row for row in SignUp.objects.filter(person=feed.person_id)}
    for night in nights:
        answer = answers.get(night.pk)
        is_meant = answer is not None and answer.answer != SignUp.Answer.NO
        if is_meant or feed.has_all_nights:
            yield night, answer


def _event(feed: Feed, night: Night, answer: SignUp | None) -> Event:
    event = Event()
    # The day is part of no name: a night that is moved stays the same event.
    event.add("uid", f"night-{night.pk}-of-{feed.person_id}@{feed.shop.slug}.winterbench")
    changed = max(night.changed_at, answer.answered_at) if answer else night.changed_at
    changed = changed.astimezone(UTC).replace(microsecond=0)
    event.add("dtstamp", changed)
    event.add("last-modified", changed)
    event.add("sequence", night.changes + (1 + answer.changes if answer else 0))
    starts = (answer.arrives if answer else None) or night.doors
    ends = (answer.leaves if answer else None) or night.lock_up
    event.add("dtstart", moment(night, starts))
    event.add("dtend", moment(night, ends))
    event.add("summary", _summary(night, answer))
    event.add("location", feed.shop.name)
    event.add("status", _status(night, answer))
    is_busy = _is(answer, SignUp.Answer.YES) and night.status != Night.Status.CANCELLED
    event.add("transp", "OPAQUE" if is_busy else "TRANSPARENT")
    if words := _description(night, answer):
        event.add("description", words)
    return event


def _is(answer: SignUp | None, said: str) -> bool:
    return answer is not None and answer.answer == said


def _status(night: Night, answer: SignUp | None) -> str:
    if night.status == Night.Status.CANCELLED:
        return "CANCELLED"
    return "CONFIRMED" if _is(answer, SignUp.Answer.YES) else "TENTATIVE"


def _summary(night: Night, answer: SignUp | None) -> str:
    kind = night.get_kind_display().capitalize()
    if night.status == Night.Status.CANCELLED:
        return f"Cancelled: {kind}"
    said = f" ({answer.get_answer_display()})" if answer and answer.answer != "yes" else ""
    return f"{kind}{said}"


def _description(night: Night, answer: SignUp | None) -> str:
    words = [f"Doors {night.doors:%H:%M}, lock-up {night.lock_up:%H:%M}."]
    if night.goal:
        words.append(f"Goal: {night.goal}.")
    if night.status == Night.Status.CANCELLED and night.note:
        words.append(f"Cancelled: {night.note}.")
    if answer and answer.guests:
        words.append(f"You bring {answer.guests}.")
    return "\n".join(words)
