"""Person, sign-off and its reviews, lifetime, use, bar, guardianship and waiver."""

from __future__ import annotations

from datetime import date
from typing import Self
from zoneinfo import ZoneInfo

from django.conf import settings
from django.db import models
from django.db.models import F, Q
from django.utils import timezone

from inventory.places.models import OfShop
from workshops.stations.models import Level, Station


def years_between(born: date, day: date) -> int:
    """Whole years of age; somebody born on February 29 has the birthday on March 1."""
    # True counts as one: the birthday of that year is still to come.
    return day.year - born.year - ((day.month, day.day) < (born.month, born.day))


class PersonQuerySet(models.QuerySet["Person"]):
    """People as the shop speaks of them."""

    def active(self) -> Self:
        """Those still on the club's list."""
        return self.filter(is_active=True)


class Person(OfShop):
    """Somebody who comes to shop nights. Needs no account to be counted."""

    first_name = models.CharField(max_length=60)
    last_name = models.CharField(max_length=60, blank=True)
    user = models.OneToOneField(
        settings.AUTH_USER_MODEL, models.SET_NULL, null=True, blank=True, related_name="person"
    )
    email = models.EmailField(blank=True)
    phone = models.CharField(max_length=40, blank=True)
    born_on = models.DateField(null=True, blank=True, help_text="needed for anyone under age")
    is_adult_declared = models.BooleanField(
        default=False, help_text="says to be of age, when no date of birth is kept"
    )
    no_dust = models.BooleanField("no dust, straw or hay", default=False)
    seated_only = models.BooleanField(default=False)
    no_heavy = models.BooleanField("no heavy lifting", default=False)
    likes = models.ManyToManyField(Station, blank=True, related_name="liked_by")
    emergency_contact = models.CharField(max_length=120, blank=True)
    joined_on = models.DateField(default=timezone.localdate)
    is_active = models.BooleanField(default=True)
    # One person entered twice: this entry stays, since the register points to it.
    merged_into = models.ForeignKey(
        "self", models.PROTECT, null=True, blank=True, related_name="merged", editable=False
    )
    note = models.CharField(max_length=300, blank=True)
    changed_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.SET_NULL, null=True, blank=True, related_name="+"
    )
    changed_at = models.DateTimeField(default=timezone.now, editable=False)

    objects = PersonQuerySet.as_manager()

    class Meta:
        ordering = ["last_name", "first_name", "pk"]
        verbose_name_plural = "people"

    def __str__(self) -> str:
        return f"{self.first_name} {self.last_name}".strip()

    def age_on(self, day: date) -> int | None:
        """Whole years on a day, or None when no date of birth is kept."""
        return years_between(self.born_on, day) if self.born_on else None

    def is_adult_on(self, day: date, adult_age: int) -> bool:
        """Whether the person counts as an adult: by age, or by their word where it is unknown."""
        age = self.age_on(day)
        return self.is_adult_declared if age is None else age >= adult_age

    @property
    def short_name(self) -> str:
        """First name and initial, as shop pages show it."""
        return f"{self.first_name} {self.last_name[:1]}." if self.last_name else self.first_name


class SignOff(OfShop):
    """How far a person may go at a station, from a day, until a day. Never edited."""

    # Nobody leaves the register: who was let to a machine, and by whom, may be asked years on.
    person = models.ForeignKey(Person, models.PROTECT, related_name="sign_offs")
    station = models.ForeignKey(Station, models.PROTECT, related_name="sign_offs")
    level = models.PositiveSmallIntegerField(choices=Level.choices)
    signed_by = models.ForeignKey(
        # A signer cannot be deleted while anybody works by their signature.
        Person, models.PROTECT, null=True, blank=True, related_name="signed",
        help_text="empty only for what was taken over from the club's paper register",
    )  # fmt: skip
    signed_on = models.DateField()
    valid_until = models.DateField(null=True, blank=True, help_text="the last day it counts")
    evidence = models.CharField(max_length=300, blank=True, help_text="what was shown or seen")
    points = models.JSONField(
        default=list, blank=True,
        help_text="the station's points as they read then: list of {point, is_shown}",
    )  # fmt: skip
    recorded_at = models.DateTimeField(default=timezone.now, editable=False)
    recorded_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.SET_NULL, null=True, blank=True, related_name="+"
    )

    class Meta:
        ordering = ["-signed_on", "-pk"]
        indexes = [models.Index(fields=["person", "station", "-signed_on"], name="sign_off_latest")]
        constraints = [
            models.CheckConstraint(
                condition=Q(valid_until__isnull=True) | Q(valid_until__gte=F("signed_on")),
                name="sign_off_dates_in_order",
            ),
            models.CheckConstraint(
                condition=Q(signed_by__isnull=True) | ~Q(signed_by=F("person")),
                name="nobody_signs_for_himself",
            ),
            models.CheckConstraint(
                condition=Q(signed_by__isnull=False) | ~Q(evidence=""),
                name="sign_off_has_signer_or_evidence",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.person}: {self.station}, {self.get_level_display()}"

    @property
    def points_shown(self) -> list[str]:
        """The points that were ticked, as they read then."""
        return [each["point"] for each in self.points if each["is_shown"]]

    @property
    def points_left(self) -> list[str]:
        """The points of the list that were not ticked."""
        return [each["point"] for each in self.points if not each["is_shown"]]


class Review(OfShop):
    """A second look at a sign-off: it stands, ends from a day on, or was never right.

    A sign-off is never edited: what was wrong in it is said here, with the reason.
    """

    class Verdict(models.TextChoices):
        STANDS = "stands", "stands"
        WITHDRAWN = "withdrawn", "withdrawn"
        MISTAKE = "mistake", "entered by mistake"

    sign_off = models.ForeignKey(SignOff, models.PROTECT, related_name="reviews")
    verdict = models.CharField(max_length=9, choices=Verdict.choices)
    on = models.DateField(help_text="the first day on which a sign-off withdrawn counts no more")
    reason = models.CharField(max_length=300)
    reviewer = models.ForeignKey(
        Person, models.PROTECT, null=True, blank=True, related_name="reviewed",
        help_text="the authoriser who looked again, where it stands",
    )  # fmt: skip
    # A name and no key, as for a bar: it must be told when the account is gone.
    reviewed_by = models.CharField(max_length=80)
    recorded_at = models.DateTimeField(default=timezone.now, editable=False)
    recorded_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.SET_NULL, null=True, blank=True, related_name="+"
    )

    class Meta:
        ordering = ["-recorded_at", "-pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["sign_off"],
                condition=Q(verdict__in=["withdrawn", "mistake"]),
                name="sign_off_ended_once",
            ),
            models.CheckConstraint(
                condition=~Q(reason="") & ~Q(reviewed_by=""), name="review_says_who_and_why"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.sign_off}: {self.get_verdict_display()}"


class Lifetime(OfShop):
    """How long a sign-off for one station counts, as the club decided it for that station.

    The latest decision counts and replaces the club's general rules; one with all three
    values empty brings the general rules back. Never edited: a new decision is a new row.
    """

    station = models.ForeignKey(Station, models.PROTECT, related_name="lifetimes")
    months = models.PositiveSmallIntegerField(null=True, blank=True)
    ends_on = models.CharField(max_length=5, blank=True, help_text="month and day: 10-31")
    unused_months = models.PositiveSmallIntegerField(
        null=True, blank=True, help_text="lapses after so many months without use"
    )
    decided_by = models.CharField(max_length=80)
    decided_on = models.DateField()
    source = models.CharField(max_length=200, help_text="from what: a code, a policy, a meeting")
    recorded_at = models.DateTimeField(default=timezone.now, editable=False)
    recorded_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.SET_NULL, null=True, blank=True, related_name="+"
    )

    class Meta:
        ordering = ["station", "decided_on", "pk"]
        constraints = [
            models.CheckConstraint(
                condition=~Q(decided_by="") & ~Q(source=""), name="lifetime_says_who_and_whence"
            ),
            models.CheckConstraint(
                condition=~Q(months=0) & ~Q(unused_months=0), name="lifetime_is_not_nothing"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.station}, decided by {self.decided_by}"


class Use(OfShop):
    """That a person worked at a station on a day, and for how long.

    Written by whoever keeps the nights, from placings and tallies. A sign-off that lapses
    without use is counted from these, and so are a learner's hours beside a lead.
    """

    person = models.ForeignKey(Person, models.CASCADE, related_name="uses")
    station = models.ForeignKey(Station, models.PROTECT, related_name="uses")
    day = models.DateField()
    minutes = models.PositiveIntegerField(default=0)
    with_a_lead = models.BooleanField(default=False)
    recorded_at = models.DateTimeField(default=timezone.now, editable=False)

    class Meta:
        ordering = ["-day", "person", "station"]
        constraints = [
            models.UniqueConstraint(
                fields=["person", "station", "day", "with_a_lead"], name="use_once_a_day"
            )
        ]

    def __str__(self) -> str:
        return f"{self.person} at {self.station}, {self.day}"


class Bar(OfShop):
    """Stops a person at one station, or everywhere, from now until it is lifted.

    With ``until`` it ends by itself after that day. With ``only_with_a_lead`` the person may
    go on at that one station, beside a lead and no further.
    """

    person = models.ForeignKey(Person, models.PROTECT, related_name="bars")
    station = models.ForeignKey(
        Station, models.PROTECT, null=True, blank=True, help_text="empty for every station"
    )
    reason = models.CharField(max_length=300)
    set_at = models.DateTimeField(default=timezone.now)
    # A name and no key: a bar must still say who set it when the account is gone.
    set_by = models.CharField(max_length=80)
    until = models.DateField(null=True, blank=True, help_text="the last day on which it stops")
    only_with_a_lead = models.BooleanField(
        default=False, help_text="may go on at the station beside a lead"
    )
    lifted_at = models.DateTimeField(null=True, blank=True)
    lifted_by = models.CharField(max_length=80, blank=True)

    class Meta:
        ordering = ["-set_at"]
        constraints = [
            models.CheckConstraint(condition=~Q(reason=""), name="bar_has_a_reason"),
            models.CheckConstraint(
                condition=(Q(lifted_at__isnull=True) & Q(lifted_by=""))
                | (Q(lifted_at__isnull=False) & ~Q(lifted_by="")),
                name="bar_lifted_by_someone",
            ),
            models.CheckConstraint(
                condition=Q(only_with_a_lead=False) | Q(station__isnull=False),
                name="a_lead_is_seen_at_a_station",
            ),
        ]

    def __str__(self) -> str:
        if self.only_with_a_lead:
            return f"{self.person} only beside a lead at {self.station}"
        return f"{self.person} barred from {self.station or 'every station'}"

    def holds_on(self, day: date, zone: ZoneInfo) -> bool:
        """Whether it stops the person on a day: from the day it is set until the day it is lifted.

        On the day on which it is lifted it no longer holds: the evening can be worked. One
        with an end still holds on its last day.
        """
        if self.set_at.astimezone(zone).date() > day or (self.until and self.until < day):
            return False
        return self.lifted_at is None or self.lifted_at.astimezone(zone).date() > day


class Guardianship(OfShop):
    """A grown-up answers for a minor, with a consent on paper."""

    minor = models.ForeignKey(Person, models.CASCADE, related_name="guardianships")
    guardian = models.ForeignKey(Person, models.CASCADE, related_name="wards")
    consent_on = models.DateField(null=True, blank=True)
    may_collect = models.BooleanField(default=True)
    recorded_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.SET_NULL, null=True, blank=True, related_name="+"
    )

    class Meta:
        ordering = ["minor", "guardian"]
        constraints = [
            models.UniqueConstraint(fields=["minor", "guardian"], name="guardian_once_a_minor"),
            models.CheckConstraint(
                condition=~Q(minor=F("guardian")), name="nobody_is_his_own_guardian"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.guardian} for {self.minor}"


class Waiver(OfShop):
    """A waiver a person signed: which version, when, until when it counts."""

    person = models.ForeignKey(Person, models.CASCADE, related_name="waivers")
    version = models.CharField(max_length=20)
    signed_on = models.DateField()
    valid_until = models.DateField()
    recorded_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.SET_NULL, null=True, blank=True, related_name="+"
    )

    class Meta:
        ordering = ["-signed_on"]
        constraints = [
            models.CheckConstraint(
                condition=Q(valid_until__gte=F("signed_on")), name="waiver_dates_in_order"
            )
        ]

    def __str__(self) -> str:
        return f"{self.person}, version {self.version}"


class Look(OfShop):
    """Somebody looked at what is private to a person: what of it, when, from which page."""

    class Kept(models.TextChoices):
        PHONE = "phone", "phone"
        EMAIL = "email", "e-mail"
        BORN_ON = "born_on", "date of birth or age"
        EMERGENCY = "emergency_contact", "whom to call in an emergency"
        LIMITS = "limits", "personal limits"
        NOTE = "note", "note"

    person = models.ForeignKey(Person, models.CASCADE, related_name="looks")
    what = models.JSONField(help_text="list of what was shown")
    page = models.CharField(max_length=80, help_text="where it was shown, in words")
    # A name and no key alone, as for a bar: it must be told when the account is gone.
    seen_by = models.CharField(max_length=80)
    user = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.SET_NULL, null=True, blank=True, related_name="+"
    )
    at = models.DateTimeField(default=timezone.now, editable=False)

    class Meta:
        ordering = ["-at", "-pk"]
        indexes = [models.Index(fields=["shop", "-at"], name="looks_of_a_shop")]

    def __str__(self) -> str:
        return f"{self.seen_by} looked at {self.person}"

    @property
    def in_words(self) -> str:
        """What was shown, in words: phone, personal limits."""
        return ", ".join(str(self.Kept(each).label) for each in self.what)


class Erasure(OfShop):
    """That an entry was erased: which number, when, by whom. The name is nowhere in it."""

    # The entry stays behind its number: sign-offs, stays and bars point to it.
    person = models.OneToOneField(Person, models.PROTECT, related_name="erasure")
    erased_at = models.DateTimeField(default=timezone.now, editable=False)
    # A name and no key alone, as for a bar: it must be told when the account is gone.
    erased_by = models.CharField(max_length=80)
    user = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.SET_NULL, null=True, blank=True, related_name="+"
    )

    class Meta:
        ordering = ["-erased_at", "-pk"]

    def __str__(self) -> str:
        return f"Number {self.person_id}, {timezone.localtime(self.erased_at):%Y-%m-%d}"
