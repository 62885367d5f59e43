from dataclasses import replace
from datetime import date
from xml.etree import ElementTree

import pytest

from inventory.engines.stop import Seconds
from tests.workshops.season.engine.winters import bare, whole_shop
from workshops.season import strokes
from workshops.season.engine.params import OutlookParams
from workshops.season.engine.problem import Made, NightKind
from workshops.season.engine.solve import solve
from workshops.season.picture import WinterPicture, draw, picture_of
from workshops.season.scales import days_to_label, steps

SVG = "{http://www.w3.org/2000/svg}"
FEW = OutlookParams(winters=300, batch=300)


def picture_from(problem) -> WinterPicture:
    return picture_of(solve(problem, stop=Seconds(60), params=FEW))


@pytest.fixture(scope="module")
def picture():
    made = (Made("2026-11-17", 3), Made("2026-11-24", 9))
    return picture_from(replace(whole_shop(), made=made))


def drawn(picture: WinterPicture, **size: int) -> ElementTree.Element:
    return ElementTree.fromstring(draw(picture, **size))


def words(root: ElementTree.Element) -> list[str]:
    return [element.text or "" for element in root.iter(f"{SVG}text")]


def test_the_picture_is_told_in_words_for_those_who_do_not_see_it(picture):
    root = drawn(picture)
    assert root.get("role") == "img"
    assert root.find(f"{SVG}title").text == "Finished sets through the winter, target 240"
    for sentence in picture.told:
        assert sentence in root.find(f"{SVG}desc").text


def test_the_labels_point_at_the_words_even_with_two_pictures_on_a_page(picture):
    root = ElementTree.fromstring(draw(picture, name="second"))
    ids = [root.find(f"{SVG}{kind}").get("id") for kind in ("title", "desc")]
    assert root.get("aria-labelledby").split() == ids == ["second-title", "second-told"]


def test_three_bands_lie_one_inside_the_other(picture):
    bands = list(drawn(picture).iter(f"{SVG}polygon"))
    fills = [band.get("fill") for band in bands]
    assert fills == [strokes.FILLS[f"band-{share}"] for share in (95, 80, 50)]


def test_the_bands_stay_apart_in_grey():
    greys = [grey(fill) for fill in strokes.FILLS.values()]
    assert all(b - a > 25 for a, b in zip(sorted(greys), sorted(greys)[1:], strict=False))


def grey(colour: str) -> float:
    red, green, blue = (int(colour[i : i + 2], 16) for i in (1, 3, 5))
    return 0.299 * red + 0.587 * green + 0.114 * blue


def test_target_ready_by_and_ice_are_written_out(picture):
    told = words(drawn(picture))
    assert "target 240" in told
    assert any(text.startswith("wanted 20 Feb – 6 Mar: ") for text in told)
    assert any(text.startswith("the ice may go 2 Mar – 26 Mar: ready before it") for text in told)


def test_every_night_to_come_has_its_mark_by_kind(picture):
    svg = draw(picture)
    steel = sum(night.kind is NightKind.STEEL for night in picture.nights)
    assert svg.count(strokes.MARKS["square"]) == steel + 1  # and one in the key
    assert svg.count(strokes.MARKS["half"]) == len(picture.nights) - steel + 1


def test_what_was_made_is_marked(picture):
    assert draw(picture).count(strokes.MARKS["made"]) == 2 + 1


def test_the_key_explains_only_what_is_there():
    told = words(drawn(picture_from(bare())))
    assert "steel night" not in told
    assert "made so far" not in told
    assert "mixed night" in told


def test_a_winter_without_nights_still_draws_and_says_so():
    told = words(drawn(picture_from(bare(nights=()))))
    assert "No nights are left this winter." in told


def test_everything_stays_inside_the_picture(picture):
    for width in (400, 960):
        root = drawn(picture, width=width, height=480)
        for x in (float(t.get("x")) for t in root.iter(f"{SVG}text")):
            assert 0 <= x <= width


def test_words_in_the_margin_do_not_touch(picture):
    near = replace(picture.nights[-1].band, low_80=100, median=101, high_80=102)
    nights = (*picture.nights[:-1], replace(picture.nights[-1], band=near))
    root = drawn(replace(picture, nights=nights))
    rows = [
        float(text.get("y"))
        for text in root.iter(f"{SVG}text")
        if (text.text or "").split()[-1] in ("good", "middle", "poor")
    ]
    assert sorted(rows)[1] - sorted(rows)[0] >= 20
    assert sorted(rows)[2] - sorted(rows)[1] >= 20


def test_nothing_is_loaded_from_elsewhere(picture):
    svg = draw(picture).replace("http://www.w3.org/2000/svg", "")
    assert "http" not in svg
    assert "href" not in svg


def test_words_from_people_cannot_break_the_picture(picture):
    odd = replace(picture, told=("<script>alert('&')</script>",))
    assert drawn(odd).find(f"{SVG}desc").text == odd.told[0]


@pytest.mark.parametrize(
    ("most", "labels"),
    [(260, [0, 50, 100, 150, 200, 250]), (11, [0, 2, 4, 6, 8, 10]), (3, [0, 1, 2, 3])],
)
def test_counts_on_the_axis_are_round(most, labels):
    assert steps(most, wanted=5) == labels


def test_dates_on_the_axis_are_mondays_with_room_between():
    days = days_to_label(date(2026, 12, 1), date(2027, 3, 1), room=400)
    assert all(day.weekday() == 0 for day in days)
    assert 2 <= len(days) <= 6
