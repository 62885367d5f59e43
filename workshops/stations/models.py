"""Station, tool, build sheet, part and operation."""

from __future__ import annotations

import uuid
from datetime import date
from decimal import Decimal

from django.conf import settings
from django.core.validators import MinValueValidator
from django.db import models
from django.db.models import F, Q
from django.utils import timezone

from inventory.materials.models import Item, Recipe
from inventory.places.models import OfShop, Room


class Level(models.IntegerChoices):
    """How far a person is signed off for a station; each level includes the ones below."""

    SHOWN_HOW = 1, "shown how"
    WITH_A_LEAD = 2, "with a lead"
    ALONE = 3, "alone"
    MAY_LEAD = 4, "may lead"
    MAY_SIGN = 5, "may sign others"


class Station(OfShop):
    """A kind of work in one room, with so many benches alike."""

    class Kind(models.TextChoices):
        CUT = "cut", "cut"
        DRILL = "drill", "drill"
        BEND = "bend", "bend"
        WELD = "weld", "weld"
        SPOT_WELD = "spot_weld", "spot weld"
        GRIND = "grind", "grind"
        BOLT = "bolt", "bolt together"
        FIRE_WATCH = "fire_watch", "fire watch"
        ROLL = "roll", "roll"
        RING = "ring", "ring"
        FILL = "fill", "fill"
        TAG = "tag", "tag and count"
        RUNNER = "runner", "runner"
        GREETER = "greeter", "greeter"
        KITCHEN = "kitchen", "kitchen"

    slug = models.SlugField(max_length=40)
    name = models.CharField(max_length=60)
    kind = models.CharField(max_length=12, choices=Kind.choices)
    room = models.ForeignKey(Room, models.PROTECT)
    sequence = models.PositiveSmallIntegerField(
        default=0, help_text="order on pages and in the binder"
    )
    is_in_use = models.BooleanField(default=True)
    benches = models.PositiveSmallIntegerField(default=1)
    crew_min = models.PositiveSmallIntegerField(default=1, help_text="people one bench needs")
    crew_max = models.PositiveSmallIntegerField(default=1, help_text="people one bench holds")
    heads_wanted = models.PositiveSmallIntegerField(
        default=0, help_text="people wanted here all night though nothing is made: runner, greeter"
    )

    # What the work is like; the placing rules read these.
    is_spark = models.BooleanField("hot work", default=False)
    is_hooded = models.BooleanField("behind a hood", default=False)
    is_straw = models.BooleanField("straw or hay is handled", default=False)
    is_dusty = models.BooleanField(default=False)
    is_heavy = models.BooleanField("heavy lifting", default=False)
    can_sit = models.BooleanField("can be done seated", default=False)
    is_off_floor = models.BooleanField(
        "off the floor", default=False,
        help_text="does not count against what the floor holds: sorting, labels, phone calls",
    )  # fmt: skip
    needs_buddy = models.BooleanField(default=False)

    # Who may stand here.
    level_needed = models.PositiveSmallIntegerField(
        choices=Level.choices, null=True, blank=True, help_text="empty when no sign-off is needed"
    )
    age_min = models.PositiveSmallIntegerField(null=True, blank=True)
    prerequisites = models.ManyToManyField("self", symmetrical=False, blank=True)
    learners_per_lead = models.PositiveSmallIntegerField(
        null=True, blank=True, help_text="empty for the club's own rule"
    )

    # What the card says.
    wear = models.JSONField(default=list, blank=True, help_text="list of words, e.g. eyes")
    never_wear = models.JSONField(default=list, blank=True)
    cautions = models.JSONField(default=list, blank=True, help_text="list of {text, source}")
    weld_process = models.CharField(max_length=8, blank=True, help_text="SMAW, GMAW, FCAW or GTAW")
    weld_amperes = models.PositiveSmallIntegerField(null=True, blank=True)

    class Meta:
        ordering = ["sequence", "name"]
        constraints = [
            models.UniqueConstraint(
                fields=["shop", "slug"],
                name="station_slug_once_a_shop",
                violation_error_message="A station has that address already: choose another.",
            ),
            models.CheckConstraint(
                condition=Q(crew_min__gte=1) & Q(crew_max__gte=F("crew_min")),
                name="station_crew_in_order",
                violation_error_message="Crew: at least one, and the most not below the least.",
            ),
        ]

    def __str__(self) -> str:
        return self.name

    def stopped_on(self, day: date) -> StationStop | None:
        """The stop that holds there on a day, the latest; one query, none where prefetched."""
        return next((stop for stop in self.stops.all() if stop.holds_on(day)), None)


class StationStop(OfShop):
    """A station closed by somebody because something happened, from a day on.

    It holds to the end of ``ends_on``, or until a named lead reopens the station with a
    reason. Nothing of it is changed but the reopening, which is written once.
    """

    station = models.ForeignKey(Station, models.PROTECT, related_name="stops")
    starts_on = models.DateField()
    ends_on = models.DateField(null=True, blank=True, help_text="empty: until it is reopened")
    reason = models.CharField(max_length=200)
    stopped_by = models.CharField(max_length=80)
    stopped_at = models.DateTimeField(default=timezone.now)
    reopened_by = models.CharField(max_length=80, blank=True)
    reopened_at = models.DateTimeField(null=True, blank=True)
    reopened_why = models.CharField(max_length=200, blank=True)
    client_key = models.UUIDField(default=uuid.uuid4, editable=False)

    class Meta:
        ordering = ["-stopped_at", "-pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["shop", "client_key"], name="station_stop_key_once_a_shop"
            ),
            models.CheckConstraint(
                condition=~Q(reason="") & ~Q(stopped_by=""), name="station_stop_says_why_and_who"
            ),
            models.CheckConstraint(
                condition=Q(ends_on__isnull=True) | Q(ends_on__gte=F("starts_on")),
                name="station_stop_days_in_order",
            ),
            models.CheckConstraint(
                condition=Q(reopened_at__isnull=True, reopened_by="", reopened_why="")
                | (Q(reopened_at__isnull=False) & ~Q(reopened_by="") & ~Q(reopened_why="")),
                name="station_is_reopened_by_name_with_a_reason",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.station} closed: {self.reason}"

    def holds_on(self, day: date) -> bool:
        """Whether the station is closed by it on a day."""
        is_over = self.ends_on is not None and day > self.ends_on
        return self.reopened_at is None and self.starts_on <= day and not is_over

    @property
    def told(self) -> str:
        """Why, since when and by whom, as a reason for the plan."""
        until = "" if self.ends_on else ", until a lead reopens it"
        at = f"{timezone.localtime(self.stopped_at, self.shop.zone):%H:%M}"
        return f"{self.reason.rstrip('.')} (closed at {at} by {self.stopped_by}{until})"


class Tool(OfShop):
    """A tool, jig or machine a bench of a station needs; so many of one kind."""

    name = models.CharField(max_length=60)
    number = models.CharField(max_length=20, blank=True, help_text="the number painted on it")
    stations = models.ManyToManyField(Station, related_name="tools", blank=True)
    count = models.PositiveSmallIntegerField(default=1)
    out_of_service = models.PositiveSmallIntegerField(default=0)
    fault = models.CharField(max_length=200, blank=True)
    inspected_on = models.DateField(
        null=True, blank=True, help_text="the last inspection; all of them are kept"
    )
    inspection_months = models.PositiveSmallIntegerField(
        null=True, blank=True,
        help_text="inspected every so many months; empty: by the club's rule; 0: never",
    )  # fmt: skip
    changed_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.SET_NULL, null=True, blank=True, related_name="+"
    )
    changed_at = models.DateTimeField(default=timezone.now, editable=False)

    class Meta:
        ordering = ["name"]
        constraints = [
            models.UniqueConstraint(
                fields=["shop", "name"],
                name="tool_name_once_a_shop",
                violation_error_message="A tool has that name already: raise its number.",
            ),
            models.CheckConstraint(
                condition=Q(out_of_service__lte=F("count")),
                name="tool_no_more_broken_than_owned",
                violation_error_message="More would be out of service than there are.",
            ),
            models.CheckConstraint(
                condition=Q(out_of_service=0) | ~Q(fault=""),
                name="tool_fault_is_told",
                violation_error_message="Write what is wrong with it.",
            ),
        ]

    def __str__(self) -> str:
        return self.name


class ToolInspection(OfShop):
    """Somebody looked at a tool: who, when, and what was found. Kept, and never changed."""

    tool = models.ForeignKey(Tool, models.CASCADE, related_name="inspections")
    on = models.DateField()
    inspected_by = models.CharField(max_length=80, help_text="a member, or somebody from outside")
    found = models.CharField(max_length=300, blank=True)
    recorded_at = models.DateTimeField(default=timezone.now, editable=False)
    recorded_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.SET_NULL, null=True, blank=True, related_name="+"
    )

    class Meta:
        ordering = ["-on", "-pk"]
        constraints = [
            models.CheckConstraint(condition=~Q(inspected_by=""), name="inspection_says_who")
        ]

    def __str__(self) -> str:
        return f"{self.tool}, {self.on}"


class Part(OfShop):
    """A part as drawn: cut from which stock, how long, with which holes and bends.

    ``holes`` and ``bends`` are lists in the form of ``geometry.parts``; build sheets share parts.
    """

    class Role(models.TextChoices):
        POST = "post", "post"
        SOCKET = "socket", "socket"
        LEG = "leg", "leg"
        STEM = "stem", "stem"
        BAR = "bar", "cross-bar"
        CRADLE_ROD = "cradle_rod", "cradle rod"
        WIRE = "wire", "wire piece"
        PIN = "pin", "pin"
        OTHER = "other", "another part"

    name = models.CharField(max_length=60)
    item = models.OneToOneField(
        Item, models.PROTECT, related_name="part", help_text="the finished part on the rack"
    )
    stock = models.ForeignKey(Item, models.PROTECT, related_name="parts_cut_from")
    role = models.CharField(max_length=12, choices=Role.choices, default=Role.OTHER)
    length_um = models.PositiveBigIntegerField()
    width_um = models.PositiveBigIntegerField(default=0, help_text="of a wire piece; else 0")
    end_name = models.CharField(
        max_length=40, default="left end", help_text="the end that holes are measured from"
    )
    tolerance_um = models.PositiveIntegerField(default=1_588, help_text="1/16 in either way")
    holes = models.JSONField(default=list, blank=True)
    bends = models.JSONField(default=list, blank=True)

    class Meta:
        ordering = ["name"]
        constraints = [
            models.CheckConstraint(
                condition=Q(length_um__gt=0),
                name="part_has_a_length",
                violation_error_message="Length: must be more than nothing.",
            )
        ]

    def __str__(self) -> str:
        return self.name


class BuildSheet(OfShop):
    """The club's drawing of one kind of set, with its revision.

    ``roll``, ``fit``, ``legs`` and ``welds`` (its list of joints, bolted ones too) are in the
    form of ``geometry.sheet``, with parts named by the slug of their item. ``drawn`` is the
    whole sheet in that form, frozen when it came into force: a part that is changed later
    changes drafts only, and an old drawing can still be looked at.
    """

    class Status(models.TextChoices):
        DRAFT = "draft", "draft"
        IN_FORCE = "in_force", "in force"
        SUPERSEDED = "superseded", "superseded"

    name = models.CharField(max_length=80)
    drawing_number = models.CharField(max_length=20)
    revision = models.CharField(max_length=4, default="A")
    status = models.CharField(max_length=10, choices=Status.choices, default=Status.DRAFT)
    in_force_from = models.DateField(null=True, blank=True)
    set_item = models.ForeignKey(Item, models.PROTECT, related_name="build_sheets")
    parts = models.ManyToManyField(Part, through="SheetPart", related_name="build_sheets")
    roll = models.JSONField(null=True, blank=True)
    fit = models.JSONField(null=True, blank=True)
    legs = models.JSONField(null=True, blank=True)
    welds = models.JSONField(default=list, blank=True)
    drawn = models.JSONField(null=True, blank=True, editable=False)
    note = models.TextField(blank=True)
    changed_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.SET_NULL, null=True, blank=True, related_name="+"
    )
    changed_at = models.DateTimeField(default=timezone.now, editable=False)

    class Meta:
        ordering = ["drawing_number", "-revision"]
        constraints = [
            models.UniqueConstraint(
                fields=["shop", "drawing_number", "revision"],
                name="revision_once_a_drawing",
                violation_error_message="There is a drawing with that number and revision already.",
            ),
            models.UniqueConstraint(
                fields=["shop", "drawing_number"],
                condition=Q(status="in_force"),
                name="one_revision_in_force",
                violation_error_message="Another revision of this drawing is in force.",
            ),
            models.CheckConstraint(
                condition=~Q(status="in_force") | Q(in_force_from__isnull=False),
                name="sheet_in_force_has_a_date",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.name} ({self.drawing_number} rev {self.revision})"


class SheetPart(models.Model):
    """How many of a part one set of a build sheet has."""

    sheet = models.ForeignKey(BuildSheet, models.CASCADE, related_name="sheet_parts")
    part = models.ForeignKey(Part, models.PROTECT)
    per_set = models.PositiveSmallIntegerField(default=1)

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.UniqueConstraint(fields=["sheet", "part"], name="part_once_a_sheet"),
            models.CheckConstraint(condition=Q(per_set__gte=1), name="sheet_part_counts"),
        ]

    def __str__(self) -> str:
        return f"{self.per_set} × {self.part}"


class Operation(OfShop):
    """A recipe done at a station: how long it takes and what its card says.

    ``steps`` is a list of ``{"step": ..., "key_point": ..., "reason": ...}``.
    """

    slug = models.SlugField(max_length=60)
    name = models.CharField(max_length=80)
    station = models.ForeignKey(Station, models.PROTECT, related_name="operations")
    recipe = models.OneToOneField(Recipe, models.PROTECT, related_name="operation")
    part = models.ForeignKey(
        Part, models.SET_NULL, null=True, blank=True, help_text="the part its card draws"
    )
    sheet = models.ForeignKey(
        BuildSheet, models.SET_NULL, null=True, blank=True, help_text="the build sheet it is from"
    )
    sequence = models.PositiveSmallIntegerField(default=0)
    is_in_use = models.BooleanField(default=True)
    minutes_per_piece = models.DecimalField(
        max_digits=6, decimal_places=2, validators=[MinValueValidator(Decimal("0.05"))],
        help_text="person-minutes a piece, at an ordinary pace",
    )  # fmt: skip
    steps = models.JSONField(default=list, blank=True)
    first_piece = models.CharField(max_length=300, blank=True, help_text="first-piece check")
    check_every = models.PositiveSmallIntegerField(default=0, help_text="check every nth piece")
    gauge = models.CharField(max_length=80, blank=True, help_text="gauge or jig, by number")
    bad_piece = models.CharField(max_length=300, blank=True, help_text="what a bad one looks like")

    class Meta:
        ordering = ["sequence", "name"]
        constraints = [
            models.UniqueConstraint(fields=["shop", "slug"], name="operation_slug_once_a_shop"),
            models.CheckConstraint(
                condition=Q(minutes_per_piece__gt=0), name="operation_takes_time"
            ),
        ]

    def __str__(self) -> str:
        return self.name
