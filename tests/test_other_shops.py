"""A row of another shop is not found under the address of one's own, whoever asks and however.

The guard keeps strangers out of a shop; this keeps a member from reaching past it by number.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Any
from uuid import uuid4

import pytest
from django.test import Client
from django.urls import reverse

from inventory.cutting.models import CutListRun
from inventory.deliveries.actions import Arrival, receive
from inventory.deliveries.ordering import draft
from inventory.ledger.actions import goods_in
from inventory.materials.models import Item
from inventory.places.models import Place, Shop
from inventory.readings.actions import take_reading
from inventory.readings.models import Reading
from inventory.stocktake.actions import open_stocktake
from tests import factories
from tests.addresses import every_address
from tests.inventory.ledger.conftest import AT
from tests.matrix import matrix
from workshops.access.models import Membership, User
from workshops.common.models import Job, Upload
from workshops.counting.models import PaperSheet, Tablet
from workshops.nights.models import Change, Group, Night, Placing, RollLine, Tally, TrainingDate
from workshops.paper.models import Paper
from workshops.quality.models import Check, Held
from workshops.stations.actions import stop_station
from workshops.stations.models import Operation, SheetPart
from workshops.tonight.models import Ask, Tap, Told
from workshops.trouble.models import Trouble

Rows = dict[str, Any]
OWN_DAY, OTHER_DAY = date(2026, 1, 14), date(2026, 1, 21)

LISTS = {
    "stock": b"item,place,length,condition,quantity\nnothing,nowhere,,good,1\n",
    "people": b"first name,last name\nNew,Comer\n",
}
# What stands in an address, by slice and argument: the kind of row that is looked for.
KINDS = {
    "access": {"pk": "member"}, "common": {"pk": "job"}, "paper": {"pk": "paper"},
    "people": {"pk": "person", "bar": "bar", "sign_off": "sign_off"},
    "people:life": {"pk": "station"}, "people:merge": {"pk": "person", "other": "person"},
    **{f"people:{name}": {"pk": "people_list"} for name in (
        "brought", "answer_list", "write_list", "throw_list",
    )},
    "counting": {"on": "day"}, "counting:undo": {"on": "day", "pk": "tally"},
    "counting:sheet": {"on": "day", "number": "tally_sheet"},
    "counting:lose": {"on": "day", "pk": "tablet"},
    "nights": {"on": "day", "block": "block", "person": "person", "placing": "placing",
               "change": "change"},
    "training": {"person": "person", "station": "station"},
    "training:drop": {"pk": "training_date"},
    **{f"nights:{name}": {"on": "day", "pk": "group"} for name in (
        "group", "group_in", "group_out",
    )},
    "nights:signed_here": {"on": "day", "pk": "person"},
    "nights:hand": {"on": "day", "pk": "person"}, "nights:take_back": {"on": "day", "pk": "stay"},
    "flow": {"on": "day"},
    "tonight": {"on": "day", "pk": "station"}, "tonight:replied": {"on": "day", "pk": "ask"},
    "tonight:changed": {"on": "day", "pk": "tap"}, "tonight:back": {"on": "day", "pk": "tap"},
    "tonight:rung": {"on": "day", "pk": "told"},
    "trouble": {"on": "day", "pk": "trouble", "person": "person"}, "trouble:reopen": {
        "on": "day", "pk": "stop",
    },
    "quality": {"on": "day", "operation": "operation", "pk": "held"},
    "lockup": {"on": "day"},
    "stations": {"pk": "station"}, "stations:operation": {"pk": "operation"},
    "stations:tool_out": {"pk": "tool"}, "stations:tool_back": {"pk": "tool"},
    "stations:inspections": {"pk": "tool"},
    "stations:part_dxf": {"pk": "sheet", "item": "item"},
    "stations:template_dxf": {"pk": "sheet", "item": "item"},
    "stations:template": {"pk": "sheet", "item": "item"},
    "stations:part": {"pk": "part"}, "mine": {"on": "day"}, "stock": {
        "place": "place", "item": "item", "pk": "entry", "stocktake": "stocktake",
        "sheet": "count_sheet", "line": "count_line",
    },
    "stock:correct_reading": {"pk": "reading"}, "stock:cut_over": {"pk": "sheet"},
    "stock:decide_cut_over": {"pk": "sheet"},
    "stock:cut_list": {"pk": "cut_list"}, "stock:cut_tick": {"pk": "cut_list"},
    "stock:cut_rest": {"pk": "cut_list"}, "stock:other_stick": {"pk": "cut_list"},
    **{f"stock:{name}": {"pk": "upload"} for name in (
        "list", "write_list", "throw_list", "list_places",
    )},
    **{f"stock:{name}": {"pk": "order"} for name in (
        "order", "write_order", "send_order", "expect_order", "end_order",
    )},
    **{f"stock:{name}": {"pk": "delivery", "received": "received"} for name in (
        "delivery", "take_back_received", "coating_gone", "letter_sent",
    )},
    **{f"stations:{name}": {"pk": "sheet", "part": "part"} for name in (
        "sheet", "edit_sheet", "check_sheet", "put_part", "part_off", "revise", "in_force",
        "supersede",
    )},
}  # fmt: skip
# Their keys are rules and lists of the code, the same in every shop.
NO_ROWS = {
    "club:rule",
    "club:usual",
    "stock:export_list",
    "stock:list_template",
    "people:take_out",
    "people:to_fill_in",
}

ASKED = [
    (address.name, argument)
    for address in every_address() if address.is_of_shop and address.name not in NO_ROWS
    for argument in ["everything", *address.arguments] if argument != "shop"
    if len(address.arguments) > 1
]  # fmt: skip


def kinds_of(name: str) -> dict[str, str]:
    return KINDS.get(name) or KINDS[name.partition(":")[0]]


def rows_of(shop: Shop, day: date) -> Rows:
    """One row of each kind in the shop, as it stands in an address."""
    user = factories.make_member(shop, f"somebody-{shop.pk}", Membership.Role.VOLUNTEER)
    station, person = factories.make_station(shop), factories.make_person(shop)
    sheet, part = factories.make_sheet(shop), factories.make_part(shop)
    SheetPart.objects.create(sheet=sheet, part=part)
    place, operation = factories.make_place(shop), factories.make_operation(station)
    item = factories.make_item(shop, home=place)
    entry = goods_in(
        shop=shop, item=item, quantity=Decimal(1), place=place, source="A farm", is_donated=True,
        by=None, at=AT,
    )  # fmt: skip
    delivery = receive(
        shop=shop, source="A farm", is_donated=True, by=None, at=AT, client_key=uuid4(),
        lines=[Arrival(item=item, quantity=Decimal(1))],
    )  # fmt: skip
    night = factories.make_night(shop, date=day)
    block = night.blocks.all()[0]
    stocktake = open_stocktake(shop=shop, name="Any", places=[place], by=None, at=AT)
    count_sheet = stocktake.sheets.get()
    run = {"version": "1", "status": "proven", "seconds": 0}
    bare = {"problem": {"pieces": [], "stock": []}, "result": {"runs": []}}
    # Of the very person who asks: it is the shop that keeps them apart.
    uploads = {
        kind: Upload.objects.create(
            shop=shop, kind=kind, name="a.csv", data=LISTS[kind],
            by=User.objects.get(username="carla"),
        ) for kind in LISTS
    }  # fmt: skip
    return {
        "stocktake": stocktake.pk, "count_sheet": count_sheet.pk,
        "count_line": count_sheet.lines.get().pk,
        "member": user.memberships.get().pk, "station": station.pk, "person": person.pk,
        "sheet": sheet.pk, "part": part.pk, "place": place.pk, "operation": operation.pk,
        "item": item.slug, "entry": entry.pk, "day": day, "block": block.pk,
        "reading": _reading(shop, place).pk,
        "delivery": delivery.pk, "received": delivery.received.get().pk,
        "tool": factories.make_tool(shop, station).pk,
        "bar": factories.make_bar(person, station).pk,
        "sign_off": factories.make_sign_off(person, station).pk,
        "job": Job.objects.create(shop=shop, kind="plan_night", state=Job.State.FAILED).pk,
        "upload": uploads["stock"].pk, "people_list": uploads["people"].pk,
        "order": draft(shop=shop, supplier="A mill", by=None, at=AT).pk,
        "paper": Paper.objects.create(shop=shop, kind=Paper.Kind.CARDS, file="a.pdf").pk,
        "cut_list": CutListRun.objects.create(shop=shop, item=item, **run, **bare).pk,
        "placing": Placing.objects.create(
            night=night, block=block, person=person, station=station
        ).pk,
        "change": Change.objects.create(
            night=night, kind="move", before={"plan": None, "seats": []},
            after={"plan": None, "seats": []},
        ).pk,
        "training_date": TrainingDate.objects.create(
            night=night, learner=person, station=station, lead=factories.make_person(shop)
        ).pk,
        "group": Group.objects.create(shop=shop, night=night, name="Troop 41").pk,
        "held": _held(night, operation).pk,
        "stay": RollLine.objects.create(night=night, person=person, in_at=AT).pk,
        "ask": Ask.objects.create(shop=shop, night=night, person=person, station=station).pk,
        "tap": Tap.objects.create(shop=shop, night=night, person=person).pk,
        "told": Told.objects.create(shop=shop, night=night, person=person, has_email=False).pk,
        "stop": stop_station(
            station=station, reason="x", stopped_by="Dov", starts_on=day, at=AT
        ).pk,
        "trouble": Trouble.objects.create(
            shop=shop, night=night, kind=Trouble.Kind.NEAR_MISS, reported_by="Dov"
        ).pk,
        "tally": Tally.objects.create(shop=shop, night=night, operation=operation, good=1).pk,
        # Its own number in each shop, or the other shop's would be found as ours.
        "tally_sheet": PaperSheet.objects.create(
            shop=shop, night=night, number=shop.pk, typed_at=AT
        ).number,
        "tablet": Tablet.objects.create(shop=shop, key=uuid4(), name="bench tablet").pk,
    }  # fmt: skip


def _held(night: Night, operation: Operation) -> Held:
    check = Check.objects.create(
        shop=night.shop, night=night, operation=operation, kind=Check.Kind.NTH, is_good=False,
        words="bent", checked_by="Ada",
    )  # fmt: skip
    item = operation.recipe.output
    return Held.objects.create(shop=night.shop, failed=check, item=item, suspected=1, held=1)


def _reading(shop: Shop, place: Place) -> Reading:
    straw = factories.make_item(shop, kind=Item.Kind.FILL, home=place)
    return take_reading(shop=shop, item=straw, place=place, temperature=Decimal(90), by=None, at=AT)


@dataclass
class Reach:
    """Somebody of one shop, with one row of each kind there and in another shop."""

    client: Client
    shop: Shop
    own: Rows
    other: Rows


@pytest.fixture(scope="module")
def reach(django_db_setup: None, django_db_blocker: Any) -> Iterator[Reach]:
    """Carla coordinates the one shop; made once for the file, and put back after each test."""
    with matrix(django_db_blocker) as made:
        client = Client()
        client.force_login(factories.make_member(made.shop, "carla", Membership.Role.COORDINATOR))
        own, other = rows_of(made.shop, OWN_DAY), rows_of(made.other, OTHER_DAY)
        yield Reach(client, made.shop, own, other)


@pytest.mark.django_db
@pytest.mark.parametrize(("name", "argument"), ASKED, ids=lambda each: str(each))
def test_a_row_of_another_shop_is_not_found(name: str, argument: str, reach: Reach) -> None:
    kinds = kinds_of(name)
    values = {
        each: (reach.other if argument in (each, "everything") else reach.own)[kinds[each]]
        for each in arguments_of(name)
    }
    url = reverse(name, kwargs={"shop": reach.shop.slug, **values})
    get, post = reach.client.get(url), reach.client.post(url, {"reason": "x"})
    assert {get.status_code, post.status_code} in ({404}, {404, 405})


def arguments_of(name: str) -> set[str]:
    """What stands in the address beside the shop."""
    return next(set(each.arguments) for each in every_address() if each.name == name) - {"shop"}
