"""One row of a delivery: an item, how many, how long, and what was measured of it."""

from __future__ import annotations

from dataclasses import dataclass, field
from decimal import Decimal
from functools import cached_property
from typing import Any

from django import forms

from inventory.deliveries.arrivals import Arrival, Measured
from inventory.deliveries.expected import Coming
from inventory.deliveries.models import Received
from inventory.ledger.refusals import plain
from inventory.materials.models import Item
from inventory.places.models import Place, Shop
from inventory.places.queries import places_of
from workshops.stock.fields import LengthField, is_whole
from workshops.stock.finding import Finder, NotFound
from workshops.stock.judging import Bench, Judgement, bench_of, judge
from workshops.stock.shelves import unit_of

HOLD, GOOD = "hold", "good"
GRAMS = {"kg": Decimal(1000), "g": Decimal(1), "lb": Decimal("453.59237")}
HOLLOW = {Item.Shape.SQUARE_TUBE, Item.Shape.ROUND_TUBE, Item.Shape.CONDUIT}
MEASURED = ("outside", "wall", "wire", "moisture", "finish")


@dataclass(frozen=True)
class Door:
    """What every row is read against, asked for once a page."""

    shop: Shop
    finder: Finder
    places: list[Place]
    coming: dict[int, Coming] = field(default_factory=dict)

    @cached_property
    def bench(self) -> Bench:
        """What is judged against; read when something is judged, which a fresh page does not."""
        return bench_of(self.shop)


class ArrivalForm(forms.Form):
    """A row; left empty it says nothing. ``judgement`` stands once it is clean."""

    item = forms.CharField(label="What came?", required=False, max_length=120)
    quantity = forms.DecimalField(
        label="Count", required=False, min_value=Decimal(0), max_digits=12, decimal_places=3
    )
    bales = forms.DecimalField(
        label="or bales", required=False, min_value=Decimal(0), max_digits=8, decimal_places=1
    )
    length = LengthField(label="Length of each", required=False)
    outside = LengthField(label="Outside", required=False)
    wall = LengthField(label="Wall", required=False)
    wire = LengthField(label="Wire", required=False)
    moisture = forms.DecimalField(
        label="Moisture, %", required=False, min_value=Decimal(0), max_value=Decimal(99),
        max_digits=4, decimal_places=1,
    )  # fmt: skip
    finish = forms.ChoiceField(label="Finish", choices=Received.Finish.choices, required=False)
    place = forms.ModelChoiceField(Place.objects.none(), label="Put where?", required=False)
    value = forms.DecimalField(
        label="Worth", required=False, min_value=Decimal(0), max_digits=10, decimal_places=2
    )
    order_line = forms.IntegerField(required=False, widget=forms.HiddenInput)
    then = forms.ChoiceField(
        label="What happens to it?", required=False,
        widget=forms.RadioSelect(attrs={"class": "form-check-input"}),
        choices=[(HOLD, "book it in on hold, until somebody decides"),
                 (GOOD, "book it in as good, for what it fits alone")],
    )  # fmt: skip

    def __init__(self, *args: Any, door: Door, **rest: Any) -> None:
        super().__init__(*args, **rest)
        self.door = door
        self.judgement = Judgement()
        self.chosen = self._chosen()
        units, shop = door.shop.length_units, door.shop
        for name in ("length", "outside", "wall", "wire"):
            self.fields[name].units = units  # type: ignore[attr-defined]
        self._offer_places()
        self.fields["value"].label = f"Worth of all, {shop.currency}"
        for name in ("quantity", "bales", "moisture", "value"):
            self.fields[name].widget.attrs |= {"inputmode": "decimal"}
        self.fields["item"].widget.attrs |= {"list": "items", "autocomplete": "off"}
        if self.chosen and self.chosen.bought_length_um and self.chosen.is_by_length:
            self.fields["length"].initial = self.chosen.bought_length_um

    def _offer_places(self) -> None:
        # A list made once for all rows: a query and a template for each would cost a second.
        field = self.fields["place"]
        field.queryset = places_of(self.door.shop)  # type: ignore[attr-defined]
        field.choices = [  # type: ignore[attr-defined]
            ("", "where it is usually kept"), *((p.pk, p.name) for p in self.door.places)
        ]  # fmt: skip

    def _chosen(self) -> Item | None:
        try:
            return self.door.finder.find(str(self["item"].value() or "-"))
        except NotFound:
            return None

    @property
    def asks(self) -> set[str]:
        """The fields that make sense for this item; all of them while none is chosen."""
        item = self.chosen
        if item is None:
            return {"length", "bales", *MEASURED}
        if item.kind == Item.Kind.FILL:
            return {"moisture"} | ({"bales"} if _is_weighed_by_bale(item) else set())
        if not item.is_by_length:
            return set()
        if item.shape == Item.Shape.WIRE_MESH:
            return {"length", "wire", "finish"}
        hollow = {"wall"} if item.shape in HOLLOW else set()
        return {"length", "outside", "finish"} | hollow

    @property
    def asks_bales(self) -> bool:
        """Whether bales are asked for beside the count; not before the item is known."""
        return self.chosen is not None and "bales" in self.asks

    @property
    def unit(self) -> str:
        """What is counted; empty for things counted one by one."""
        return unit_of(self.chosen) if self.chosen else ""

    @property
    def coming(self) -> Coming | None:
        """The line of the order that this row was filled in from."""
        raw = str(self["order_line"].value() or "")
        return self.door.coming.get(int(raw)) if raw.isdecimal() else None

    @property
    def at(self) -> int:
        """The place of the row on the page, counted from 0."""
        return int(str(self.prefix).removeprefix("r"))

    @property
    def number(self) -> int:
        """The place of the row as people count."""
        return self.at + 1

    def measured_boxes(self) -> list[forms.BoundField]:
        """What may be measured of this item, and what was typed though it may not."""
        # Without scripts nobody knows yet what came: then bales are asked for here.
        asked = self.asks if self.chosen is None else self.asks - {"bales"}
        names = (*MEASURED, "bales")
        return [self[name] for name in names if name in asked or self[name].errors]

    @property
    def is_blank(self) -> bool:
        """Whether the row says that nothing came."""
        given = self.cleaned_data
        counted = given.get("quantity") or given.get("bales")
        if "quantity" in self.errors or "bales" in self.errors:
            return False
        return not counted and (not given.get("item") or self.coming is not None)

    @property
    def has_measured(self) -> bool:
        """Whether the fold of the row is open: something in it was typed or is wrong."""
        names = (*MEASURED, "bales", "place", "value")
        return any(self[name].value() or self[name].errors for name in names)

    def clean(self) -> dict[str, Any]:
        """An item with a quantity, a length for metal alone, only what can be measured of it."""
        given = super().clean() or {}
        if self.is_blank:
            return given
        item = self._item(given)
        if item is None:
            return given
        self._check_quantity(item, given)
        self._check_length(item, given)
        for name in set(MEASURED) - self.asks:
            if given.get(name):
                self.add_error(name, f"This is not measured of {item}: leave it empty.")
        # Judged before the rest is right as well: what was measured is not lost on a typing slip.
        if not set(MEASURED) & set(self.errors):
            self._judge(item, given)
        return given

    def _item(self, given: dict[str, Any]) -> Item | None:
        if not given.get("item"):
            self.add_error("item", "Say what came: type a part of its name.")
            return None
        try:
            return self.door.finder.find(given["item"])
        except NotFound as refused:
            self.add_error("item", str(refused))
            return None

    def _check_quantity(self, item: Item, given: dict[str, Any]) -> None:
        bales, weight = given.get("bales"), item.bale_weight_g
        if bales and not given.get("quantity"):
            if not _is_weighed_by_bale(item) or not weight:
                self.add_error("bales", f"{item} is not counted in bales: say how much came.")
                return
            given["quantity"] = (bales * weight / GRAMS[item.unit]).quantize(Decimal("0.001"))
        quantity = given.get("quantity")
        if not quantity:
            if "quantity" not in self.errors:
                which = f"{self.unit} of {item}" if self.unit else str(item)
                self.add_error("quantity", f"Say how many {which} came.")
        elif is_whole(item) and quantity % 1:
            which = f"Pieces of {item}" if item.is_by_length else str(item)
            self.add_error("quantity", f"{which}: counted whole, never by halves.")

    def _check_length(self, item: Item, given: dict[str, Any]) -> None:
        if not item.is_by_length:
            if given.get("length"):
                self.add_error("length", f"{item} is not held by length: leave it empty.")
        elif "length" not in self.errors and not given.get("length"):
            self.add_error("length", f"Say how long each piece of {item} is.")

    def _judge(self, item: Item, given: dict[str, Any]) -> None:
        self.judgement = judge(item, self._measured(given), self.door.bench)
        if self.judgement.refused and not given.get("then"):
            self.add_error("then", "It does not fit everything: say what happens to it.")

    def _measured(self, given: dict[str, Any]) -> Measured:
        return Measured(
            outside_um=given.get("outside"), wall_um=given.get("wall"), wire_um=given.get("wire"),
            moisture_percent=given.get("moisture"), finish=given.get("finish") or "",
        )  # fmt: skip

    def arrival(self) -> Arrival:
        """The row as it is booked in; asked of a clean row that is not blank."""
        given = self.cleaned_data
        item = self.door.finder.find(given["item"])
        coming = self.coming
        on_line = coming.line if coming and coming.item.pk == item.pk else None
        return Arrival(
            item=item, quantity=given["quantity"], length_um=given.get("length") or 0,
            place=given["place"], value=given["value"], order_line=on_line,
            measured=self._measured(given),
            judged=[each.to_json() for each in self.judgement.verdicts],
            hold_because=self._why_held(item) if given.get("then") == HOLD else "",
        )  # fmt: skip

    def _why_held(self, item: Item) -> str:
        why = self.judgement.why_held
        if item.kind == Item.Kind.FILL and why:
            why = f"{why}; on the straw watch until it is dry"
        return why or "set aside when it came in"


def filled_in(coming: Coming, finder: Finder) -> dict[str, Any]:
    """A row filled in with what an order still waits for."""
    line = coming.line
    filled = {"item": finder.name_of(line.item), "quantity": plain(coming.left)}
    return filled | {"length": line.length_um or None, "order_line": line.pk}


def _is_weighed_by_bale(item: Item) -> bool:
    return item.kind == Item.Kind.FILL and bool(item.bale_weight_g) and item.unit in GRAMS
