"""Stations and tools."""

from __future__ import annotations

from typing import Any

from inventory.places.models import Shop
from tests.factories import make_operation, make_room, make_station, make_tool
from tests.workshops.stations.views.conftest import ClientOf
from workshops.access.models import User
from workshops.stations.models import Level, Station

LIST, TOOLS = "/teal-point/stations/", "/teal-point/tools/"


def test_the_list_says_what_each_station_takes(shop: Shop, volunteer: User, client_of: ClientOf):
    station = make_station(shop, name="Weld", level_needed=Level.ALONE, age_min=18, is_spark=True)
    make_tool(shop, station, out_of_service=1, fault="cracked")
    page = client_of(volunteer).get(LIST).content.decode()
    for words in ("takes “alone”", "hot work", "from 18", "a tool is out"):
        assert words in page


def test_an_empty_list_says_what_to_do_first(shop: Shop, volunteer: User, client_of: ClientOf):
    assert "no station yet" in client_of(volunteer).get(LIST).content.decode()
    assert "No tool is listed" in client_of(volunteer).get(TOOLS).content.decode()


def test_lists_take_as_many_queries_for_many_rows(
    shop: Shop, volunteer: User, client_of: ClientOf, django_assert_num_queries: Any
):
    client = client_of(volunteer)
    for _ in range(2):
        for _ in range(3):
            make_tool(shop, make_station(shop))
        with django_assert_num_queries(6):
            client.get(LIST)
        with django_assert_num_queries(5):
            client.get(TOOLS)


def test_a_station_shows_wear_cautions_work_and_tools(
    shop: Shop, volunteer: User, client_of: ClientOf
):
    station = make_station(
        shop, name="Drill", wear=["eyes"], never_wear=["gloves"],
        cautions=[{"text": "Chuck key out.", "source": "tool maker"}],
    )  # fmt: skip
    make_operation(station, name="Drill posts")
    make_tool(shop, station, name="Press")
    page = client_of(volunteer).get(f"{LIST}{station.pk}/").content.decode()
    for words in ("eyes", "gloves", "Chuck key out.", "Drill posts", "4 min", "Press"):
        assert words in page
    assert "Defer to local codes and licensed practice" in page


def test_a_station_is_added_and_changed(shop: Shop, coordinator: User, client_of: ClientOf):
    client = client_of(coordinator)
    fields = {"name": "Cold saw", "kind": "cut", "room": make_room(shop).pk, "sequence": 1}
    fields |= {"benches": 1, "crew_min": 1, "crew_max": 2, "heads_wanted": 0, "is_in_use": "on"}
    client.post(f"{LIST}add/", fields | {"wear": "eyes, ears"})
    station = Station.objects.get()
    assert (station.slug, station.wear) == ("cold-saw", ["eyes", "ears"])
    refused = client.post(f"{LIST}{station.pk}/edit/", fields | {"crew_min": 3})
    assert refused.status_code == 422
    assert "the most not below the least" in refused.content.decode()
    client.post(f"{LIST}{station.pk}/edit/", fields | {"age_min": 18})
    station.refresh_from_db()
    assert (station.age_min, station.crew_min) == (18, 1)


def test_a_tool_goes_out_of_service_and_comes_back(
    shop: Shop, duty_lead: User, client_of: ClientOf
):
    client, tool = client_of(duty_lead), make_tool(shop, make_station(shop), count=2)
    client.post(f"{TOOLS}{tool.pk}/out/", {"count": 1, "fault": "belt slips"})
    tool.refresh_from_db()
    assert (tool.out_of_service, tool.fault) == (1, "belt slips")
    refused = client.post(f"{TOOLS}{tool.pk}/out/", {"count": 5, "fault": "x"})
    assert "1 of Tool" in refused.content.decode()
    client.post(f"{TOOLS}{tool.pk}/back/")
    tool.refresh_from_db()
    assert tool.out_of_service == 0


def test_a_tool_is_added(shop: Shop, coordinator: User, client_of: ClientOf):
    station = make_station(shop)
    fields = {"name": "Vise", "count": 2, "stations": [station.pk]}
    assert client_of(coordinator).post(f"{TOOLS}add/", fields).status_code == 302
    assert station.tools.get().count == 2


def test_stations_and_tools_keep_to_their_shop_and_roles(
    shop: Shop, volunteer: User, stranger: User, client_of: ClientOf
):
    station, tool = make_station(shop), make_tool(shop)
    assert client_of(stranger).get(f"/mallow-creek/stations/{station.pk}/").status_code == 404
    assert client_of(volunteer).get(f"{LIST}{station.pk}/edit/").status_code == 403
    assert client_of(volunteer).post(f"{TOOLS}{tool.pk}/back/").status_code == 403


def test_a_station_number_that_no_database_holds_is_refused_beside_its_field(
    shop: Shop, coordinator: User, client_of: ClientOf
):
    answer = client_of(coordinator).post("/teal-point/tools/add/", {
        "name": "Saw", "count": 1, "stations": ["9" * 30],
    })  # fmt: skip
    assert answer.status_code == 422
    assert "Choose from those shown here." in str(answer.context["form"].errors["stations"])
