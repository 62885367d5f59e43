"""A club's spreadsheet of people: what each row comes to, what is written, what never is."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from inventory.places.models import Shop
from tests.conftest import NOW
from tests.factories import TODAY, make_bar, make_person, make_sign_off, make_station, take_back
from workshops.access.models import User
from workshops.common.fates import Fate
from workshops.common.models import Upload
from workshops.common.sheets import write_csv
from workshops.common.uploads import keep_upload
from workshops.people.exchange.commit import (
    KIND,
    ListGone,
    Preview,
    answer_rows,
    commit,
    preview_of,
)
from workshops.people.exchange.outgoing import rows_out
from workshops.people.gate import may
from workshops.people.models import Person, SignOff, Waiver
from workshops.stations.models import Level, Station

pytestmark = pytest.mark.usefixtures("clock")


@pytest.fixture
def weld(shop: Shop) -> Station:
    return make_station(shop, name="Weld", level_needed=Level.ALONE)


@pytest.fixture
def bring(shop: Shop, coordinator: User, clock: Any) -> Any:
    """Keeps a file of those lines; gives the upload."""

    def brought(*lines: str) -> Upload:
        data, at = "\n".join(lines).encode(), NOW
        return keep_upload(
            shop=shop, kind=KIND, name="members.csv", data=data, by=coordinator, at=at
        )

    return brought


def write(upload: Upload, by: User) -> Preview:
    preview, is_written = commit(upload, seen=preview_of(upload).plan.print, by=by, at=NOW)
    assert is_written, [(row.what, row.fate, row.says) for row in preview.rows()]
    return preview


def fates(upload: Upload) -> list[Fate]:
    return [row.fate for row in preview_of(upload).rows()]


def says(upload: Upload) -> str:
    return " ".join(row.says for row in preview_of(upload).rows())


WHOLE = (
    "First name;Last name;E-mail;Of age;Limits;Waiver version;Waiver signed on;Weld",
    "Ada;Marsh;ada@example.org;yes;no dust;2025;2025-11-01;alone 2025-11-05 until 2026-10-31",
)


def test_a_row_brings_the_person_the_waiver_and_the_paper_sign_off(bring, coordinator, weld):
    write(bring(*WHOLE), coordinator)
    ada = Person.objects.get()
    row = SignOff.objects.get()
    assert (ada.no_dust, ada.is_adult_declared, Waiver.objects.get().version) == (
        True,
        True,
        "2025",
    )
    assert (row.level, row.signed_by, row.evidence) == (3, None, "list members.csv, row 2")
    assert may(ada, weld, TODAY).ok


def test_the_same_file_twice_changes_nothing(bring, coordinator, weld):
    write(bring(*WHOLE), coordinator)
    second = preview_of(bring(*WHOLE))
    assert [row.fate for row in second.rows()] == [Fate.SAME]
    assert not second.plan.can_be_written


def test_what_goes_out_comes_in_as_the_same(shop, bring, weld):
    for name in ("Ada", "Bo"):
        person = make_person(shop, first_name=name, no_heavy=True, born_on=date(1990, 1, 2))
        make_sign_off(person, weld, Level.MAY_SIGN)
    _, rows = rows_out(shop, is_private=True)
    assert fates(bring(write_csv(rows).decode())) == [Fate.SAME, Fate.SAME]


def test_without_leave_to_see_it_nothing_private_goes_out(shop, weld):
    make_person(shop, phone="555-0134", note="left-handed")
    _, rows = rows_out(shop, is_private=False)
    told = write_csv(rows).decode()
    assert not [each for each in ("555-0134", "left-handed", "Born") if each in told]


def test_a_list_makes_nobody_an_authoriser(bring, weld):
    upload = bring("First name,Weld", "Ada,may sign others until 2026-10-31")
    assert fates(upload) == [Fate.REFUSED]
    assert "no list makes an authoriser" in says(upload)


@pytest.mark.parametrize(
    ("cell", "why"),
    [
        ("alone", "write when it was signed"),
        ("boss until 2026-10-31", "begin with one of"),
        ("alone 2026-02-01", "is still to come"),
        ("alone 2025-11-05 until 2030-01-01", "as the club's rule has it"),
        ("alone until 2025-10-31", "mend its days"),
    ],
)
def test_a_paper_sign_off_is_refused_with_why(bring, weld, cell, why):
    assert why in says(bring("First name;Weld", f"Ada;{cell}"))


def test_a_list_brings_back_nothing_that_a_review_ended(shop, bring, weld):
    ada = make_person(shop, first_name="Ada", last_name="")
    take_back(make_sign_off(ada, weld))
    assert "ended by a review" in says(bring("First name;Weld", "Ada;alone 2025-12-01"))


def test_an_older_sign_off_does_not_come_over_a_later_one(shop, bring, weld):
    ada = make_person(shop, first_name="Ada", last_name="")
    make_sign_off(ada, weld, Level.SHOWN_HOW)
    assert "would not count" in says(bring("First name;Weld", "Ada;alone 2025-10-01"))


def test_a_bar_holds_whatever_the_list_says(shop, bring, coordinator, weld):
    ada = make_person(shop, first_name="Ada", last_name="")
    make_bar(ada, weld)
    write(bring("First name;Weld", "Ada;alone 2025-12-01"), coordinator)
    assert may(ada, weld, TODAY).stopped_by("barred")


def test_an_empty_cell_leaves_what_is_kept(shop, bring, coordinator):
    ada = make_person(shop, first_name="Ada", last_name="", phone="555-0134", no_dust=True)
    write(bring("First name,Phone,Limits,Note", "Ada,,,brings tea"), coordinator)
    ada.refresh_from_db()
    assert (ada.phone, ada.no_dust, ada.note) == ("555-0134", True, "brings tea")


def test_changes_are_shown_field_by_field(shop, bring):
    make_person(shop, first_name="Ada", last_name="", phone="555-0134")
    row = preview_of(bring("First name,Phone", "Ada,555-0199")).rows()[0]
    change = row.changes[0]
    assert (change.what, change.before, change.after) == ("Phone", "555-0134", "555-0199")


def test_two_of_one_name_ask_who_is_meant(shop, bring, coordinator):
    one, _ = (make_person(shop, first_name="Ada", last_name="Marsh") for _ in range(2))
    upload = bring("First name,Last name,Note", "Ada,Marsh,brings tea")
    assert fates(upload) == [Fate.ASKS]
    answer_rows(upload, {"2": str(one.pk)})
    write(upload, coordinator)
    assert list(Person.objects.filter(note="brings tea")) == [one]


def test_a_date_of_birth_tells_which_of_two_is_meant(shop, bring):
    for year in (1960, 1990):
        make_person(shop, first_name="Ada", last_name="Marsh", born_on=date(year, 5, 1))
    assert fates(bring("First name,Last name,Born on", "Ada,Marsh,1990-05-01")) == [Fate.SAME]


def test_nearly_the_same_name_asks_and_may_be_somebody_else(shop, bring, coordinator):
    make_person(shop, first_name="John", last_name="Marsh")
    upload = bring("First name,Last name", "Jon,Marsh")
    assert fates(upload) == [Fate.ASKS]
    answer_rows(upload, {"2": "new"})
    write(upload, coordinator)
    assert fates(bring("First name,Last name", "Jon,Marsh")) == [Fate.SAME]


def test_one_refused_row_keeps_all_of_the_list_out(bring, coordinator):
    upload = bring("First name,Born on", "Ada,1990-01-01", "Bo,2031-01-01")
    seen = preview_of(upload).plan.print
    assert commit(upload, seen=seen, by=coordinator, at=NOW)[1] is False
    assert not Person.objects.exists()


def test_a_list_that_changed_meanwhile_is_looked_at_once_more(shop, bring, coordinator):
    upload = bring("First name,Last name", "Ada,Marsh")
    seen = preview_of(upload).plan.print
    make_person(shop, first_name="Ada", last_name="Marsh")
    assert commit(upload, seen=seen, by=coordinator, at=NOW)[1] is False
    assert Person.objects.count() == 1


def test_a_list_is_written_once(bring, coordinator):
    upload = bring("First name", "Ada")
    seen = preview_of(upload).plan.print
    write(upload, coordinator)
    with pytest.raises(ListGone):
        commit(upload, seen=seen, by=coordinator, at=NOW)


def test_another_shops_person_is_not_meant(shop, other_shop, bring):
    far = make_person(other_shop, first_name="Ada", last_name="Marsh")
    upload = bring("Number,First name", f"{far.pk},Ada")
    assert f"Nobody here has the number {far.pk}" in says(upload)


def test_two_rows_about_one_person_are_refused(bring):
    assert "Row 2 is about the same person" in says(bring("First name", "Ada", "Ada"))


def test_five_hundred_rows_take_a_few_queries(
    shop, bring, weld, django_assert_max_num_queries: Any
):
    for number in range(20):
        make_sign_off(make_person(shop, first_name=f"P{number}", last_name="Here"), weld)
    lines = [f"P{number},Here,alone until 2026-10-31" for number in range(500)]
    upload = bring("First name,Last name,Weld", *lines)
    with django_assert_max_num_queries(11):
        assert len(fates(upload)) == 500
