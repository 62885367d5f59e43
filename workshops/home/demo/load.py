"""Loads the demo winter, half of it behind and a night tonight."""

from __future__ import annotations

from datetime import date

from django.db import transaction

from inventory.ledger.actions import written_as_it_happened
from inventory.places.models import Shop
from workshops.home.demo.attendance import load_attendance
from workshops.home.demo.book import load_book
from workshops.home.demo.cut_lists import load_cut_list
from workshops.home.demo.days import Days
from workshops.home.demo.files import read
from workshops.home.demo.items import load_items, load_recipes
from workshops.home.demo.nights import load_nights
from workshops.home.demo.orders import load_orders
from workshops.home.demo.people import load_people
from workshops.home.demo.readings import load_readings
from workshops.home.demo.sheets import load_sheets
from workshops.home.demo.shops import load_rules, load_shop
from workshops.home.demo.standing import load_standing, load_uses
from workshops.home.demo.stations import load_operations, load_stations
from workshops.home.demo.winters import load_winters
from workshops.season.actions import publish_aims


def demo_shop() -> Shop | None:
    """The demo's shop where it is loaded already."""
    return Shop.objects.filter(slug=read("shop")["shop"]["slug"]).first()


@written_as_it_happened()
@transaction.atomic
def load_demo(*, today: date) -> Shop:
    """The demo's shop, laid out around ``today``; what is loaded already stays as it is.

    All of it or nothing. Two loads on the same day into empty databases give the same rows.

    Raises
    ------
    workshops.access.actions.NameTaken
        When somebody in this database signs in under one of the demo's names.
    inventory.ledger.actions.PostingRefused
        When the files no longer agree: more is used than was delivered.
    """
    loaded = demo_shop()
    if loaded is not None:
        return loaded
    shop = load_shop()
    days = Days(today, shop.zone)
    load_rules(shop, days)
    items = load_items(shop)
    recipes = load_recipes(shop, items)
    sheets = load_sheets(shop, items, days)
    stations = load_stations(shop, days)
    operations = load_operations(shop, stations, recipes, sheets)
    people = load_people(shop, stations, days)
    winter = load_winters(shop, items, days)
    told = load_nights(shop, days)
    load_attendance(told, people, days)
    load_standing(told, people, stations, days)
    users = {key: person.user for key, person in people.items() if person.user}
    load_book(shop, told, operations, users=users, days=days)
    load_uses(told)
    load_orders(shop, items, by=users["devika"], days=days)
    load_readings(shop, users=users, days=days)
    load_cut_list(shop, by=users["devika"], days=days)
    publish_aims(winter=winter)
    return shop
