"""The forms of operations, and of the rooms that stations stand in."""

from __future__ import annotations

from typing import Any

from django import forms
from django.db.models import Q, QuerySet

from inventory.materials.models import Recipe
from inventory.places.models import Shop
from workshops.stations.models import BuildSheet, Operation, Part


class RoomForm(forms.Form):
    """A room of the shop."""

    name = forms.CharField(label="Name", max_length=60, help_text="steel room, straw room, loft")


class RecipeField(forms.ModelChoiceField[Recipe]):
    """A parts list, called by what it makes."""

    def label_from_instance(self, obj: Recipe) -> str:
        """What comes out of it."""
        return f"{obj.output.name} (by “{obj.name}”)"


class OperationForm(forms.ModelForm[Operation]):
    """What is made at a station, and how long one piece takes."""

    recipe = RecipeField(
        Recipe.objects.none(), label="What comes out of it", empty_label="choose",
        help_text="Things with a parts list that no other operation makes.",
    )  # fmt: skip

    class Meta:
        model = Operation
        fields = [
            "name", "recipe", "minutes_per_piece", "sequence", "is_in_use", "part", "sheet",
            "first_piece", "check_every", "gauge", "bad_piece",
        ]  # fmt: skip
        labels = {
            "minutes_per_piece": "Minutes of one person a piece",
            "sequence": "Order of work",
            "is_in_use": "In use",
            "part": "Part its card draws",
            "sheet": "Build sheet it is from",
            "first_piece": "First-piece check",
            "check_every": "Check again every so many pieces",
            "gauge": "Gauge or jig",
            "bad_piece": "What a bad piece looks like",
        }
        help_texts = {
            "minutes_per_piece": "At an ordinary pace: 2.5, 12.",
            "check_every": "0 when the first piece is enough.",
        }

    def __init__(self, *args: Any, shop: Shop, **rest: Any) -> None:
        super().__init__(*args, **rest)
        self.fields["recipe"].queryset = free_recipes(shop, self.instance)  # type: ignore[attr-defined]
        for name, rows in (("part", Part.objects), ("sheet", BuildSheet.objects)):
            self.fields[name].queryset = rows.filter(shop=shop)  # type: ignore[attr-defined]
            self.fields[name].empty_label = "none"  # type: ignore[attr-defined]


def free_recipes(shop: Shop, kept: Operation | None = None) -> QuerySet[Recipe]:
    """Parts lists in use that no operation follows, and the one it follows already."""
    free = Q(is_in_use=True, operation__isnull=True)
    if kept is not None and kept.pk:
        free |= Q(operation=kept)
    rows = Recipe.objects.filter(free, shop=shop)
    return rows.select_related("output").order_by("output__name")
