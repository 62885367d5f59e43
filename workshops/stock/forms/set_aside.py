"""Moving, holding, releasing and scrapping what lies in one spot."""

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
        Place.objects.none(), label="Carried where?", required=False, empty_label="–"
    )
    reason = forms.CharField(label="Why?", required=False, max_length=200)
    key = forms.UUIDField(widget=forms.HiddenInput, initial=uuid4)

    def __init__(self, *args: Any, item: Item, **rest: Any) -> None:
        super().__init__(*args, **rest)
        # Only where something lies: what is not there cannot be carried.
        spots = balances_of(item).select_related("place", "item__shop")
        self.fields["spot"].queryset = spots  # type: ignore[attr-defined]
        self.fields["target"].queryset = places_of(item.shop)  # type: ignore[attr-defined]

    def clean(self) -> dict[str, Any]:
        """A target for what is carried, a reason for what is held, thrown away or sent back."""
        given = super().clean() or {}
        act, spot = given.get("act"), given.get("spot")
        if act == MOVE and not given.get("target"):
            self.add_error("target", "Say where it is carried.")
        if act in (HOLD, SCRAP, RETURN) and not given.get("reason", "").strip():
            self.add_error("reason", "Say why: it is read when somebody asks.")
        if spot and act == HOLD and spot.condition == Condition.HOLD:
            self.add_error("spot", "These are on hold already.")
        if spot and act == SET_OUT and spot.condition == Condition.HOLD:
            self.add_error("spot", "These are on hold: say first that they are good again.")
        if spot and act == RELEASE and spot.condition != Condition.HOLD:
            self.add_error("spot", "These are good already.")
        return given
