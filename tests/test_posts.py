"""Every address posted to, by each role, in the own shop and from the other: nobody gets past.

The form is empty and the rows in the address are there, so that whoever may gets as far as the
form; ``tests/test_access.py`` asks for the pages.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager, nullcontext
from dataclasses import dataclass, field
from typing import Any

import pytest
from django.db import transaction
from django.template.backends.django import Template as DjangoTemplate
from django.urls import reverse

from inventory.places.models import Shop
from tests import factories
from tests.addresses import DECISIONS, SIGNED_IN, every_address
from tests.matrix import NOBODY, OUTSIDER, Matrix, matrix
from tests.test_other_shops import LISTS, NO_ROWS, OWN_DAY, Rows, kinds_of, rows_of
from tests.workshops.people.break_in.doors import KNOWS_NO_PEOPLE, posting
from workshops.access.models import Membership, User
from workshops.access.roles import permissions_of
from workshops.common.models import Job, Upload

pytestmark = pytest.mark.django_db

ADDRESSES = {address.name: address for address in every_address()}
OF_SHOP = sorted(name for name, address in ADDRESSES.items() if address.is_of_shop)
OF_NO_SHOP = sorted(set(ADDRESSES) - set(OF_SHOP))
KEYS = {"key": "sign_off_months", "form": "csv", "kind": "stock"}
TAKES_NONE = 405  # to nobody, whoever asks
# The page again, refused; done; a form that says what is wrong; not now, and why.
ANSWERED = (200, 204, 302, 422, 409)
# Whoever may finds nothing by an empty form, and why.
FINDS_NOTHING = {
    **dict.fromkeys(
        (
            "paper:cards",
            "paper:permit",
            "paper:count_sheets",
            "paper:cut_list",
            "paper:order",
            "paper:tally_sheet",
        ),
        "the form names what the paper is of",
    ),
    "flow:swap": "the form names the two who change places",
    "quality:further": "the form names what they went into",
    "trouble:phone": "nobody welded or handled straw that night",
    "season:picture": "no outlook was worked out",
    "stock:roll_left": "the item is no roll",
    "stock:other_stick": "the question says which pattern, and an empty one says none",
}


READING = posting() | {name for name in ADDRESSES if name.partition(":")[0] in KNOWS_NO_PEOPLE}


@contextmanager
def unrendered() -> Iterator[None]:
    """Pages without their words: what stands around the template is all that is run."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(DjangoTemplate, "render", lambda *given, **named: "")
        yield


@dataclass
class Posting(Matrix):
    """The matrix with one row of every kind in the shop, some of them one's own."""

    rows: Rows = field(default_factory=dict)
    own: dict[str, Rows] = field(default_factory=dict)

    def url(self, name: str, who: str) -> str:
        """The address with what is there in it."""
        arguments = set(ADDRESSES[name].arguments) - {"shop"}
        if name in NO_ROWS or not arguments:
            values = {each: KEYS[each] for each in arguments}
        else:
            rows = self.rows | self.own.get(who, {})
            values = {each: rows[kinds_of(name)[each]] for each in arguments}
        return reverse(name, kwargs={"shop": self.shop.slug, **values})

    def post(self, who: str, name: str) -> Any:
        """What the address answers to an empty form; what it wrote is taken back.

        A page that reads no form is rendered once: to the others it is the page of their GET.
        """
        is_same = who in self.members and who != Membership.Role.COORDINATOR
        is_bare = is_same and name not in READING
        with transaction.atomic(), unrendered() if is_bare else nullcontext():
            answer = self.browsers[who].post(self.url(name, who))
            transaction.set_rollback(True)
        return answer


@pytest.fixture(scope="module")
def site(django_db_setup: None, django_db_blocker: Any) -> Iterator[Posting]:
    """One browser for each role, with a list, a job and a line of the people's list of its own."""
    with matrix(django_db_blocker) as made:
        factories.make_member(made.shop, "carla", Membership.Role.COORDINATOR)
        own = {role: _own_rows(made.shop, role) for role in Membership.Role.values}
        yield Posting(made.shop, made.other, made.browsers, rows_of(made.shop, OWN_DAY), own)


def _own_rows(shop: Shop, role: str) -> Rows:
    user = User.objects.get(username=f"a-{role}")
    factories.make_person(shop, user=user)
    lists = {
        kind: Upload.objects.create(
            shop=shop, kind=kind, name="a.csv", data=LISTS[kind], by=user
        ).pk
        for kind in LISTS
    }
    job = Job.objects.create(shop=shop, kind="plan_night", state=Job.State.FAILED, asked_by=user)
    return {"upload": lists["stock"], "people_list": lists["people"], "job": job.pk}


@pytest.mark.parametrize("name", OF_SHOP)
def test_a_post_passes_for_the_roles_that_may_and_for_no_other(name: str, site: Posting) -> None:
    answers = {role: site.post(role, name).status_code for role in Membership.Role.values}
    if set(answers.values()) == {TAKES_NONE}:
        return
    passes = (404,) if name in FINDS_NOTHING else ANSWERED
    for role, status in answers.items():
        if DECISIONS[name] in permissions_of(role):
            assert status in passes, f"{role} may, and got {status}"
        else:
            assert status == 403, f"{role} may not, and got {status}"


@pytest.mark.parametrize("name", OF_SHOP)
def test_a_post_from_outside_finds_nothing_or_the_sign_in_page(name: str, site: Posting) -> None:
    stranger, nobody = site.post(OUTSIDER, name), site.post(NOBODY, name)
    if stranger.status_code == nobody.status_code == TAKES_NONE:
        return
    assert stranger.status_code == 404
    assert nobody.status_code == 302
    assert nobody["Location"].startswith("/sign-in/")


def test_no_address_that_reads_a_form_says_that_it_takes_none(site: Posting) -> None:
    """An address that answered so to everybody would pass the two tests above."""
    silent = {name for name in OF_SHOP if site.post(NOBODY, name).status_code == TAKES_NONE}
    assert not silent & posting()


@pytest.mark.parametrize("name", OF_NO_SHOP)
def test_a_post_to_a_page_of_no_shop_breaks_nothing(name: str, site: Posting) -> None:
    answer = site.browsers[NOBODY].post(ADDRESSES[name].url(site.shop.slug))
    if DECISIONS[name] == SIGNED_IN and answer.status_code != TAKES_NONE:
        assert answer["Location"].startswith("/sign-in/")
    assert answer.status_code in (*ANSWERED, 404, TAKES_NONE)
