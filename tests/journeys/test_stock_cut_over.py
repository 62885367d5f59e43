"""The drawing changes mid-batch, from the new revision to the last old part used up."""

from __future__ import annotations

from uuid import uuid4

import pytest
from django.test import Client

from inventory.ledger.actions import make
from inventory.ledger.queries import check, on_hand_of
from inventory.materials.models import Item
from tests.inventory.winter import AT
from tests.workshops.stock.cut_over.scene import Shift, make_shift
from workshops.stations.models import BuildSheet
from workshops.stock.cut_over.queries import use_first_by_recipe

pytestmark = pytest.mark.django_db

SHOP = "/teal-point"


@pytest.fixture
def shift(shop, clock) -> Shift:
    """Twelve posts, seven heads, two more on hold, three cut blanks, and bars for new heads."""
    shift = make_shift(shop)
    for name, count in (("post", 12), ("head", 7), ("post-cut", 3), ("bar", 20)):
        shift.lay(name, count)
    shift.lay("head", 2, held=2)
    return shift


@pytest.fixture
def browser(shift, coordinator, client_of) -> Client:
    return client_of(coordinator)


def revised(browser: Client, shift: Shift) -> BuildSheet:
    """Through the pages: a new revision, both parts in other tube, in force."""
    browser.post(f"{SHOP}/build-sheets/{shift.sheet.pk}/revise/")
    draft = BuildSheet.objects.get(revision="B")
    for name, part in shift.parts.items():
        type(part).objects.filter(pk=part.pk).update(stock=shift.tubes[name])
    page = browser.post(f"{SHOP}/build-sheets/{draft.pk}/in-force/", follow=True)
    assert "Decide below what becomes of the parts" in page.content.decode()
    assert f"{SHOP}/stock/drawing-changes/{draft.pk}/" in page.content.decode()
    return draft


def filled(browser: Client, url: str, fates: dict[str, tuple[int, int, int]]) -> dict[str, object]:
    """The form of the page with (use up, rework, scrap) by item; what is on hold is scrapped."""
    given: dict[str, object] = {"key": str(uuid4())}
    for spot in browser.get(url).context["form"].lying:
        numbers = (0, 0, spot.quantity) if spot.is_held else fates[spot.item.slug]
        named = zip(("use_up", "rework", "scrap"), numbers, strict=True)
        given |= {f"{name}-{spot.key}": number for name, number in named}
        given |= {f"seen-{spot.key}": spot.quantity, f"reason-{spot.key}": "tube of rev A"}
    return given


def there(item: Item) -> tuple[int, int]:
    found = on_hand_of(item)
    return int(found.good), int(found.hold)


def test_the_drawing_changes_mid_batch_and_no_post_is_left_without_its_head(shift, browser) -> None:
    sheet = revised(browser, shift)
    url = f"{SHOP}/stock/drawing-changes/{sheet.pk}/"
    page = browser.get(url).content.decode()
    assert "keep equal numbers together" in page
    wrong = filled(browser, url, {"post": (12, 0, 0), "head": (7, 0, 0), "post-cut": (0, 0, 3)})
    refused = browser.post(f"{url}decide/", wrong).content.decode()
    assert "5 of them have none that matches" in refused
    right = filled(browser, url, {"post": (7, 5, 0), "head": (7, 0, 0), "post-cut": (0, 3, 0)})
    for _ in range(2):  # the tablet sends it twice
        page = browser.post(f"{url}decide/", right, follow=True).content.decode()
    assert "Decided on" in page
    stock = {name: there(shift.items[name]) for name in ("post", "head", "post-cut")}
    assert stock == {"post": (7, 5), "head": (7, 0), "post-cut": (0, 3)}
    assert check(shift.shop) == ()


def test_old_ones_are_told_first_until_the_last_is_used(shift, browser) -> None:
    url = f"{SHOP}/stock/drawing-changes/{revised(browser, shift).pk}/"
    fates = {"post": (7, 5, 0), "head": (7, 0, 0), "post-cut": (0, 3, 0)}
    browser.post(f"{url}decide/", filled(browser, url, fates))
    item = f"{SHOP}/stock/items/post/"
    assert "Use up first: 7 Post by rev A" in browser.get(item).content.decode()
    assert "NC-1 rev B" in browser.get(item).content.decode()
    recipe = shift.items["set"].recipes.get()
    make(shop=shift.shop, recipe=recipe, good=7, by=None, at=AT)
    assert "Use up first" not in browser.get(item).content.decode()
    assert use_first_by_recipe(shift.shop) == {}
    assert "rework to NC-1 rev B" in browser.get(item).content.decode()
