"""Which labels, of what size, from which place of the sheet on."""

from __future__ import annotations

from typing import Any

from django import forms

from inventory.materials.models import Item
from inventory.materials.queries import items_of
from inventory.places.models import Place, Shop
from inventory.places.queries import places_of
from workshops.common.fields import SeveralField
from workshops.paper.label_sheets import SIZES, grid_of
from workshops.paper.labels import CHOICES, PLACE, SOME
from workshops.paper.second_language import LANGUAGES


class CardsForm(forms.Form):
    """What stands on the back of the station cards."""

    back = forms.ChoiceField(
        label="On the back",
        required=False,
        choices=[("", "English only"), *((k, f"{v} on the back") for k, v in LANGUAGES.items())],
        help_text="print both sides; what the club wrote itself stays English and is marked so",
    )


class LabelsForm(forms.Form):
    """The labels to print."""

    what = forms.ChoiceField(label="Labels for", choices=list(CHOICES.items()))
    place = forms.ModelChoiceField(
        Place.objects.none(), label="Which place?", required=False, empty_label="choose"
    )
    size = forms.ChoiceField(
        label="How large?", choices=[(size.key, size.says) for size in SIZES.values()]
    )
    start = forms.IntegerField(
        label="Begin at label", min_value=1, initial=1,
        help_text="1 is the first of a fresh sheet; a part-used sheet goes on where it was cut",
    )  # fmt: skip
    items = SeveralField(
        Item.objects.none(), label="Items", required=False, widget=forms.CheckboxSelectMultiple
    )

    def __init__(self, *args: Any, shop: Shop, **rest: Any) -> None:
        super().__init__(*args, **rest)
        self.shop = shop
        self.fields["place"].queryset = places_of(shop)  # type: ignore[attr-defined]
        self.fields["items"].queryset = items_of(shop)  # type: ignore[attr-defined]

    def clean(self) -> dict[str, Any]:
        """What is chosen is told; the start lies on the sheet."""
        given = super().clean() or {}
        if given.get("what") == PLACE and not given.get("place"):
            self.add_error("place", "Choose the place.")
        if given.get("what") == SOME and not given.get("items"):
            self.add_error("what", "Tick the items that get a label.")
        if given.get("size") and given.get("start"):
            most = grid_of(SIZES[given["size"]], self.shop.paper_size).on_a_sheet
            if given["start"] > most:
                self.add_error("start", f"A sheet holds {most} labels of this size.")
        return given

    def asked(self) -> dict[str, Any]:
        """What was asked, as a job keeps it."""
        given = self.cleaned_data
        return {
            "what": given["what"],
            "place": given["place"].pk if given["place"] else None,
            "items": [item.pk for item in given["items"]],
            "size": given["size"],
            "start": given["start"],
        }
