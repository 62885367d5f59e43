"""The form of a part, checked while typing."""

from __future__ import annotations

from inventory.materials.models import Item
from inventory.measures.lengths import feet, inches
from inventory.places.models import Shop
from tests.factories import make_item
from tests.workshops.stations.geometry.sheets import CYLINDER
from tests.workshops.stations.views.conftest import ClientOf
from tests.workshops.stations.views.sent import as_shown
from workshops.access.models import User
from workshops.stations.models import BuildSheet, Part
from workshops.stations.translate import part_of, sheet_of


def page_of(part: Part) -> str:
    """The address of a part."""
    return f"/teal-point/parts/{part.pk}/"


def test_keeping_what_is_shown_changes_no_part(
    draft: BuildSheet, coordinator: User, client_of: ClientOf
):
    client = client_of(coordinator)
    for part in draft.parts.all():
        sent = as_shown(client.get(page_of(part)))
        assert client.post(page_of(part), sent).status_code == 302, part
    assert sheet_of(draft) == CYLINDER


def test_a_new_part_is_drawn_with_a_hole_and_a_bend(
    shop: Shop, coordinator: User, client_of: ClientOf
):
    stock, item = make_item(shop, kind=Item.Kind.METAL), make_item(shop)
    client = client_of(coordinator)
    sent = as_shown(
        client.get("/teal-point/parts/add/"),
        **{
            "name": "Arm", "item": item.pk, "stock": stock.pk, "role": "other",
            "length_um": "8 ft 6 in", "tolerance_um": "1/16", "holes-0-from_end_um": "2",
            "holes-0-diameter_um": "7/16", "bends-0-at_um": "3 ft", "bends-0-angle_deg": "22.5",
            "bends-0-inside_radius_um": "2",
        },
    )  # fmt: skip
    assert client.post("/teal-point/parts/add/", sent).status_code == 302
    drawn = part_of(Part.objects.get())
    assert drawn.length_um == feet(8) + inches(6)
    assert [hole.from_end_um for hole in drawn.holes] == [inches(2)]
    assert [bend.angle_deg for bend in drawn.bends] == [22.5]


def test_a_hole_is_taken_away(draft: BuildSheet, coordinator: User, client_of: ClientOf):
    client, stem = client_of(coordinator), draft.parts.get(item__slug="stem")
    sent = as_shown(client.get(page_of(stem)), **{"holes-0-DELETE": "on"})
    client.post(page_of(stem), sent)
    stem.refresh_from_db()
    assert [hole["from_end_um"] for hole in stem.holes] == [inches(11), inches(17)]


def test_what_is_no_length_is_said_beside_the_field(
    draft: BuildSheet, coordinator: User, client_of: ClientOf
):
    client, stem = client_of(coordinator), draft.parts.get(item__slug="stem")
    answer = client.post(page_of(stem), as_shown(client.get(page_of(stem)), length_um="long"))
    assert answer.status_code == 422
    assert "Write 34, 1 1/2, 8 ft 6 in or 610 mm." in answer.content.decode()
    stem.refresh_from_db()
    assert stem.length_um == inches(32)


def test_what_geometry_refuses_is_said_and_not_kept(
    draft: BuildSheet, coordinator: User, client_of: ClientOf
):
    client, stem = client_of(coordinator), draft.parts.get(item__slug="stem")
    answer = client.post(page_of(stem), as_shown(client.get(page_of(stem)), tolerance_um="40"))
    assert "tolerance_um must be 0 or more, and less than the length" in answer.content.decode()


def test_the_check_warns_while_typing_and_keeps_nothing(
    draft: BuildSheet, coordinator: User, client_of: ClientOf
):
    client, stem = client_of(coordinator), draft.parts.get(item__slug="stem")
    sent = as_shown(client.get(page_of(stem)), length_um="12")
    page = client.post(f"/teal-point/parts/check/?part={stem.pk}", sent).content.decode()
    assert "runs off the part" in page
    assert "<svg" in page
    assert "<html" not in page
    stem.refresh_from_db()
    assert stem.length_um == inches(32)


def test_the_check_of_an_unfinished_part_is_patient(
    shop: Shop, coordinator: User, client_of: ClientOf
):
    client = client_of(coordinator)
    sent = as_shown(client.get("/teal-point/parts/add/"), name="Arm")
    page = client.post("/teal-point/parts/check/", sent).content.decode()
    assert "once there is enough to draw" in page


def test_a_sheet_in_force_keeps_the_drawing_it_has(
    in_force: BuildSheet, coordinator: User, client_of: ClientOf
):
    client, stem = client_of(coordinator), in_force.parts.get(item__slug="stem")
    client.post(page_of(stem), as_shown(client.get(page_of(stem)), length_um="36"))
    stem.refresh_from_db()
    assert stem.length_um == inches(36)
    assert sheet_of(BuildSheet.objects.get()) == CYLINDER


def test_parts_are_drawn_by_who_may_edit_sheets(
    draft: BuildSheet, duty_lead: User, client_of: ClientOf
):
    assert client_of(duty_lead).get(page_of(draft.parts.first())).status_code == 403
    assert client_of(duty_lead).post("/teal-point/parts/check/").status_code == 403
