"""Erasing a person: what means them is gone from every table, what safety needs stays."""

from __future__ import annotations

import json
import re
from datetime import date, timedelta
from typing import Any

import pytest
from auditlog.models import LogEntry
from django.apps import apps
from django.conf import settings
from django.db import connection, models

from inventory.places.models import Shop
from tests.factories import (
    TODAY,
    make_bar,
    make_member,
    make_minor,
    make_night,
    make_person,
    make_sign_off,
    make_sign_up,
    make_station,
    make_waiver,
)
from workshops.access.models import Membership, User
from workshops.common.models import Job, Upload
from workshops.mine.models import Feed, Link
from workshops.nights.models import HandOver, HotWorkPermit, Placing, PlacingRun, RollLine, SignUp
from workshops.people.actions import edit_person, look_at
from workshops.people.erase import erase, preview_erase, stops_to_erase
from workshops.people.gate import may
from workshops.people.looking import EVERYTHING
from workshops.people.merging import merge
from workshops.people.models import Erasure, Guardianship, Look, Person, Use
from workshops.people.moving import relations
from workshops.people.refusals import EraseRefused, PeopleRefused
from workshops.people.remains import RELATIONS, TEXTS
from workshops.people.sweeping import way_to_shop
from workshops.people.telling import SECTIONS, everything_of
from workshops.stations.models import Level, Station

pytestmark = pytest.mark.usefixtures("clock")

NAMED_LIKE_SOMEBODY = re.compile(r"(^|_)(by|name|names|email|phone|contact|who|counter|author)$")
WORDS = ("Ottilie Brandt", "ottilie@example.org", "555 0142 77", "Uncle Fenn 555 0188 11")


@pytest.fixture
def weld(shop: Shop) -> Station:
    return make_station(shop, name="Weld", level_needed=Level.ALONE)


@pytest.fixture
def ottilie(shop: Shop) -> Person:
    person = make_person(
        shop, first_name="Ottilie", last_name="Brandt", email=WORDS[1], phone=WORDS[2],
        emergency_contact=WORDS[3], born_on=date(1980, 2, 3), no_dust=True, note="likes tea",
    )  # fmt: skip
    make_person(shop, first_name="Ott", last_name="Brand")
    return person


def gone(person: Person, by: User | None = None) -> Person:
    erase(person=person, by=by)
    return Person.objects.get(pk=person.pk)


def columns_with(words: tuple[str, ...]) -> set[str]:
    """Every table and column of the database in which one of the words stands, as it lies there."""
    kinds = (models.CharField, models.TextField, models.JSONField)
    return {
        f"{model._meta.label}.{field.name}"
        for model in apps.get_models(include_auto_created=True)
        for field in model._meta.concrete_fields
        if isinstance(field, kinds) and _stands_in(model._meta.db_table, field.column, words)
    }


def _stands_in(table: str, column: str, words: tuple[str, ...]) -> bool:
    name = connection.ops.quote_name
    with connection.cursor() as cursor:
        cursor.execute(f"SELECT CAST({name(column)} AS TEXT) FROM {name(table)}")
        text = "\n".join(str(row[0]) for row in cursor.fetchall()).casefold()
    return any(word.casefold() in text for word in words)


def test_a_decision_is_recorded_for_every_relation_to_a_person(db: None):
    assert {name for name, _ in relations()} <= set(RELATIONS)


def test_a_decision_is_recorded_for_every_text_named_like_somebody():
    named = {
        f"{model._meta.label}.{field.name}"
        for model in apps.get_models() if model.__module__.startswith(("inventory", "workshops"))
        for field in model._meta.concrete_fields
        if isinstance(field, models.CharField | models.TextField) and not field.choices
        and not isinstance(field, models.SlugField) and NAMED_LIKE_SOMEBODY.search(field.name)
    }  # fmt: skip
    assert named - set(TEXTS) == set()


def test_every_table_of_the_house_with_a_shop_is_swept():
    ours = [
        each for each in apps.get_models() if each.__module__.startswith(("inventory", "workshops"))
    ]
    # Of no shop: a club's address is its own, an account and a link are closed by themselves.
    left_out = {"places.Shop", "access.User", "mine.Link"}
    assert {each._meta.label for each in ours if not way_to_shop(each)} == left_out


@pytest.fixture
def told_everywhere(ottilie: Person, shop: Shop, weld: Station, coordinator: User) -> Person:
    """Somebody who left her name in every kind of table."""
    ottilie.user = make_member(shop, "ottilie", Membership.Role.VOLUNTEER)
    User.objects.filter(pk=ottilie.user.pk).update(last_name="Brandt", email=ottilie.email)
    ottilie.last_name = "Brandtner"
    ottilie.save()
    edit_person(person=ottilie, fields={"last_name": "Brandt"}, by=coordinator)
    make_waiver(ottilie)
    make_sign_off(ottilie, weld)
    past = make_night(shop, date=TODAY - timedelta(days=7))
    SignUp.objects.create(night=past, person=ottilie, guest_names="Ottilie Brandt's son", note="x")
    RollLine.objects.create(night=past, person=ottilie, in_at=_at(past), out_at=_at(past))
    HandOver.objects.create(night=past, words="Ask Ottilie Brandt.", written_by="Ottilie Brandt")
    Use.objects.create(shop=shop, person=ottilie, station=weld, day=past.date, minutes=60)
    Feed.objects.create(shop=shop, person=ottilie)
    Link.objects.create(email=ottilie.email)
    Job.objects.create(shop=shop, kind="x", result={"losses": [{"name": "Ottilie Brandt"}]})
    Upload.objects.create(shop=shop, kind="people", name="list.csv", by=coordinator,
                          data=b"First name,Last name\nOttilie,Brandt\n")  # fmt: skip
    look_at([ottilie], what=EVERYTHING, page="x", by=coordinator)
    return ottilie


def _at(night: Any) -> Any:
    return night.date.strftime("%Y-%m-%dT20:00:00Z")


def test_the_name_the_address_and_the_phone_stand_in_no_column(told_everywhere, coordinator):
    assert len(columns_with((*WORDS, "Brandtner"))) > 8
    gone(told_everywhere, coordinator)
    assert columns_with((*WORDS, "Brandtner")) == set()
    assert not Upload.objects.exists()
    assert not Link.objects.exists()


def test_what_safety_and_match_need_stays_under_the_number(told_everywhere, weld):
    person = gone(told_everywhere)
    assert str(person) == f"Erased person {person.pk}"
    assert person.sign_offs.get().station == weld
    assert person.waivers.count() == person.uses.count() == RollLine.objects.count() == 1
    assert Look.objects.get().person == person
    assert not Feed.objects.exists()


def test_the_person_keeps_no_limit_no_birthday_and_no_account(told_everywhere):
    account = told_everywhere.user
    person = gone(told_everywhere)
    kept = (person.born_on, person.no_dust, person.user, person.is_active, person.note)
    assert kept == (None, False, None, False, "")
    assert person.is_adult_declared
    account.refresh_from_db()
    assert (account.get_full_name(), account.is_active) == (str(person), False)
    assert not account.memberships.exists()


def test_the_erase_is_logged_by_number_and_not_by_name(ottilie, coordinator):
    person = gone(ottilie, coordinator)
    row = Erasure.objects.get()
    assert (row.person, row.erased_by, row.user) == (person, "Carla", coordinator)
    assert "Ottilie" not in str(row)


def test_whoever_was_a_child_when_last_here_stays_one(shop):
    minor = make_person(shop, first_name="Wren", last_name="Alder", born_on=date(2008, 1, 10))
    night = make_night(shop, date=date(2025, 12, 3))
    RollLine.objects.create(night=night, person=minor, in_at=_at(night), out_at=_at(night))
    assert minor.is_adult_on(TODAY, 18)
    assert not gone(minor).is_adult_declared


def test_entries_joined_with_it_are_erased_too(ottilie, shop, weld):
    other = make_person(shop, first_name="Otti", last_name="Brandt-Moor", phone="555 0999 31")
    make_sign_off(other, weld)
    merge(kept=ottilie, gone=other, by=None)
    gone(Person.objects.get(pk=ottilie.pk))
    other.refresh_from_db()
    assert str(other) == f"Erased person {other.pk}"
    # Under the seal a copy goes on telling where it came from: the page says so.
    assert columns_with((*WORDS, "Brandt-Moor", "555 0999 31")) == {"people.SignOff.evidence"}


def test_the_preview_tells_what_a_seal_keeps_and_changes_nothing(ottilie, weld):
    make_sign_off(ottilie, weld, evidence="Ottilie Brandt welded a sample")
    done = preview_erase(ottilie, by=None)
    assert done.sealed == {"sign offs (People)": 1}
    assert Person.objects.get(pk=ottilie.pk).email == WORDS[1]


def test_an_address_shared_with_a_child_stays_the_childs(ottilie, shop):
    child = make_person(shop, first_name="Ike", last_name="Brandt", email=ottilie.email)
    Link.objects.create(email=ottilie.email)
    gone(ottilie)
    assert Person.objects.get(pk=child.pk).email == WORDS[1]
    assert Link.objects.count() == 1


def test_the_name_of_a_namesake_is_left_alone(ottilie, shop):
    make_person(shop, first_name="Ottilie", last_name="Brandt")
    job = Job.objects.create(shop=shop, kind="x", result={"says": "Ottilie Brandt is here"})
    gone(ottilie)
    job.refresh_from_db()
    assert job.result["says"] == "Ottilie Brandt is here"


def test_a_fire_permit_keeps_its_signatures(ottilie, shop):
    night = make_night(shop, date=TODAY - timedelta(days=7))
    HotWorkPermit.objects.create(
        night=night, watcher=ottilie, watch_minutes=60, opened_by="Arno", last_spark_at=_at(night),
        watch_ended_at=_at(night), watch_signed_by="Ottilie Brandt",
    )  # fmt: skip
    gone(ottilie)
    assert columns_with(WORDS) == {"nights.HotWorkPermit.watch_signed_by"}


def test_a_plan_knows_the_number_and_neither_name_nor_limits(ottilie, shop, weld):
    night = make_night(shop, date=TODAY - timedelta(days=7))
    told = {"id": str(ottilie.pk), "name": "Ottilie", "age": 45, "no_dust": True}
    other = {"id": "0", "name": "Ottilie C.", "age": None}
    run = PlacingRun.objects.create(
        shop=shop, night=night, version="1", status="found", seconds=1,
        problem={"people": [told, other], "club": {"adult_age": 18}},
        result={"why": ["Ottilie beside Ottilie C."]},
    )  # fmt: skip
    Placing.objects.create(night=night, block=night.blocks.first(), person=ottilie, station=weld,
                           run=run, why="Ottilie may.")  # fmt: skip
    name = str(gone(ottilie))
    run.refresh_from_db()
    kept = run.problem["people"][0]
    assert (kept["name"], kept["age"], kept["no_dust"]) == (name, None, False)
    assert run.result["why"] == [f"{name} beside Ottilie C."]
    assert Placing.objects.get().why == f"{name} may."


def test_the_trail_keeps_that_something_was_changed_and_by_whom(told_everywhere, coordinator):
    person = gone(told_everywhere)
    rows = LogEntry.objects.filter(object_pk=str(person.pk), content_type__model="person")
    assert {row.object_repr for row in rows} == {str(person)}
    assert not LogEntry.objects.filter(actor_email=WORDS[1]).exists()


def sentences(person: Person, at: Any, by: User | None = None) -> str:
    return " ".join(stops_to_erase(person, by=by, at=at))


def test_nobody_in_the_building_is_erased(ottilie, shop, clock):
    night = make_night(shop)
    RollLine.objects.create(night=night, person=ottilie, in_at=_at(night))
    with pytest.raises(EraseRefused, match="sign them out first"):
        erase(person=ottilie, by=None)


def test_nobody_placed_tonight_is_erased(ottilie, shop, weld):
    night = make_night(shop)
    Placing.objects.create(night=night, block=night.blocks.first(), person=ottilie, station=weld)
    with pytest.raises(EraseRefused, match="placed tonight"):
        erase(person=ottilie, by=None)


def test_nobody_on_a_watch_is_erased(ottilie, shop):
    HotWorkPermit.objects.create(
        night=make_night(shop), watcher=ottilie, watch_minutes=60, opened_by="Arno"
    )
    with pytest.raises(EraseRefused, match="have its end signed first"):
        erase(person=ottilie, by=None)


def test_the_only_authoriser_of_a_station_is_not_erased(ottilie, shop, weld):
    make_waiver(ottilie)
    make_sign_off(ottilie, weld, level=Level.MAY_SIGN)
    with pytest.raises(EraseRefused, match="make somebody else an authoriser there first"):
        erase(person=ottilie, by=None)
    other = make_person(shop)
    make_waiver(other)
    make_sign_off(other, weld, level=Level.MAY_SIGN)
    assert gone(ottilie).sign_offs.count() == 1


def test_nobody_erases_themselves_and_the_last_coordinator_stays(ottilie, coordinator):
    Person.objects.filter(pk=ottilie.pk).update(user=coordinator)
    with pytest.raises(EraseRefused, match="ask another coordinator"):
        erase(person=ottilie, by=coordinator)
    with pytest.raises(EraseRefused, match="only coordinator"):
        erase(person=ottilie, by=None)
    assert Person.objects.get(pk=ottilie.pk).email == WORDS[1]


def test_whoever_is_called_for_somebody_or_answers_for_a_child_is_not_erased(ottilie, shop):
    make_person(shop, first_name="Ike", emergency_contact="Ottilie Brandt, mother")
    make_minor(shop, guardian=ottilie, first_name="Mina", last_name="Brandt")
    with pytest.raises(EraseRefused) as refused:
        erase(person=ottilie, by=None)
    assert "Ike" in refused.value.sentences[0]
    assert "name another guardian first" in refused.value.sentences[1]
    Guardianship.objects.all().delete()


def test_an_erased_entry_is_neither_changed_joined_nor_erased_again(ottilie, shop, weld):
    person = gone(ottilie)
    with pytest.raises(PeopleRefused, match="was erased"):
        edit_person(person=person, fields={"is_active": True}, by=None)
    with pytest.raises(PeopleRefused, match="was erased"):
        merge(kept=make_person(shop), gone=person, by=None)
    with pytest.raises(EraseRefused, match="erased before"):
        erase(person=person, by=None)
    assert may(person, weld, TODAY).stopped_by("on_the_list")


def test_nights_to_come_go_on_without_them(ottilie, shop, weld):
    later = make_night(shop, date=TODAY + timedelta(days=7))
    make_sign_up(later, ottilie)
    Placing.objects.create(night=later, block=later.blocks.first(), person=ottilie, station=weld)
    gone(ottilie)
    assert not SignUp.objects.exists()
    assert not Placing.objects.exists()


def test_another_shops_texts_are_not_looked_at(ottilie, other_shop):
    job = Job.objects.create(shop=other_shop, kind="x", message="Ottilie Brandt")
    gone(ottilie)
    job.refresh_from_db()
    assert job.message == "Ottilie Brandt"


def test_letters_that_json_writes_as_numbers_are_found(shop):
    person = make_person(shop, first_name="Jörg", last_name="Möwe")
    job = Job.objects.create(shop=shop, kind="x", result={"says": "Jörg Möwe"})
    gone(person)
    job.refresh_from_db()
    assert job.result["says"] == f"Erased person {person.pk}"


def test_a_bar_goes_on_saying_why(ottilie, weld):
    make_bar(ottilie, weld, reason="left the guard off")
    assert gone(ottilie).bars.get().reason == "left the guard off"


def test_what_was_typed_and_waits_for_a_sign_in_is_dropped(ottilie, client, coordinator, shop):
    client.force_login(coordinator)
    session = client.session
    session["shared_typed"] = {"user": coordinator.pk, "path": f"/{shop.slug}/people/add/",
                               "fields": [["note", "as Ottilie Brandt told"]]}  # fmt: skip
    session.save()
    gone(ottilie)
    assert "shared_typed" not in client.session
    assert json.dumps(dict(client.session)).find("Brandt") == -1


def test_the_documents_name_every_section_of_the_file(ottilie):
    part = (settings.BASE_DIR / "DEVELOPERS.md").read_text().partition("## The file of a person")[2]
    named = set(re.findall(r"`([a-z_]+)`", part.partition("\n## ")[0]))
    assert {told.key for told in SECTIONS.values()} <= named
    fixed = {"person", "account", "second_looks", "looked_at", "changes", "links"}
    assert fixed <= named & {section.key for section in everything_of(ottilie)}
