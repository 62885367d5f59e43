"""Moving, holding, releasing and scrapping what lies in one spot, and what comes back to it."""

from __future__ import annotations

from decimal import Decimal
from typing import Any
from uuid import uuid4

from django import forms

from inventory.ledger.models import Balance, Condition
from inventory.ledger.queries import balances_of
from inventory.ledger.refusals import plain
from inventory.materials.models import Item
from inventory.measures.lengths import spell_length
from inventory.places.models import Place
from inventory.places.queries import places_of

MOVE, HOLD, RELEASE, SCRAP = "move", "hold", "release", "scrap"
RETURN, SET_OUT = "return", "set_out"
BACK, BACK_HELD = "back", "back_held"
FROM_THE_MARSH = [
    (BACK, "came back from the marsh, good"),
    (BACK_HELD, "came back from the marsh, to be looked at"),
]
# What is set out, whole or in parts; nobody takes straw or steel to the marsh and back.
SET_OUT_KINDS = (Item.Kind.SET, Item.Kind.RACK)


class SpotField(forms.ModelChoiceField[Balance]):
    """A choice among the spots where an item lies."""

    def label_from_instance(self, obj: Balance) -> str:
        """``3 × 240 in, Yard, on hold``."""
        item, length = obj.item, obj.length_um
        said = plain(obj.quantity)
        said += f" × {spell_length(length, item.shop.length_units)}" if length else ""
        held = ", on hold" if obj.condition == Condition.HOLD else ""
        return f"{said}, {obj.place}{held}"


class SetAsideForm(forms.Form):
    """What is done with how many of which, and why."""

    spot = SpotField(Balance.objects.none(), label="Which?")
    quantity = forms.DecimalField(
        label="How many?", min_value=Decimal("0.001"), max_digits=12, decimal_places=3
    )
    act = forms.ChoiceField(
        label="What is done?",
        choices=[
            (MOVE, "carried to another place"),
            (HOLD, "put on hold"),
            (RELEASE, "good again"),
            (SCRAP, "thrown away"),
            (RETURN, "sent back to the supplier"),
            (SET_OUT, "taken to the marsh"),
        ],
    )
    target = forms.ModelChoiceField(
        Place.objects.none(), label="Put where?", required=False, empty_label="–"
    )
    reason = forms.CharField(label="Why?", required=False, max_length=200)
    key = forms.UUIDField(widget=forms.HiddenInput, initial=uuid4)

    def __init__(self, *args: Any, item: Item, **rest: Any) -> None:
        super().__init__(*args, **rest)
        # Only where something lies: what is not there cannot be carried.
        spots = balances_of(item).select_related("place", "item__shop")
        self.fields["spot"].queryset = spots  # type: ignore[attr-defined]
        self.fields["target"].queryset = places_of(item.shop)  # type: ignore[attr-defined]
        self.comes_back = item.kind in SET_OUT_KINDS
        if self.comes_back:
            self.fields["act"].choices += FROM_THE_MARSH  # type: ignore[attr-defined]
            # Asked in "clean": what comes back lay nowhere here.
            self.fields["spot"].required = False
            self.fields["target"].initial = item.home_id

    def clean(self) -> dict[str, Any]:
        """A target for what is carried, a reason for what is held, thrown away or comes back."""
        given = super().clean() or {}
        act, spot = given.get("act"), given.get("spot")
        if act in (MOVE, BACK, BACK_HELD) and not given.get("target"):
            put = "carried" if act == MOVE else "put"
            self.add_error("target", f"Say where it is {put}.")
        if act not in (BACK, BACK_HELD) and not spot and "spot" not in self.errors:
            self.add_error("spot", "Say which of them.")
        if act in (HOLD, SCRAP, RETURN, BACK, BACK_HELD) and not given.get("reason", "").strip():
            self.add_error("reason", "Say why: it is read when somebody asks.")
        if spot and act == HOLD and spot.condition == Condition.HOLD:
            self.add_error("spot", "These are on hold already.")
        if spot and act == SET_OUT and spot.condition == Condition.HOLD:
            self.add_error("spot", "These are on hold: say first that they are good again.")
        if spot and act == RELEASE and spot.condition != Condition.HOLD:
            self.add_error("spot", "These are good already.")
        return given
