"""Choosing labels: asked for by what, printed as a job, leading to this site."""

from __future__ import annotations

import pytest
from django.test import Client

from inventory.places.models import Shop
from tests.workshops.paper.reading import pages_of
from workshops.common.models import Job
from workshops.paper.models import Paper


@pytest.fixture
def keeper(storekeeper, client_of) -> Client:
    return client_of(storekeeper)


@pytest.fixture
def shelf(shop: Shop):
    return shop.place_set.create(name="Long shelf")


def ask(keeper: Client, **fields: object):
    usual = {"what": "places", "size": "bin", "start": 1}
    return keeper.post("/teal-point/paper/labels/", usual | fields)


def test_the_labels_are_made_as_a_job_and_found_under_paper(
    keeper, shelf, shop, django_capture_on_commit_callbacks
) -> None:
    with django_capture_on_commit_callbacks(execute=True):
        answer = ask(keeper)
    assert answer.status_code == 302
    paper = Paper.objects.get(shop=shop)
    assert "Longshelf" in pages_of(paper.file.read())[0]
    job = Job.objects.get()
    assert job.arguments["site"] == "http://testserver/"
    assert job.result["says"] == "1 labels are ready to print."


@pytest.mark.parametrize(
    ("fields", "says"),
    [
        ({"what": "place"}, "Choose the place"),
        ({"what": "some"}, "Tick the items"),
        ({"start": 11}, "A sheet holds 10 labels"),
        ({"start": 0}, "greater than or equal to 1"),
        ({"size": "moon"}, "not one of the available choices"),
    ],
)
def test_what_cannot_be_printed_is_refused_with_a_sentence(keeper, shelf, fields, says) -> None:
    answer = ask(keeper, **fields)
    assert answer.status_code == 422
    assert says in answer.content.decode()


def test_a_place_proposes_its_own_labels(keeper, shelf) -> None:
    page = keeper.get(f"/teal-point/paper/labels/?what=place&place={shelf.pk}").content.decode()
    assert f'<option value="{shelf.pk}" selected>Long shelf' in page
    assert '<option value="place" selected>' in page


def test_an_address_of_this_computer_alone_is_warned_of(keeper, shelf) -> None:
    page = keeper.get("/teal-point/paper/labels/", headers={"host": "127.0.0.1:8000"})
    assert "which only this computer understands" in page.content.decode()
    page = keeper.get("/teal-point/paper/labels/").content.decode()
    assert "Does a phone in the shop reach that?" in page


def test_a_place_of_another_shop_is_no_choice(keeper, other_shop) -> None:
    other = other_shop.place_set.create(name="Elsewhere")
    assert ask(keeper, what="place", place=other.pk).status_code == 422
