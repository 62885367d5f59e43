"""Item, recipe and recipe line."""

from __future__ import annotations

from decimal import Decimal

from django.core.validators import MinValueValidator
from django.db import models
from django.db.models import F, Q

from inventory.places.models import OfShop, Place


class Item(OfShop):
    """Anything the shop counts: bought, half-made or finished."""

    class Kind(models.TextChoices):
        METAL = "metal", "cut from by length"  # sticks, rods, wire on the roll
        FILL = "fill", "straw and hay"
        SMALL = "small", "small parts and supplies"
        RACK = "rack", "on the rack"  # half-made
        SET = "set", "complete set"

    class Shape(models.TextChoices):
        NONE = "", "no section"
        SQUARE_TUBE = "square_tube", "square tube"
        ROUND_TUBE = "round_tube", "round tube"
        CONDUIT = "conduit", "conduit"
        ROUND_ROD = "round_rod", "round rod"
        WIRE_MESH = "wire_mesh", "welded wire"

    class Group(models.TextChoices):
        NONE = "", "no group"
        FASTEN = "fasten", "rings, pins and bolts"
        WELD = "weld", "gas, wire and tips"
        WEAR = "wear", "gloves, glasses and masks"
        CLEAN = "clean", "brushes, oil and rags"
        OTHER = "other", "other supplies"

    slug = models.SlugField(max_length=60)
    name = models.CharField(max_length=80)
    size = models.CharField(
        max_length=20, blank=True, help_text="said beside the name: L, .035 in, 11 lb spool"
    )
    kind = models.CharField(max_length=8, choices=Kind.choices)
    unit = models.CharField(max_length=16, default="each", help_text="each, kg, bale, box")
    home = models.ForeignKey(
        Place, models.PROTECT, null=True, blank=True, help_text="where it is kept"
    )
    rack_limit = models.PositiveIntegerField(
        null=True, blank=True, help_text="how many fit on the rack; empty for no limit"
    )
    group = models.CharField(
        max_length=8, choices=Group.choices, blank=True, help_text="which shelf of supplies"
    )

    # The section, for metal: lengths in whole micrometres, never a gauge number alone.
    shape = models.CharField(max_length=12, choices=Shape.choices, blank=True)
    outside_um = models.PositiveIntegerField(null=True, blank=True, help_text="side or diameter")
    wall_um = models.PositiveIntegerField(null=True, blank=True)
    wire_um = models.PositiveIntegerField(null=True, blank=True, help_text="wire diameter of mesh")
    mesh = models.CharField(max_length=20, blank=True, help_text="2 x 4 in")

    # A bale, for straw and hay: what turns a count into a volume and a weight, and back.
    bale_length_um = models.PositiveIntegerField(null=True, blank=True)
    bale_width_um = models.PositiveIntegerField(null=True, blank=True)
    bale_height_um = models.PositiveIntegerField(null=True, blank=True)
    bale_weight_g = models.PositiveIntegerField(null=True, blank=True)
    loose_g_per_litre = models.PositiveIntegerField(
        null=True, blank=True, help_text="what a litre weighs shaken loose"
    )

    # Cutting.
    kerf_um = models.PositiveIntegerField(default=0, help_text="what one cut takes")
    trim_um = models.PositiveIntegerField(default=0, help_text="cut off each end first")
    keep_um = models.PositiveIntegerField(default=0, help_text="shorter remnants are scrap")

    # Buying.
    # 31 bits of micrometres end at 2.1 km, which a coil of wire can pass.
    bought_length_um = models.PositiveBigIntegerField(null=True, blank=True)
    supplier = models.CharField(max_length=80, blank=True)
    pack_size = models.PositiveIntegerField(default=1)
    pack_name = models.CharField(
        max_length=16, blank=True, help_text="what a pack is: box, bag, spool, bundle"
    )
    lead_days = models.PositiveIntegerField(default=7)
    unit_price = models.DecimalField(
        max_digits=10, decimal_places=2, null=True, blank=True, help_text="per unit, or per stick"
    )
    is_one_chance = models.BooleanField(
        "bought once a year", default=False, help_text="straw and hay after the harvest"
    )
    last_order_on = models.DateField(
        null=True, blank=True, help_text="the last day it can be had, when there is one"
    )
    keep_at_least = models.PositiveIntegerField(
        default=0, help_text="fewer than this are marked as short"
    )

    class Meta:
        ordering = ["name"]
        constraints = [
            models.UniqueConstraint(fields=["shop", "slug"], name="item_slug_once_a_shop"),
            models.CheckConstraint(
                condition=Q(wall_um__isnull=True) | Q(wall_um__lt=F("outside_um") / 2),
                name="item_wall_thinner_than_half",
            ),
            models.CheckConstraint(condition=Q(pack_size__gte=1), name="item_pack_not_empty"),
            models.CheckConstraint(
                condition=(
                    Q(bale_length_um=None, bale_width_um=None, bale_height_um=None)
                    | Q(bale_length_um__gt=0, bale_width_um__gt=0, bale_height_um__gt=0)
                ),
                name="item_bale_has_three_sizes",
                violation_error_message="A bale has three sizes: give all of them, or none.",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.name}, {self.size}" if self.size else self.name

    @property
    def has_bale(self) -> bool:
        """Whether the size and the weight of its bales are known."""
        sizes = (self.bale_length_um, self.bale_width_um, self.bale_height_um)
        return all(sizes) and bool(self.bale_weight_g)

    @property
    def is_by_length(self) -> bool:
        """Whether it is held as pieces of a length (sticks, drops, what is on a roll)."""
        return self.kind == self.Kind.METAL


class Recipe(OfShop):
    """What making ``quantity`` of the output consumes. One is in use per output."""

    name = models.CharField(max_length=80)
    output = models.ForeignKey(Item, models.PROTECT, related_name="recipes")
    quantity = models.PositiveIntegerField(default=1, validators=[MinValueValidator(1)])
    is_in_use = models.BooleanField(default=True)

    class Meta:
        ordering = ["name"]
        constraints = [
            models.CheckConstraint(condition=Q(quantity__gte=1), name="recipe_makes_something"),
            models.UniqueConstraint(
                fields=["output"], condition=Q(is_in_use=True), name="recipe_in_use_once_an_output"
            ),
        ]

    def __str__(self) -> str:
        return self.name


class RecipeLine(models.Model):
    """One thing a recipe consumes: a quantity, or pieces of a length."""

    recipe = models.ForeignKey(Recipe, models.CASCADE, related_name="lines")
    item = models.ForeignKey(Item, models.PROTECT, related_name="used_in")
    quantity = models.DecimalField(
        max_digits=12, decimal_places=3, validators=[MinValueValidator(Decimal("0.001"))]
    )
    length_um = models.PositiveBigIntegerField(
        default=0, help_text="length of each piece cut from it; 0 when it is not cut"
    )

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.CheckConstraint(condition=Q(quantity__gt=0), name="recipe_line_uses_something"),
            models.UniqueConstraint(
                fields=["recipe", "item", "length_um"], name="recipe_line_once_a_length"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.quantity} × {self.item}"
