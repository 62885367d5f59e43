"""The page of one job, its fragment, and running it again."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from django.test import Client

from inventory.places.models import Shop
from workshops.access.models import User
from workshops.common.models import Job
from workshops.common.processes import this_process

ClientOf = Callable[[User], Client]


@pytest.fixture
def make(shop: Shop, coordinator: User) -> Callable[..., Job]:
    def job(**fields: Any) -> Job:
        usual = {"kind": "plan_night", "asked_by": coordinator, "process": this_process()}
        return Job.objects.create(shop=shop, **(usual | fields))

    return job


def address(job: Job, more: str = "") -> str:
    return f"/teal-point/jobs/{job.pk}/{more}"


def test_a_running_job_shows_how_far_it_is_and_asks_again(
    client_of: ClientOf, coordinator: User, make: Callable[..., Job]
) -> None:
    job = make(state="running", progress=40, message="placing people")
    page = client_of(coordinator).get(address(job)).content.decode()
    assert "40 % · placing people" in page
    assert 'hx-trigger="every 1s"' in page


def test_the_fragment_is_served_alone(
    client_of: ClientOf, coordinator: User, make: Callable[..., Job]
) -> None:
    answer = client_of(coordinator).get(
        address(make(state="running")), headers={"HX-Request": "true"}
    )
    assert answer.content.decode().lstrip().startswith("<section")


def test_a_finished_job_moves_the_page_on(
    client_of: ClientOf, coordinator: User, make: Callable[..., Job]
) -> None:
    job = make(state="done", result={"next": "/teal-point/nights/"})
    answer = client_of(coordinator).get(address(job), headers={"HX-Request": "true"})
    assert answer["HX-Redirect"] == "/teal-point/nights/"


def test_a_job_cut_off_by_a_restart_says_so_when_looked_at(
    client_of: ClientOf, coordinator: User, make: Callable[..., Job]
) -> None:
    host = this_process().split()[0]
    job = make(state="running", process=f"{host} 1 0")
    page = client_of(coordinator).get(address(job)).content.decode()
    assert "cut off by a restart" in page
    assert "Run it again" in page


def test_only_who_asked_can_run_it_again(
    client_of: ClientOf, duty_lead: User, make: Callable[..., Job]
) -> None:
    job = make(state="failed")
    assert "Run it again</button>" not in client_of(duty_lead).get(address(job)).content.decode()
    assert client_of(duty_lead).post(address(job, "again/")).status_code == 403


def test_running_it_again_queues_it_and_goes_to_its_page(
    client_of: ClientOf, coordinator: User, make: Callable[..., Job]
) -> None:
    job = make(state="failed")
    answer = client_of(coordinator).post(address(job, "again/"))
    assert answer["Location"] == address(job)
    job.refresh_from_db()
    assert job.state == "waiting"


def test_a_job_of_another_shop_is_not_there(
    client_of: ClientOf, stranger: User, make: Callable[..., Job]
) -> None:
    job = make(state="done")
    assert client_of(stranger).get(f"/mallow-creek/jobs/{job.pk}/").status_code == 404


def test_the_list_says_what_to_do_when_nothing_ran(client_of: ClientOf, coordinator: User) -> None:
    page = client_of(coordinator).get("/teal-point/jobs/").content.decode()
    assert "Nothing has run yet" in page


def test_the_list_costs_the_same_for_one_job_and_for_many(
    client_of: ClientOf,
    coordinator: User,
    make: Callable[..., Job],
    django_assert_num_queries: Callable[..., Any],
) -> None:
    client = client_of(coordinator)
    for _ in range(2):
        make(state="done")
        with django_assert_num_queries(4):
            client.get("/teal-point/jobs/")
