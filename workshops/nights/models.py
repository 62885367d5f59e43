"""Night, block, sign-up, training, roll, placing and tally; the permit's are beside it."""

from __future__ import annotations

import uuid

from django.conf import settings
from django.db import models
from django.db.models import F, Q
from django.utils import timezone

from inventory.engines.models import EngineRun
from inventory.ledger.models import Entry
from inventory.materials.models import Item
from inventory.places.models import OfShop, Room
from workshops.nights.permit.models import HandOver as HandOver
from workshops.nights.permit.models import HotWorkPermit as HotWorkPermit
from workshops.people.models import Person
from workshops.stations.models import Operation, Station


class Night(OfShop):
    """One evening or Saturday in the shop. Times are the shop's own."""

    class Kind(models.TextChoices):
        STEEL = "steel", "steel night"
        STRAW = "straw", "straw night"
        MIXED = "mixed", "steel and straw"

    class Status(models.TextChoices):
        PLANNED = "planned", "planned"
        CLOSED = "closed", "closed"
        CANCELLED = "cancelled", "cancelled"

    date = models.DateField()
    kind = models.CharField(max_length=5, choices=Kind.choices, default=Kind.MIXED)
    status = models.CharField(max_length=9, choices=Status.choices, default=Status.PLANNED)
    doors = models.TimeField()
    stop = models.TimeField(help_text="stop, count and sweep")
    lock_up = models.TimeField()
    goal = models.CharField(max_length=120, blank=True)
    note = models.CharField(max_length=300, blank=True)
    plan = models.OneToOneField(
        "PlacingRun", models.SET_NULL, null=True, blank=True, related_name="plan_of",
        help_text="the run whose placings stand",
    )  # fmt: skip
    # Calendars of volunteers ask how often and when a night was changed.
    changes = models.PositiveSmallIntegerField(default=0, editable=False)
    changed_at = models.DateTimeField(default=timezone.now, editable=False)

    class Meta:
        ordering = ["date"]
        constraints = [
            models.UniqueConstraint(fields=["shop", "date"], name="one_night_a_day"),
            models.CheckConstraint(
                condition=Q(stop__gt=F("doors")) & Q(lock_up__gte=F("stop")),
                name="night_times_in_order",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.date:%a %b} {self.date.day}"


class Aim(OfShop):
    """What the winter still wants of one kind of set; the placing is priced by it.

    The season writes it. Without any, every kind of set is wanted alike.
    """

    item = models.OneToOneField(Item, models.CASCADE, related_name="aim")
    wanted = models.PositiveIntegerField(help_text="complete sets still to make")

    class Meta:
        ordering = ["pk"]

    def __str__(self) -> str:
        return f"{self.wanted} more {self.item}"


class Block(models.Model):
    """A stretch of a night in which nobody changes station."""

    night = models.ForeignKey(Night, models.CASCADE, related_name="blocks")
    index = models.PositiveSmallIntegerField()
    starts = models.TimeField()
    ends = models.TimeField()

    class Meta:
        ordering = ["night", "index"]
        constraints = [
            models.UniqueConstraint(fields=["night", "index"], name="block_once_a_night"),
            models.CheckConstraint(condition=Q(ends__gt=F("starts")), name="block_times_in_order"),
        ]

    def __str__(self) -> str:
        return f"{self.starts:%H:%M}–{self.ends:%H:%M}"


class SignUp(models.Model):
    """Whether a person means to come on a night, and from when to when."""

    class Answer(models.TextChoices):
        YES = "yes", "coming"
        MAYBE = "maybe", "perhaps"
        NO = "no", "not coming"

    night = models.ForeignKey(Night, models.CASCADE, related_name="sign_ups")
    person = models.ForeignKey(Person, models.CASCADE, related_name="sign_ups")
    answer = models.CharField(max_length=5, choices=Answer.choices, default=Answer.YES)
    arrives = models.TimeField(null=True, blank=True, help_text="empty: at the start")
    leaves = models.TimeField(null=True, blank=True, help_text="empty: at the end")
    guests = models.PositiveSmallIntegerField(default=0, help_text="people they bring along")
    guest_names = models.CharField(max_length=200, blank=True, help_text="may come later")
    note = models.CharField(max_length=200, blank=True)
    answered_at = models.DateTimeField(default=timezone.now)
    changes = models.PositiveSmallIntegerField(default=0, editable=False)

    class Meta:
        ordering = ["night", "person"]
        constraints = [
            models.UniqueConstraint(fields=["night", "person"], name="sign_up_once_a_night")
        ]

    def __str__(self) -> str:
        return f"{self.person} {self.get_answer_display()}"


class TrainingDate(models.Model):
    """One line of the training timetable: who learns what, beside whom, on which night."""

    night = models.ForeignKey(Night, models.CASCADE, related_name="training")
    learner = models.ForeignKey(Person, models.CASCADE, related_name="training_dates")
    station = models.ForeignKey(Station, models.PROTECT, related_name="training_dates")
    lead = models.ForeignKey(Person, models.CASCADE, related_name="teaching_dates")
    why_not = models.CharField(
        max_length=300, blank=True, help_text="what the last plan found in the way"
    )
    set_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.SET_NULL, null=True, blank=True, related_name="+"
    )
    set_at = models.DateTimeField(default=timezone.now, editable=False)

    class Meta:
        ordering = ["night", "station", "pk"]
        constraints = [
            models.UniqueConstraint(fields=["night", "learner"], name="learns_one_thing_a_night"),
            models.CheckConstraint(
                condition=~Q(learner=F("lead")), name="nobody_learns_from_himself"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.learner} learns {self.station} beside {self.lead}, {self.night}"


class Group(OfShop):
    """People who came as one: a troop, a school class, with the grown-ups who lead it."""

    night = models.ForeignKey(Night, models.CASCADE, related_name="groups")
    name = models.CharField(max_length=60)
    leaders = models.ManyToManyField(Person, related_name="led_groups")
    members = models.ManyToManyField(Person, related_name="groups")
    # Sent twice from a slow tablet, the form makes one group.
    client_key = models.UUIDField(default=uuid.uuid4, editable=False)
    added_at = models.DateTimeField(default=timezone.now)
    added_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.SET_NULL, null=True, blank=True, related_name="+"
    )

    class Meta:
        ordering = ["night", "added_at"]
        constraints = [
            models.UniqueConstraint(fields=["shop", "client_key"], name="group_key_once_a_shop")
        ]

    def __str__(self) -> str:
        return self.name


class RollLine(models.Model):
    """One stay in the building: in at, out at. No ``out_at`` means still here."""

    night = models.ForeignKey(Night, models.CASCADE, related_name="roll")
    person = models.ForeignKey(Person, models.CASCADE, related_name="roll")
    in_at = models.DateTimeField()
    out_at = models.DateTimeField(null=True, blank=True)
    # Nobody saw them go: the stop of the night stands in for a time that was not told.
    out_is_guessed = models.BooleanField(default=False)
    # Said again later that they are here: a sign-out of before, come late, ends only the time
    # before it.
    seen_at = models.DateTimeField(null=True, blank=True, editable=False)
    collected_by = models.ForeignKey(
        Person, models.SET_NULL, null=True, blank=True, related_name="collected",
        help_text="who took a minor home",
    )  # fmt: skip
    collected_word = models.CharField(
        max_length=80, blank=True, help_text="who took a minor home, when not on the list"
    )
    # What a tablet keeps while the network is down comes in later, perhaps twice.
    in_key = models.UUIDField(null=True, blank=True, editable=False)
    out_key = models.UUIDField(null=True, blank=True, editable=False)

    class Meta:
        ordering = ["night", "in_at"]
        constraints = [
            models.CheckConstraint(
                condition=Q(out_at__isnull=True) | Q(out_at__gte=F("in_at")),
                name="roll_times_in_order",
            ),
            models.CheckConstraint(
                condition=Q(out_is_guessed=False) | Q(out_at__isnull=False),
                name="only_an_end_is_guessed",
            ),
            models.UniqueConstraint(fields=["night", "in_key"], name="came_in_once_a_tap"),
            models.UniqueConstraint(
                fields=["night", "person"],
                condition=Q(out_at__isnull=True),
                name="nobody_is_in_twice",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.person} from {timezone.localtime(self.in_at):%H:%M}"


class AlarmHand(OfShop):
    """Somebody who asked for a hand when the building empties in a hurry.

    Whether they cannot hear the alarm or cannot walk fast is not kept: the hand is the same.
    """

    person = models.OneToOneField(Person, models.CASCADE, related_name="alarm_hand")
    noted_at = models.DateTimeField(default=timezone.now)
    noted_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.SET_NULL, null=True, blank=True, related_name="+"
    )

    class Meta:
        ordering = ["pk"]

    def __str__(self) -> str:
        return f"A hand for {self.person}"


class PlacingRun(OfShop, EngineRun):
    """One run of the placing engine for a night."""

    night = models.ForeignKey(Night, models.CASCADE, related_name="runs")
    from_block = models.PositiveSmallIntegerField(
        default=0, editable=False, help_text="the first block it plans; those before were over"
    )

    def __str__(self) -> str:
        return f"Plan of {self.night}, {timezone.localtime(self.made_at):%H:%M}"


class Placing(models.Model):
    """One person at one station for one block."""

    class Role(models.TextChoices):
        WORKS = "works", "works"
        LEADS = "leads", "works and leads"
        LEARNS = "learns", "learns beside a lead"
        WATCHES = "watches", "keeps the fire watch"

    night = models.ForeignKey(Night, models.CASCADE, related_name="placings")
    block = models.ForeignKey(Block, models.CASCADE, related_name="placings")
    person = models.ForeignKey(Person, models.CASCADE, related_name="placings")
    station = models.ForeignKey(Station, models.PROTECT, related_name="placings")
    bench = models.PositiveSmallIntegerField(default=1)
    role = models.CharField(max_length=7, choices=Role.choices, default=Role.WORKS)
    room = models.ForeignKey(
        Room, models.PROTECT, null=True, blank=True, help_text="the room a fire watch looks after"
    )
    is_locked = models.BooleanField(default=False)
    why = models.CharField(max_length=300, blank=True, help_text="one sentence")
    run = models.ForeignKey(PlacingRun, models.SET_NULL, null=True, blank=True)

    class Meta:
        ordering = ["block", "station", "bench", "person"]
        constraints = [
            models.UniqueConstraint(fields=["block", "person"], name="one_place_at_a_time"),
            models.CheckConstraint(
                condition=Q(role="watches", room__isnull=False)
                | (~Q(role="watches") & Q(room__isnull=True)),
                name="a_watch_has_its_room",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.person} at {self.station}"


class Change(models.Model):
    """One step on the board that can be taken back: a move, a lock, a plan.

    ``before`` and ``after`` are what stood in the seats it touched, in the form of
    ``changes.Standing``: people and stations by id, so that no name is kept twice.
    """

    class Kind(models.TextChoices):
        MOVE = "move", "moved"
        OUT = "out", "taken out"
        LOCK = "lock", "fixed"
        FREE = "free", "let go"
        PLAN = "plan", "everybody placed"
        REST = "rest", "the rest of the night placed again"

    night = models.ForeignKey(Night, models.CASCADE, related_name="board_changes")
    kind = models.CharField(max_length=4, choices=Kind.choices)
    at = models.DateTimeField(default=timezone.now)
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.SET_NULL, null=True, blank=True, related_name="+"
    )
    before = models.JSONField()
    after = models.JSONField()
    undone_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["night", "pk"]

    def __str__(self) -> str:
        return f"{self.get_kind_display()}, {timezone.localtime(self.at):%H:%M}"


class Counts(models.QuerySet["Tally"]):
    """Counts brought to the book."""

    def standing(self) -> Counts:
        """Those that were not taken back, without the rows that take back."""
        return self.filter(undoes=None, undone_by=None)


class Tally(OfShop):
    """One count brought to the book: so many good, on hold, scrap of one operation."""

    night = models.ForeignKey(Night, models.PROTECT, related_name="tallies")
    operation = models.ForeignKey(Operation, models.PROTECT, related_name="tallies")
    good = models.PositiveIntegerField(default=0)
    hold = models.PositiveIntegerField(default=0)
    scrap = models.PositiveIntegerField(default=0)
    person_minutes = models.PositiveIntegerField(
        null=True, blank=True, help_text="people times minutes spent on it, where known"
    )
    counted_at = models.DateTimeField(default=timezone.now)
    counted_by = models.CharField(max_length=80, blank=True)
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, blank=True, related_name="+"
    )
    client_key = models.UUIDField(default=uuid.uuid4, editable=False)
    entry = models.OneToOneField(Entry, models.PROTECT, null=True, blank=True, related_name="tally")
    undoes = models.OneToOneField(
        "self", models.PROTECT, null=True, blank=True, related_name="undone_by"
    )

    objects = Counts.as_manager()

    class Meta:
        ordering = ["-counted_at", "-pk"]
        verbose_name_plural = "tallies"
        constraints = [
            models.UniqueConstraint(fields=["shop", "client_key"], name="tally_key_once_a_shop"),
            models.CheckConstraint(
                condition=Q(good__gt=0) | Q(hold__gt=0) | Q(scrap__gt=0),
                name="tally_counts_something",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.good} {self.operation}"
