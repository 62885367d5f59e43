"""Goods-in: who it came from, and a row for each thing that came."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date, timedelta
from typing import Any
from uuid import uuid4

from django import forms

from inventory.deliveries.models import Order
from inventory.materials.models import Item
from inventory.places.models import Shop
from workshops.club.queries import Rules
from workshops.stock.forms.arrival import ArrivalForm, Door, filled_in
from workshops.stock.times import today_in

BOUGHT, GIVEN = "bought", "given"
EMPTY, MORE, MOST = 3, 3, 60  # rows to begin with, rows a press adds, rows a delivery may have


class DeliveryForm(forms.Form):
    """What is true of the whole delivery."""

    source = forms.CharField(label="From whom?", max_length=80)
    came = forms.ChoiceField(
        label="Bought or given?", choices=[(BOUGHT, "bought"), (GIVEN, "given")],
        initial=BOUGHT, widget=forms.RadioSelect(attrs={"class": "form-check-input m-0"}),
    )  # fmt: skip
    on = forms.DateField(
        label="Which day?", required=False, widget=forms.DateInput(attrs={"type": "date"})
    )
    paper = forms.CharField(label="Delivery note or bill", required=False, max_length=80)
    value_basis = forms.CharField(
        label="How was the worth set?", required=False, max_length=120,
        help_text="asked for things given: a receipt, a shop's price, an estimate by whom",
    )  # fmt: skip
    letter = forms.DateField(
        label="Thank-you letter due", required=False,
        widget=forms.DateInput(attrs={"type": "date"}),
    )  # fmt: skip
    no_letter = forms.BooleanField(label="No letter is wanted", required=False)
    grant = forms.CharField(label="Counts for which grant?", required=False, max_length=80)
    note = forms.CharField(label="Anything else?", required=False, max_length=200)
    order = forms.IntegerField(required=False, widget=forms.HiddenInput)
    key = forms.UUIDField(widget=forms.HiddenInput, initial=uuid4)

    def __init__(self, *args: Any, shop: Shop, rules: Rules, **rest: Any) -> None:
        super().__init__(*args, **rest)
        self.shop, self.rules = shop, rules
        self.fields["source"].widget.attrs |= {"list": "sources", "autocomplete": "off"}
        days = rules.letter_days
        self.fields["letter"].help_text = (
            f"left empty: {days} days after a gift came" if days else "the club sends none by rule"
        )

    @property
    def has_more(self) -> bool:
        """Whether something in the fold was typed or is wrong."""
        names = ("on", "paper", "value_basis", "letter", "no_letter", "grant", "note")
        return any(self[name].value() or self[name].errors for name in names)

    def clean_on(self) -> date | None:
        """Goods do not come tomorrow."""
        day: date | None = self.cleaned_data["on"]
        if day is not None and day > today_in(self.shop):
            raise forms.ValidationError("Which day: this day has not come yet.")
        return day

    def is_given(self) -> bool:
        """Whether it is a gift."""
        return bool(self.cleaned_data.get("came") == GIVEN)

    def letter_due_on(self) -> date | None:
        """The day the thank-you letter is due: as typed, or by the club's rule for a gift."""
        given = self.cleaned_data
        if not self.is_given() or given["no_letter"]:
            return None
        typed: date | None = given["letter"]
        came, days = given["on"] or today_in(self.shop), self.rules.letter_days
        return typed or (came + timedelta(days=days) if days else None)

    def ask_for_basis(self, rows: Sequence[ArrivalForm]) -> None:
        """A gift whose worth is written down says how it was set."""
        valued = any(row.cleaned_data.get("value") for row in rows)
        if self.is_given() and valued and not self.cleaned_data.get("value_basis"):
            self.add_error("value_basis", "Say how the worth of the gift was set.")


def rows_of(
    door: Door, *, sent: Mapping[str, Any] | None = None, typed: Mapping[str, Any] | None = None,
    order: Order | None = None, item: Item | None = None,
) -> list[ArrivalForm]:  # fmt: skip
    """The rows: as sent to be checked, as typed so far with more room, or fresh ones.

    Fresh ones are filled in with what an order waits for, or with one item.
    """
    if sent is not None:
        return [ArrivalForm(sent, prefix=f"r{n}", door=door) for n in range(count_in(sent))]
    filled: list[dict[str, Any]] = []
    if typed is not None:
        filled = [typed_in(typed, f"r{n}", ArrivalForm) for n in range(count_in(typed))]
    elif order is not None:
        filled = [filled_in(row, door.finder) for row in door.coming.values() if row.left]
    elif item is not None:
        filled = [{"item": door.finder.name_of(item)}]
    room = MORE if typed is not None else EMPTY - len(filled) if not order else 1
    filled += [{}] * max(0, min(room, MOST - len(filled)))
    return [
        ArrivalForm(initial=row, prefix=f"r{n}", door=door) for n, row in enumerate(filled)
    ]  # fmt: skip


def count_in(sent: Mapping[str, Any]) -> int:
    """How many rows came with a request: as many as it says, and no more than a delivery has."""
    said = str(sent.get("rows", ""))
    return min(int(said), MOST) if said.isdecimal() and len(said) < 4 else 0


def typed_in(sent: Mapping[str, Any], prefix: str, form: type[forms.Form]) -> dict[str, Any]:
    """What was typed into a form, unchecked, to be shown in another."""
    names = form.base_fields
    keys = {name: f"{prefix}-{name}" if prefix else name for name in names}
    return {name: sent[key] for name, key in keys.items() if sent.get(key)}
