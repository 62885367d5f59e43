"""Pages on a shared tablet or on the wall show a first name and an initial, and no last name."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from typing import Any

import pytest
from django.test import Client
from django.urls import reverse

from inventory.places.models import Shop
from tests.addresses import every_address
from tests.factories import make_minor, make_person, make_sign_up
from tests.workshops.nights.hot import open_permit
from tests.workshops.nights.scene import Scene, bring_material, make_scene
from workshops.access.models import User
from workshops.common.pdf import Pdf
from workshops.nights import actions as nights
from workshops.nights.models import Group, Placing
from workshops.paper import printing
from workshops.paper.actions import cards_pdf

# Slices whose pages lie open on a tablet in the shop, or hang on its wall.
ON_TABLETS = ("home", "nights", "tonight", "counting", "flow", "hotwork", "quality", "trouble",
              "paper", "stock")  # fmt: skip
# More letters than it takes to tell two of one first name apart.
LAST_NAME = re.compile(r"\w+zqx")
# Pages that show last names all the same, and why.
SHOWS_NAMES = {
    "nights:permit": "a permit names who keeps the watch in full, as its paper does",
    "nights:roll": "whole names to be typed at the door and found without network, not in sight",
    "nights:contacts": "behind a press that is written down: whom to call, for the fire service",
}


@pytest.fixture
def tonight(shop: Shop, clock: Any) -> Scene:
    """Everybody has a last name that stands nowhere else; a plan, a roll, a permit, a minor."""
    scene = make_scene(shop)
    bring_material(scene)
    mina = scene.people["Mina"] = make_minor(shop, scene.people["Ada"])
    scene.people["Twin"] = make_person(shop, first_name="Ada")
    for name, person in scene.people.items():
        person.last_name = f"{'P' if name == 'Twin' else 'Q'}{name}zqx"
        person.save()
    make_sign_up(scene.night, mina)
    for name in ("Ada", "Bo", "Cy", "Mina"):
        nights.sign_in(night=scene.night, person=scene.people[name], at=scene.at("18:05"))
    nights.plan_night(night=scene.night, by=None, seconds=0.5)
    open_permit(scene.night, scene.people["Cy"], scene.at("18:20"))
    return scene


def addresses(scene: Scene) -> list[tuple[str, str]]:
    """Every page of those slices that needs no row, and those of the night's own rows."""
    shop, placing = scene.shop, Placing.objects.all()[0]
    group = Group.objects.create(shop=shop, night=scene.night, name="Troop 41")
    group.leaders.add(scene.people["Ada"])
    group.members.add(scene.people["Mina"])
    rows = {
        "on": scene.night.date, "block": placing.block_id, "person": placing.person_id,
        "station": placing.station_id, "operation": scene.operations["drill"].pk,
    }  # fmt: skip
    found = []
    for address in every_address():
        wanted = set(address.arguments) - {"shop"}
        own = rows | ({"pk": group.pk} if address.name == "nights:group" else {})
        if address.is_of_shop and address.name.split(":")[0] in ON_TABLETS and wanted <= set(own):
            kwargs = {name: own[name] for name in wanted}
            found.append((address.name, reverse(address.name, kwargs=kwargs | {"shop": shop.slug})))
    return found


def test_no_page_on_a_tablet_shows_a_last_name(
    tonight: Scene, duty_lead: User, client_of: Callable[[User], Client]
) -> None:
    client, leaking, seen = client_of(duty_lead), {}, 0
    for name, url in addresses(tonight):
        answer = client.get(url)
        page = answer.content.decode() if answer.status_code == 200 else ""
        seen += "Ada Q" in page
        if names := set(LAST_NAME.findall(page)):
            leaking[name] = names
    assert set(leaking) <= set(SHOWS_NAMES), leaking
    assert seen >= 5, "hardly a page showed anybody"


def test_no_card_for_the_wall_shows_a_last_name(tonight: Scene, monkeypatch: Any) -> None:
    printed: list[str] = []

    def keep(sheets: list[Iterator[str]], **rest: Any) -> Pdf:
        printed.extend(html for ways in sheets for html in ways)
        return Pdf(b"%PDF", len(printed))

    monkeypatch.setattr(printing, "pdf_of_sheets", keep)
    cards_pdf(tonight.night, at=tonight.at("17:30"))
    text = "".join(printed)
    assert "Ada Q" in text
    assert not LAST_NAME.findall(text)
