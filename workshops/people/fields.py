"""The form field in which a person is chosen: two of one name are told apart in all of them."""

from __future__ import annotations

from collections.abc import Mapping

from django import forms
from django.db.models import QuerySet

from inventory.places.models import Shop
from workshops.people.models import Person
from workshops.people.names import short_names, told_apart


class PersonField(forms.ModelChoiceField[Person]):
    """One person of the shop, as the list of people shows the name."""

    names: Mapping[int, str] = {}

    def label_from_instance(self, obj: Person) -> str:
        """The name, with what tells it apart."""
        return self.names.get(obj.pk) or str(obj)


def offer_people(
    shop: Shop,
    *fields: forms.Field,
    people: QuerySet[Person] | None = None,
    in_short: bool = False,
) -> None:
    """Let the fields choose from everybody on the shop's list, or from some of them. 1 query.

    Told apart from everybody on the list, so that somebody has one name in every choice; with
    ``in_short`` by first name and initial, for the tablets that lie open in the shop.
    """
    listed = Person.objects.filter(shop=shop).active()
    names = short_names(listed) if in_short else told_apart(listed)
    for field in fields:
        assert isinstance(field, PersonField)
        field.queryset, field.names = listed if people is None else people, names
