"""The page of the papers: what can be printed, what was made, and who may fetch it."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from django.test import Client
from django.urls import reverse

from inventory.cutting.actions import make_cut_list
from inventory.cutting.models import CutListRun
from inventory.measures.lengths import feet
from inventory.places.models import Shop
from tests.conftest import NOW
from tests.factories import make_item, make_night
from tests.workshops.nights.scene import Scene
from workshops.access.models import User
from workshops.common.models import Job
from workshops.nights.models import Night
from workshops.paper import actions
from workshops.paper.models import Paper


def at(shop: Shop, page: str, *args: int) -> str:
    return reverse(f"paper:{page}", args=[shop.slug, *args])


def read(client: Client, shop: Shop) -> str:
    return client.get(at(shop, "list")).content.decode()


@pytest.fixture
def on_commit(django_capture_on_commit_callbacks: Callable) -> Callable:
    return lambda: django_capture_on_commit_callbacks(execute=True)


def test_a_shop_without_nights_is_sent_to_the_nights(printer: Client, shop: Shop, clock) -> None:
    assert "No night is planned" in read(printer, shop)


def test_before_anybody_is_placed_the_page_says_to_place_first(
    printer: Client, scene: Scene
) -> None:
    page = read(printer, scene.shop)
    assert "Nobody is placed yet" in page
    assert "Make the station cards" not in page


def test_making_cards_is_a_job_that_ends_with_a_paper(
    printer: Client, night: Night, on_commit: Callable
) -> None:
    with on_commit():
        answer = printer.post(at(night.shop, "cards"), {"night": night.pk})
    job, paper = Job.objects.get(kind="make_cards"), Paper.objects.get()
    assert answer.url == reverse("common:job", args=[night.shop.slug, job.pk])
    assert (job.state, job.result["paper"]) == (Job.State.DONE, paper.pk)
    assert f"{paper.pages} pages" in read(printer, night.shop)


def test_the_cut_list_printed_is_the_latest_of_the_night(
    printer: Client, run: CutListRun, on_commit: Callable
) -> None:
    night = Night.objects.get(shop=run.shop)
    assert run.item.name in read(printer, run.shop)
    with on_commit():
        printer.post(at(run.shop, "cut_list"), {"night": night.pk})
    assert Paper.objects.get().kind == Paper.Kind.CUT_LIST


def test_an_outlook_that_was_never_worked_out_says_where_to_do_it(
    printer: Client, scene: Scene, on_commit: Callable
) -> None:
    with on_commit():
        printer.post(at(scene.shop, "outlook"))
    job = Job.objects.get(kind="print_outlook")
    assert job.state == Job.State.FAILED
    assert "Work it out under Winter" in job.message


@pytest.mark.parametrize("asked", ["", "x", "999999"])
def test_a_night_that_is_not_there_is_not_found(printer: Client, scene: Scene, asked: str) -> None:
    for page in ("cards", "cut_list"):
        assert printer.post(at(scene.shop, page), {"night": asked}).status_code == 404


def test_a_night_of_another_shop_is_not_found(
    printer: Client, scene: Scene, other_shop: Shop
) -> None:
    night = make_night(other_shop)
    for page in ("cards", "cut_list"):
        assert printer.post(at(scene.shop, page), {"night": night.pk}).status_code == 404


def test_a_paper_is_fetched_as_pdf(printer: Client, night: Night) -> None:
    paper = actions.make_cards(night=night, at=NOW)
    answer = printer.get(at(night.shop, "file", paper.pk))
    assert answer["Content-Type"] == "application/pdf"
    assert b"".join(answer.streaming_content).startswith(b"%PDF")


def test_a_stranger_never_gets_a_paper_through_a_shop_of_their_own(
    stranger: User, client_of: Callable[[User], Client], night: Night, other_shop: Shop
) -> None:
    paper = actions.make_cards(night=night, at=NOW)
    client = client_of(stranger)
    assert client.get(at(other_shop, "file", paper.pk)).status_code == 404
    assert client.get(at(night.shop, "file", paper.pk)).status_code == 404


def test_the_list_takes_as_many_queries_for_twenty_papers_as_for_one(
    printer: Client, night: Night, django_assert_max_num_queries: Callable
) -> None:
    for _ in range(20):
        Paper.objects.create(shop=night.shop, night=night, kind=Paper.Kind.CARDS, file="a.pdf")
    with django_assert_max_num_queries(12):
        read(printer, night.shop)


def test_chosen_cut_lists_stand_on_one_paper(
    printer: Client, run: CutListRun, on_commit: Callable
) -> None:
    rod = make_item(run.shop, name="Round rod", kind="metal")
    other = make_cut_list(shop=run.shop, item=rod, pieces=[("Hook", feet(1), 2)], by=None)
    with on_commit():
        printer.post(at(run.shop, "cut_list"), {"list": [run.pk, other.pk]})
    assert Paper.objects.get().kind == Paper.Kind.CUT_LIST


def test_lists_of_another_shop_are_left_out(
    printer: Client, run: CutListRun, other_shop: Shop, on_commit: Callable
) -> None:
    rod = make_item(other_shop, kind="metal")
    theirs = make_cut_list(shop=other_shop, item=rod, pieces=[("Hook", feet(1), 2)], by=None)
    with on_commit():
        printer.post(at(run.shop, "cut_list"), {"list": [theirs.pk]})
    assert not Paper.objects.exists()
    assert Job.objects.get(kind="print_cut_list").state == Job.State.FAILED
