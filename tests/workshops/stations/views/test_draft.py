"""The form of a draft: roll, fit, legs and joints, checked while typing."""

from __future__ import annotations

from inventory.measures.lengths import inches
from tests.workshops.stations.geometry.sheets import CYLINDER
from tests.workshops.stations.views.conftest import ClientOf, url
from tests.workshops.stations.views.sent import as_shown
from workshops.access.models import User
from workshops.stations.models import BuildSheet
from workshops.stations.translate import sheet_of


def test_keeping_what_is_shown_changes_nothing(
    draft: BuildSheet, coordinator: User, client_of: ClientOf
):
    client = client_of(coordinator)
    sent = as_shown(client.get(url(draft, "edit/")))
    assert client.post(url(draft, "edit/"), sent).status_code == 302
    assert sheet_of(BuildSheet.objects.get(pk=draft.pk)) == CYLINDER


def test_a_length_is_typed_as_people_write_it(
    draft: BuildSheet, coordinator: User, client_of: ClientOf
):
    client = client_of(coordinator)
    sent = as_shown(client.get(url(draft, "edit/")), **{"roll-ring_um": "2 ft 10 1/2 in"})
    client.post(url(draft, "edit/"), sent)
    draft.refresh_from_db()
    assert draft.roll["ring_um"] == inches("34 1/2")


def test_half_a_roll_is_refused_beside_what_is_missing(
    draft: BuildSheet, coordinator: User, client_of: ClientOf
):
    client = client_of(coordinator)
    sent = as_shown(client.get(url(draft, "edit/")), **{"roll-ring_um": ""})
    answer = client.post(url(draft, "edit/"), sent)
    assert answer.status_code == 422
    assert "needed with the others" in answer.content.decode()


def test_a_whole_group_left_empty_is_none(
    draft: BuildSheet, coordinator: User, client_of: ClientOf
):
    client = client_of(coordinator)
    sent = as_shown(client.get(url(draft, "edit/")))
    sent = {name: value for name, value in sent.items() if not name.startswith("roll-")}
    client.post(url(draft, "edit/"), sent)
    draft.refresh_from_db()
    assert draft.roll is None


def test_a_joint_is_taken_away_and_another_added(
    draft: BuildSheet, coordinator: User, client_of: ClientOf
):
    client, new = client_of(coordinator), len(draft.welds)
    sent = as_shown(
        client.get(url(draft, "edit/")),
        **{
            "joints-0-DELETE": "on", f"joints-{new}-part": "bar", f"joints-{new}-onto": "stem",
            f"joints-{new}-at_um": "12", f"joints-{new}-part_at_um": "10",
        },
    )  # fmt: skip
    assert client.post(url(draft, "edit/"), sent).status_code == 302
    draft.refresh_from_db()
    assert len(draft.welds) == new
    assert draft.welds[-1]["onto"] == "stem"


def test_the_check_warns_while_typing_and_keeps_nothing(
    draft: BuildSheet, coordinator: User, client_of: ClientOf
):
    client = client_of(coordinator)
    sent = as_shown(client.get(url(draft, "edit/")), **{"roll-piece_length_um": "70"})
    page = client.post(url(draft, "check/"), sent).content.decode()
    assert "<html" not in page
    assert "before it closes" in page
    assert "<svg" in page
    draft.refresh_from_db()
    assert draft.roll["piece_length_um"] == inches(88)


def test_the_check_says_what_is_no_length(
    draft: BuildSheet, coordinator: User, client_of: ClientOf
):
    client = client_of(coordinator)
    sent = as_shown(client.get(url(draft, "edit/")), **{"fit-pin_um": "thumb"})
    page = client.post(url(draft, "check/"), sent).content.decode()
    assert "Pin or bolt" in page
    assert "8 ft 6 in" in page


def test_a_sheet_in_force_has_no_form(in_force: BuildSheet, coordinator: User, client_of: ClientOf):
    answer = client_of(coordinator).get(url(in_force, "edit/"), follow=True)
    assert "make a new revision" in answer.content.decode()
