"""Who may sign in at a shop, and as what."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from django.test import Client

from inventory.places.models import Shop
from workshops.access.models import Membership, User

ClientOf = Callable[[User], Client]
PAGE = "/teal-point/members/"
NEW = {
    "username": "oda", "first_name": "Oda", "last_name": "Lind", "role": "storekeeper",
    "password": "sedge-and-larch-7",
}  # fmt: skip


@pytest.fixture
def client(client_of: ClientOf, coordinator: User) -> Client:
    return client_of(coordinator)


def role_of(user: User) -> str | None:
    member = Membership.objects.filter(user=user).first()
    return member.role if member else None


def test_the_page_lists_members_of_this_shop_only(
    client: Client, volunteer: User, stranger: User
) -> None:
    page = client.get(PAGE).content.decode()
    assert "signs in as vera" in page
    assert "stan" not in page


def test_somebody_new_is_added_with_a_role(client: Client, shop: Shop) -> None:
    answer = client.post(PAGE, NEW, follow=True)
    assert "may now sign in as storekeeper" in answer.content.decode()
    assert Membership.objects.get(user__username="oda").shop == shop


@pytest.mark.parametrize(
    ("changed", "says"),
    [
        ({"username": "Carla"}, "already signs in as “Carla”"),
        ({"username": "o da"}, "Enter a valid username"),
        ({"password": "12345678"}, "entirely numeric"),
        ({"role": "owl"}, "Select a valid choice"),
        ({"first_name": ""}, "This field is required"),
    ],
)
def test_what_cannot_be_used_is_told_at_its_field_and_nothing_is_kept(
    client: Client, changed: dict[str, str], says: str
) -> None:
    answer = client.post(PAGE, NEW | changed)
    assert answer.status_code == 422
    assert says in answer.content.decode()
    assert User.objects.count() == 1


def test_a_role_is_changed(client: Client, volunteer: User) -> None:
    member = Membership.objects.get(user=volunteer)
    answer = client.post(f"{PAGE}{member.pk}/", {"role": "duty_lead"}, follow=True)
    assert "vera is now duty lead." in answer.content.decode()
    assert role_of(volunteer) == "duty_lead"


def test_a_membership_is_taken_and_the_account_stays(client: Client, volunteer: User) -> None:
    member = Membership.objects.get(user=volunteer)
    client.post(f"{PAGE}{member.pk}/", {"role": ""})
    assert role_of(volunteer) is None
    assert User.objects.filter(pk=volunteer.pk).exists()


def test_the_last_coordinator_is_told_why_he_stays(client: Client, coordinator: User) -> None:
    member = Membership.objects.get(user=coordinator)
    answer = client.post(f"{PAGE}{member.pk}/", {"role": ""}, follow=True)
    assert "make somebody else coordinator first" in answer.content.decode()
    assert role_of(coordinator) == "coordinator"


def test_a_role_nobody_knows_is_refused(client: Client, volunteer: User) -> None:
    member = Membership.objects.get(user=volunteer)
    client.post(f"{PAGE}{member.pk}/", {"role": "owl"})
    assert role_of(volunteer) == "volunteer"


def test_a_member_of_another_shop_cannot_be_changed_from_here(
    client: Client, stranger: User
) -> None:
    member = Membership.objects.get(user=stranger)
    assert client.post(f"{PAGE}{member.pk}/", {"role": "reader"}).status_code == 404
    assert role_of(stranger) == "coordinator"
