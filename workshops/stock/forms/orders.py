"""Writing an order: its lines, by when and where to, and the steps it takes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date
from decimal import Decimal
from typing import Any

from django import forms
from django.db.models import QuerySet
from django.forms import BoundField

from inventory.deliveries.models import OrderLine
from inventory.deliveries.ordering import Asked
from inventory.materials.models import Item

DAY = {"type": "date"}


class SupplierForm(forms.Form):
    """Who an order goes to."""

    supplier = forms.CharField(
        label="Supplier", max_length=80,
        widget=forms.TextInput(attrs={"list": "suppliers", "autocomplete": "off"}),
    )  # fmt: skip


class OrderForm(forms.Form):
    """A whole draft on one page: a box for how many and the price of each line, and one more.

    A line of 0, or an emptied box, is taken off. The price is for one unit, or one stick.
    """

    wanted_on = forms.DateField(
        label="Wanted by", required=False, widget=forms.DateInput(attrs=DAY, format="%Y-%m-%d")
    )
    deliver_to = forms.CharField(label="Deliver to", required=False, max_length=200)
    note = forms.CharField(label="A word to the supplier", required=False, max_length=200)
    item = forms.ModelChoiceField(
        label="Another thing", queryset=Item.objects.none(), required=False,
        empty_label="nothing more",
    )  # fmt: skip
    quantity = forms.DecimalField(
        label="How many", required=False, min_value=Decimal("0.001"), max_digits=12,
        decimal_places=3,
    )  # fmt: skip

    def __init__(
        self, *args: Any, items: QuerySet[Item], lines: Iterable[OrderLine], **rest: Any
    ) -> None:
        super().__init__(*args, **rest)
        self.lines = list(lines)
        choice = self.fields["item"]
        assert isinstance(choice, forms.ModelChoiceField)
        choice.queryset = items
        for line in self.lines:
            self.fields[f"q{line.pk}"] = forms.DecimalField(
                label=f"How many: {line.item}", required=False, min_value=0, max_digits=12,
                decimal_places=3, initial=_bare(line.quantity),
            )  # fmt: skip
            self.fields[f"p{line.pk}"] = forms.DecimalField(
                label=f"Price of one: {line.item}", required=False, min_value=0, max_digits=10,
                decimal_places=2, initial=line.unit_price,
            )  # fmt: skip

    def rows(self) -> Iterator[tuple[OrderLine, BoundField, BoundField]]:
        """Each line with its two boxes."""
        for line in self.lines:
            yield line, self[f"q{line.pk}"], self[f"p{line.pk}"]

    def clean(self) -> dict[str, Any]:
        """A thing that is added says how many."""
        given = super().clean() or {}
        if given.get("item") and not given.get("quantity") and "quantity" not in self.errors:
            self.add_error("quantity", "Say how many.")
        return given

    def asked(self) -> list[Asked]:
        """The lines that stand, as typed, and the one that is added."""
        given, found = self.cleaned_data, []
        for line in self.lines:
            quantity = given[f"q{line.pk}"]
            if quantity:
                price = given[f"p{line.pk}"]
                found.append(Asked(line.item, quantity, line.length_um, price))
        if given["item"]:
            item = given["item"]
            found.append(Asked(item, given["quantity"], unit_price=item.unit_price))
        return found

    def taken_off(self) -> list[int]:
        """The lines whose box was emptied or says 0."""
        return [line.pk for line in self.lines if not self.cleaned_data[f"q{line.pk}"]]


class SendForm(forms.Form):
    """When it went out, and when the goods should be here."""

    on = forms.DateField(label="Sent on", widget=forms.DateInput(attrs=DAY, format="%Y-%m-%d"))
    expected_on = forms.DateField(
        label="Expected on", required=False, help_text="empty when nobody knows yet",
        widget=forms.DateInput(attrs=DAY, format="%Y-%m-%d"),
    )  # fmt: skip


class ExpectForm(forms.Form):
    """The day the supplier gives now."""

    expected_on = forms.DateField(
        label="Expected on", required=False, help_text="empty when nobody knows",
        widget=forms.DateInput(attrs=DAY, format="%Y-%m-%d"),
    )  # fmt: skip


class WhyForm(forms.Form):
    """Why an order is called off, or why nothing more is expected of it."""

    why = forms.CharField(label="Why?", required=False, max_length=200)


class DayForm(forms.Form):
    """As of which day; today when it is left empty or makes no sense."""

    day = forms.DateField(
        label="As of",
        required=False,
        widget=forms.DateInput(attrs={**DAY, "class": "form-control"}, format="%Y-%m-%d"),
    )

    def chosen(self, today: date) -> date:
        """The day, never after today: nobody knows what will be paid."""
        typed: date | None = self.cleaned_data.get("day") if self.is_valid() else None
        return min(typed, today) if typed else today


def _bare(quantity: Decimal) -> Decimal:
    """Without trailing noughts, as it is typed."""
    return Decimal(f"{quantity.normalize():f}")
