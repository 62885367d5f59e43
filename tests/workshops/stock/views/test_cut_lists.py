"""From sets to pieces to a cut list, drawn to scale."""

from __future__ import annotations

from inventory.cutting.models import CutListRun
from inventory.materials.queries import recipe_of
from inventory.measures.lengths import feet, inches
from tests.factories import make_night, make_operation, make_station
from tests.inventory.winter import Stock
from workshops.nights.models import PlacingRun


def question(stock: Stock, sets: int = 2) -> dict[str, object]:
    return {"item": stock.tube.pk, f"sets{stock.complete.pk}": sets}


def pieces(**fields: str) -> dict[str, str]:
    usual = {"label0": "Post", "length0": "84 in", "count0": "2"}
    usual |= {"label1": "Head", "length1": "20 in", "count1": "4", "night": ""}
    return usual | fields


def make(stock, keeper, at, **fields: str):
    address = f"{at('new_cut_list')}?item={stock.tube.pk}&sets{stock.complete.pk}=2"
    return keeper.post(address, pieces(**fields), follow=True)


def test_the_parts_lists_fill_in_the_pieces(stock, keeper, at) -> None:
    page = keeper.get(at("new_cut_list"), question(stock)).content.decode()
    assert 'value="84 in"' in page
    assert 'name="count1" value="4"' in page
    assert "2 pieces lie there, 40 ft in all" in page


def test_nothing_is_asked_before_a_material_is_chosen(stock, keeper, at) -> None:
    page = keeper.get(at("new_cut_list")).content.decode()
    assert "Fill in the pieces" in page
    assert "Make the cut list" not in page


def test_the_list_is_kept_and_drawn_with_running_marks(stock, keeper, at) -> None:
    answer = make(stock, keeper, at)
    page = answer.content.decode()
    run = CutListRun.objects.get()
    assert answer.redirect_chain[-1][0] == at("cut_list", run.pk)
    assert run.status == "proven"
    assert "<svg" in page
    assert "Saw at" in page
    marks = [mark for bench in answer.context["sawing"].benches for mark in bench.drawn.marks]
    assert marks
    assert all(mark in page for mark in marks)


def test_a_list_names_what_cannot_be_cut(stock, keeper, at) -> None:
    page = make(stock, keeper, at, count0="9").content.decode()
    assert "× Post cannot be cut from what lies there" in page
    assert "of metal is missing" in page


def test_a_wrong_length_loses_nothing_typed(stock, keeper, at) -> None:
    answer = make(stock, keeper, at, length0="long", count1="33")
    page = answer.content.decode()
    assert answer.status_code == 422
    assert 'value="long"' in page
    assert 'value="33"' in page
    assert not CutListRun.objects.exists()


def test_a_counted_row_needs_a_name(stock, keeper, at) -> None:
    assert "Give the piece a name." in make(stock, keeper, at, label0="").content.decode()


def test_a_row_without_a_count_is_left_out(stock, keeper, at) -> None:
    make(stock, keeper, at, count1="")
    assert [p["label"] for p in CutListRun.objects.get().problem["pieces"]] == ["Post"]


def test_an_empty_list_is_refused(stock, keeper, at) -> None:
    answer = make(stock, keeper, at, count0="", count1="")
    assert "at least one piece" in answer.content.decode()


def test_the_lists_are_shown_newest_first(stock, keeper, at) -> None:
    assert "No cut list yet" in keeper.get(at("cut_lists")).content.decode()
    make(stock, keeper, at)
    assert "least metal" in keeper.get(at("cut_lists")).content.decode()


def test_a_reader_sees_lists_and_makes_none(stock, reader, client_of, at) -> None:
    client = client_of(reader)
    assert client.get(at("cut_lists")).status_code == 200
    assert client.get(at("new_cut_list")).status_code == 403


def test_another_shops_list_is_not_found(stock, keeper, stranger, client_of, at) -> None:
    make(stock, keeper, at)
    address = at("cut_list", CutListRun.objects.get().pk)
    assert client_of(stranger).get(address).status_code == 404


def plan(stock: Stock, pieces: int) -> None:
    """A night with a plan that cuts so many posts."""
    night = make_night(stock.shop)
    operation = make_operation(make_station(stock.shop), recipe_of(stock.post))
    problem = {
        "stations": [{"id": str(operation.station_id), "name": "Cut"}],
        "operations": [
            {"id": str(operation.pk), "name": "Cut posts", "station": str(operation.station_id),
             "makes_count": 1}
        ],
    }  # fmt: skip
    night.plan = PlacingRun.objects.create(
        shop=stock.shop, night=night, problem=problem, version="1", status="proven", seconds=0.1,
        result={"output": {"made": {str(operation.pk): [pieces]}}},
    )  # fmt: skip
    night.save()


def test_the_next_nights_plan_gets_its_lists(stock, keeper, at) -> None:
    plan(stock, 3)
    assert "Wed 14 Jan" in keeper.get(at("cut_lists")).content.decode()
    keeper.post(at("cut_tonight"))
    run = CutListRun.objects.get()
    assert run.night_key == "2026-01-14"
    assert [(p["label"], p["count"]) for p in run.problem["pieces"]] == [("Post", 3)]


def test_without_a_plan_the_page_says_to_plan_first(stock, keeper, at) -> None:
    page = keeper.post(at("cut_tonight"), follow=True).content.decode()
    assert "Plan the night first" in page
    assert not CutListRun.objects.exists()


def test_a_list_may_be_sheared_or_cut_by_another_saw(stock, keeper, at) -> None:
    make(stock, keeper, at, way="shear")
    make(stock, keeper, at, way="other", kerf="1/16")
    make(stock, keeper, at, way="saw")
    kerfs = [run.problem["kerf"] for run in CutListRun.objects.order_by("pk")]
    assert kerfs == [0, inches("1/16"), inches("1/8")]
    page = keeper.get(at("cut_lists")).content.decode()
    assert "sheared" in page
    assert "1/16 in a cut" in page


def test_another_saw_says_what_it_takes(stock, keeper, at) -> None:
    page = make(stock, keeper, at, way="other").content.decode()
    assert "Say what one cut of that saw takes" in page
    assert not CutListRun.objects.exists()


def test_a_list_says_what_mixing_saves_in_sticks_and_money(stock, keeper, at) -> None:
    stock.bring(stock.tube, 80, feet(20))
    sets = {"label0": "Head", "length0": "34 in", "count0": "300"}
    page = make(stock, keeper, at, **sets, label1="Bar", length1="16 in", count1="300")
    told = page.content.decode()
    assert "Cutting set by set would take 75 sticks" in told
    assert "this list takes 65, 200 ft less" in told
    assert "At 30.00 USD a stick that is 300.00 USD of metal." in told


def test_pieces_that_lie_cut_are_not_cut_again_unless_told(stock, keeper, at) -> None:
    stock.bring(stock.tube, 2, feet(7))
    page = make(stock, keeper, at).content.decode()
    assert "2 × Post (84 in) lie cut to length already" in page
    make(stock, keeper, at, anew="on")
    assert [len(run.problem["pieces"]) for run in CutListRun.objects.order_by("pk")] == [1, 2]


def test_tonights_pieces_that_lie_cut_need_no_list(stock, keeper, at) -> None:
    plan(stock, 3)
    stock.bring(stock.tube, 3, feet(7))
    page = keeper.post(at("cut_tonight"), follow=True).content.decode()
    assert "3 × Post (84 in) lie cut to length already" in page
    assert "Plan the night first" not in page
    assert not CutListRun.objects.exists()
