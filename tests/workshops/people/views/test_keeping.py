"""Adding and changing people, walk-ins, waivers, guardians and accounts, through the pages."""

from __future__ import annotations

from datetime import date

from inventory.places.models import Shop
from tests.factories import TODAY, make_minor, make_person
from tests.workshops.people.views.conftest import ClientOf
from workshops.access.models import User
from workshops.people.models import Guardianship, Person

ADD, WALK_IN = "/teal-point/people/add/", "/teal-point/people/walk-in/"


def test_somebody_new_is_added(shop: Shop, coordinator: User, client_of: ClientOf):
    fields = {"first_name": "Ada", "last_name": "Lind", "joined_on": "2026-01-14"}
    answer = client_of(coordinator).post(ADD, fields | {"is_active": "on"})
    person = Person.objects.get()
    assert answer.url == f"/teal-point/people/{person.pk}/"
    assert (person.shop, person.changed_by) == (shop, coordinator)


def test_a_name_is_asked_for(coordinator: User, client_of: ClientOf):
    answer = client_of(coordinator).post(ADD, {"last_name": "Lind", "joined_on": "2026-01-14"})
    assert answer.status_code == 422
    assert not Person.objects.exists()


def test_a_person_is_changed(ada: Person, coordinator: User, client_of: ClientOf):
    page = f"/teal-point/people/{ada.pk}/edit/"
    fields = {"first_name": "Ada", "last_name": "Holm", "joined_on": "2025-10-01"}
    assert "Lind" in client_of(coordinator).get(page).content.decode()
    client_of(coordinator).post(page, fields | {"is_active": "on"})
    ada.refresh_from_db()
    assert (ada.last_name, ada.no_dust, ada.phone) == ("Holm", False, "")


def test_a_birthday_to_come_is_refused_beside_its_field(
    ada: Person, coordinator: User, client_of: ClientOf
):
    answer = client_of(coordinator).post(
        f"/teal-point/people/{ada.pk}/edit/",
        {"first_name": "Ada", "joined_on": "2025-10-01", "born_on": "2031-01-01"},
    )
    assert "still to come" in answer.content.decode()
    ada.refresh_from_db()
    assert ada.born_on is None


def test_a_walk_in_is_on_the_list_with_a_waiver_in_one_form(
    shop: Shop, duty_lead: User, client_of: ClientOf
):
    fields = {"first_name": "Wim", "is_adult_declared": "on", "waiver_version": "2026"}
    assert client_of(duty_lead).post(WALK_IN, fields).status_code == 302
    assert Person.objects.get().waivers.get().version == "2026"


def test_a_walk_in_tells_an_age(shop: Shop, duty_lead: User, client_of: ClientOf):
    answer = client_of(duty_lead).post(WALK_IN, {"first_name": "Wim"})
    assert "date of birth of a young person" in answer.content.decode()
    assert not Person.objects.exists()


def test_a_name_on_the_list_is_asked_about_before_it_is_added_again(
    shop: Shop, duty_lead: User, client_of: ClientOf
):
    make_person(shop, first_name="Jo", last_name="Berg")
    client, fields = client_of(duty_lead), {"first_name": "jo", "last_name": "Berg"}
    fields |= {"is_adult_declared": "on"}
    asked = client.post(WALK_IN, fields)
    assert "on the list already" in asked.content.decode()
    assert Person.objects.count() == 1
    client.post(WALK_IN, fields | {"is_another": "on"})
    assert Person.objects.count() == 2


def test_a_walk_in_stays_with_its_shop(stranger: User, client_of: ClientOf):
    fields = {"first_name": "Wim", "is_adult_declared": "on"}
    assert client_of(stranger).post(WALK_IN, fields).status_code == 404


def test_a_waiver_is_kept(ada: Person, duty_lead: User, client_of: ClientOf):
    page = f"/teal-point/people/{ada.pk}/waiver/"
    client_of(duty_lead).post(page, {"version": "2025", "on": "2026-01-02"})
    assert ada.waivers.get().valid_until == date(2027, 1, 1)
    refused = client_of(duty_lead).post(page, {"version": "2025", "on": "2026-02-02"})
    assert "still to come" in refused.content.decode()


def test_a_guardian_is_named(shop: Shop, coordinator: User, client_of: ClientOf):
    minor, parent = make_minor(shop), make_person(shop)
    client_of(coordinator).post(
        f"/teal-point/people/{minor.pk}/guardian/",
        {"guardian": parent.pk, "consent_on": "2026-01-14"},
    )
    row = Guardianship.objects.get()
    assert (row.guardian, row.consent_on, row.may_collect) == (parent, TODAY, False)


def test_a_guardian_of_another_shop_is_no_choice(
    shop: Shop, other_shop: Shop, coordinator: User, client_of: ClientOf
):
    minor, parent = make_minor(shop), make_person(other_shop)
    answer = client_of(coordinator).post(
        f"/teal-point/people/{minor.pk}/guardian/", {"guardian": parent.pk}
    )
    assert answer.status_code == 422
    assert not Guardianship.objects.exists()


def test_an_account_is_linked_and_taken_away(
    ada: Person, coordinator: User, volunteer: User, client_of: ClientOf
):
    page = f"/teal-point/people/{ada.pk}/account/"
    client_of(coordinator).post(page, {"user": volunteer.pk})
    ada.refresh_from_db()
    assert ada.user == volunteer
    client_of(coordinator).post(page, {"user": ""})
    ada.refresh_from_db()
    assert ada.user is None
