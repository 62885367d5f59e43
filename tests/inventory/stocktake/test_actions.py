"""Opening, counting twice without seeing, looking again, posting once, settling what came late."""

from __future__ import annotations

from decimal import Decimal

import pytest
from django.db import IntegrityError, transaction

from inventory.ledger import actions as ledger
from inventory.ledger.models import Entry
from inventory.ledger.queries import balance_of, check
from inventory.measures.lengths import feet
from inventory.stocktake import actions
from inventory.stocktake.actions import Counted, Counter, SamePerson, StocktakeRefused
from inventory.stocktake.models import CountLine, Stocktake
from inventory.stocktake.queries import compared, late_of, lines_for
from tests.factories import make_item, make_member, make_place
from tests.inventory.stocktake.conftest import NINE, Scene, after, count, line, post, put

pytestmark = pytest.mark.django_db


@pytest.fixture
def keeper(scene: Scene):
    return make_member(scene.shop, "signe", "storekeeper")


def test_a_sheet_lists_what_the_book_has_there_and_what_is_kept_there(scene) -> None:
    pins = make_item(scene.shop, name="Pins", kind="small", home=scene.shelf)
    names = {row.item.name for row in scene.sheet().lines.select_related("item")}
    assert names == {"Rings", "Straw", pins.name}


def test_an_empty_place_has_a_sheet_without_lines_and_can_be_counted(scene) -> None:
    sheet = scene.open(make_place(scene.shop)).sheets.get()
    for turn in (1, 2):
        count(sheet, turn, {}, 10 + turn)
    assert post(sheet) == []


@pytest.mark.parametrize(("name", "places"), [("", 1), ("January", 0)])
def test_a_stocktake_needs_a_name_and_a_place(scene, name, places) -> None:
    with pytest.raises(StocktakeRefused):
        actions.open_stocktake(
            shop=scene.shop, name=name, places=[scene.shelf][:places], by=None, at=NINE
        )


def test_a_place_of_another_shop_is_refused(scene, other_shop) -> None:
    with pytest.raises(StocktakeRefused, match="another shop"):
        scene.open(make_place(other_shop))
    assert not Stocktake.objects.exists()


def test_a_place_is_on_one_open_sheet_at_a_time(scene) -> None:
    scene.open()
    with pytest.raises(StocktakeRefused, match="being counted already"):
        scene.open()


def test_two_counts_that_agree_with_the_book_write_nothing(scene) -> None:
    sheet = scene.sheet()
    for turn in (1, 2):
        count(sheet, turn, {scene.rings: 30, scene.straw: 8}, 10 * turn)
    assert post(sheet) == []
    assert line(sheet, scene.rings).agreed == 30


def test_two_counts_that_agree_are_posted_with_their_reason_at_their_moment(scene) -> None:
    sheet = scene.sheet()
    for turn in (1, 2):
        count(sheet, turn, {scene.rings: 26, scene.straw: 8}, 10 * turn)
    actions.explain(sheet=sheet, reasons={line(sheet, scene.rings).pk: ("given", "to the school")})
    (entry,) = post(sheet)
    assert (entry.kind, entry.at) == (Entry.Kind.COUNTED, after(20))
    assert entry.reason == "given away or lent: to the school"
    assert balance_of(scene.rings) == 26
    assert check(scene.shop) == ()


def test_what_nobody_explains_is_posted_as_unexplained(scene) -> None:
    sheet = scene.sheet()
    for turn in (1, 2):
        count(sheet, turn, {scene.rings: 29}, 10 * turn)
    assert [entry.reason for entry in post(sheet)] == ["unexplained"]


def test_what_moves_between_the_two_counts_does_not_make_them_differ(scene) -> None:
    sheet = scene.sheet()
    count(sheet, 1, {scene.rings: 29}, 10)
    scene.take(scene.rings, 5, 15)
    count(sheet, 2, {scene.rings: 24}, 20)
    scene.take(scene.rings, 2, 25)
    post(sheet)
    assert balance_of(scene.rings) == 22


def test_two_equal_numbers_with_a_movement_between_them_differ(scene) -> None:
    sheet = scene.sheet()
    count(sheet, 1, {scene.rings: 30}, 10)
    scene.take(scene.rings, 5, 15)
    count(sheet, 2, {scene.rings: 30}, 20)
    assert [row.line.item for row in compared(sheet) if row.owes_a_look] == [scene.rings]


def test_nought_is_a_count_and_empty_is_not(scene) -> None:
    sheet = scene.sheet()
    for turn in (1, 2):
        count(sheet, turn, {scene.rings: 0, scene.straw: None}, 10 * turn)
    post(sheet)
    assert (balance_of(scene.rings), balance_of(scene.straw)) == (0, 8)
    assert line(sheet, scene.straw).agreed is None


def test_where_two_differ_a_third_look_is_owed_and_decides(scene) -> None:
    sheet = scene.sheet()
    count(sheet, 1, {scene.rings: 30, scene.straw: 8}, 10)
    count(sheet, 2, {scene.rings: 28, scene.straw: 8}, 20)
    with pytest.raises(StocktakeRefused, match="third look is owed at Shelf: Rings"):
        post(sheet)
    assert [row.item for row in lines_for(sheet, 3)] == [scene.rings]
    count(sheet, 3, {scene.rings: 29}, 30)
    post(sheet)
    assert balance_of(scene.rings) == 29


def test_what_only_one_looked_at_owes_a_third_look(scene) -> None:
    sheet = scene.sheet()
    count(sheet, 1, {scene.rings: 30, scene.straw: 8}, 10)
    count(sheet, 2, {scene.rings: 30}, 20)
    assert [row.item for row in lines_for(sheet, 3)] == [scene.straw]


def test_a_doubted_line_is_not_posted_before_a_third_look(scene) -> None:
    sheet = scene.sheet()
    for turn in (1, 2):
        count(sheet, turn, {scene.rings: 10}, 10 * turn)
    actions.doubt(line=line(sheet, scene.rings))
    with pytest.raises(StocktakeRefused, match="third look is owed"):
        post(sheet)
    with pytest.raises(StocktakeRefused, match="Look at every line"):
        count(sheet, 3, {}, 30)
    count(sheet, 3, {scene.rings: 10}, 31)
    assert len(post(sheet)) == 1


def test_a_count_written_again_unchanged_keeps_its_moment(scene) -> None:
    sheet = scene.sheet()
    put(sheet, 1, {scene.rings: 30}, 10)
    put(sheet, 1, {scene.rings: 30, scene.straw: 8}, 12)
    moments = line(sheet, scene.rings).first_at, line(sheet, scene.straw).first_at
    assert moments == (after(10), after(12))


@pytest.mark.parametrize(
    ("item", "number", "says"), [("rings", "-1", "less than nothing"), ("tube", "1.5", "finer")]
)
def test_a_count_that_makes_no_sense_is_refused(scene, item, number, says) -> None:
    sheet = scene.open(scene.shelf, scene.rack).sheets.get(place=getattr(scene, item).home)
    row = sheet.lines.get(item=getattr(scene, item))
    with pytest.raises(StocktakeRefused, match=says):
        actions.put_count(
            sheet=sheet, turn=1, counter=Counter("Anders"), counts={row.pk: Decimal(number)},
            by=None, at=NINE,
        )  # fmt: skip


def test_a_line_of_another_sheet_is_refused(scene) -> None:
    stocktake = scene.open(scene.shelf, scene.rack)
    shelf, rack = (stocktake.sheets.get(place=place) for place in (scene.shelf, scene.rack))
    with pytest.raises(StocktakeRefused, match="changed meanwhile"):
        actions.put_count(
            sheet=rack, turn=1, counter=Counter("Anders"), by=None, at=NINE,
            counts={line(shelf, scene.rings).pk: Decimal(1)},
        )  # fmt: skip


def find(scene: Scene, sheet, turn: int, number: int, length_um: int = feet(5)) -> None:
    actions.put_count(
        sheet=sheet, turn=turn, counter=Counter(f"Person {turn}"), counts={}, by=None,
        finds=[Counted(scene.tube, length_um, "good", Decimal(number))], at=after(turn),
    )  # fmt: skip


def test_a_find_is_not_shown_to_the_other_counter_and_joins_theirs(scene) -> None:
    sheet = scene.open(scene.rack).sheets.get()
    find(scene, sheet, 1, 3)
    assert feet(5) in {row.length_um for row in lines_for(sheet, 1)}
    assert feet(5) not in {row.length_um for row in lines_for(sheet, 2)}
    find(scene, sheet, 2, 3)
    row = sheet.lines.get(length_um=feet(5))
    assert (row.first, row.second) == (3, 3)


def test_a_find_of_both_comes_into_the_book(scene) -> None:
    sheet = scene.open(scene.rack).sheets.get()
    for turn in (1, 2):
        find(scene, sheet, turn, 3)
        actions.finish_look(sheet=sheet, turn=turn, at=after(turn))
    post(sheet)
    assert balance_of(scene.tube) == 7


def test_a_find_of_metal_needs_its_length(scene) -> None:
    sheet = scene.open(scene.rack).sheets.get()
    with pytest.raises(StocktakeRefused, match="needs a length"):
        find(scene, sheet, 1, 3, length_um=0)


def test_nobody_is_done_who_counted_nothing(scene) -> None:
    with pytest.raises(StocktakeRefused, match="Nothing is counted yet"):
        count(scene.sheet(), 1, {}, 10)


def test_a_count_that_is_done_is_not_changed(scene) -> None:
    sheet = scene.sheet()
    count(sheet, 1, {scene.rings: 30}, 10)
    with pytest.raises(StocktakeRefused, match="first count is done"):
        put(sheet, 1, {scene.rings: 31}, 11)


def test_one_person_is_not_both_counters_however_the_name_is_spelled(scene) -> None:
    sheet = scene.sheet()
    count(sheet, 1, {scene.rings: 30}, 10)
    with pytest.raises(SamePerson, match="Anders did the first count"):
        put(sheet, 2, {scene.rings: 30}, 20, counter=Counter(" anDers"))


def test_whoever_typed_the_first_count_does_not_count_second(scene, keeper) -> None:
    sheet = scene.sheet()
    count(sheet, 1, {scene.rings: 30}, 10, by=keeper, counter=Counter("Anders", True))
    with pytest.raises(SamePerson):
        put(sheet, 2, {scene.rings: 30}, 20, by=keeper, counter=Counter("Signe"))
    assert line(sheet, scene.rings).second is None


def test_two_papers_of_two_people_are_typed_in_by_one(scene, keeper) -> None:
    sheet = scene.sheet()
    for turn, name in ((1, "Anders"), (2, "Birte")):
        count(sheet, turn, {scene.rings: 30}, 10, by=keeper, counter=Counter(name, True))
    assert post(sheet) == []


def test_the_coordinator_may_let_one_person_count_twice_and_says_why(scene) -> None:
    sheet = scene.sheet()
    count(sheet, 1, {scene.rings: 30}, 10)
    with pytest.raises(StocktakeRefused, match="Say why"):
        actions.let_count_alone(sheet=sheet, reason=" ", by=None)
    actions.let_count_alone(sheet=sheet, reason="snowed in", by=None)
    count(sheet, 2, {scene.rings: 30}, 20, counter=Counter("Anders"))
    assert post(sheet) == []


def test_the_book_stays_shut_until_both_have_counted(scene) -> None:
    sheet = scene.sheet()
    count(sheet, 1, {scene.rings: 30}, 10)
    with pytest.raises(StocktakeRefused, match="stays shut"):
        actions.open_book(sheet=sheet, by=None, at=after(11))


def test_nothing_is_posted_with_the_book_shut(scene) -> None:
    sheet = scene.sheet()
    for turn in (1, 2):
        count(sheet, turn, {scene.rings: 29}, 10 * turn)
    with pytest.raises(StocktakeRefused, match="opens the book first"):
        actions.post_sheet(sheet=sheet, by=None, at=after(30))


def test_something_else_needs_words(scene) -> None:
    sheet = scene.sheet()
    with pytest.raises(StocktakeRefused, match="say in words"):
        actions.explain(sheet=sheet, reasons={line(sheet, scene.rings).pk: ("other", " ")})


@pytest.fixture
def posted(scene: Scene):
    """The shelf with four rings missing, posted."""
    sheet = scene.sheet()
    for turn in (1, 2):
        count(sheet, turn, {scene.rings: 26, scene.straw: 8}, 10 * turn)
    post(sheet)
    return sheet


def test_posting_again_writes_nothing_and_gives_back_the_same(scene, posted) -> None:
    again = actions.post_sheet(sheet=posted, by=None, at=after(99))
    assert [entry.pk for entry in again] == [line(posted, scene.rings).entry_id]
    assert balance_of(scene.rings) == 26


def test_the_last_place_posted_closes_the_stocktake(posted) -> None:
    assert Stocktake.objects.get().closed_at == after(60)


@pytest.mark.parametrize("what", ["put", "explain", "alone", "doubt", "book"])
def test_a_posted_sheet_is_not_changed_any_more(scene, posted, what) -> None:
    row = line(posted, scene.rings)
    late = {
        "put": lambda: put(posted, 3, {scene.rings: 1}, 70),
        "explain": lambda: actions.explain(sheet=posted, reasons={row.pk: ("given", "")}),
        "alone": lambda: actions.let_count_alone(sheet=posted, reason="late", by=None),
        "doubt": lambda: actions.doubt(line=row),
        "book": lambda: actions.open_book(sheet=posted, by=None, at=after(70)),
    }
    with pytest.raises(StocktakeRefused, match="is posted"):
        late[what]()


def test_a_closed_stocktake_leaves_what_is_not_posted_alone(scene) -> None:
    sheet = scene.sheet()
    count(sheet, 1, {scene.rings: 1}, 10)
    actions.close_stocktake(stocktake=sheet.stocktake, by=None, at=after(20))
    with pytest.raises(StocktakeRefused, match="is closed"):
        count(sheet, 2, {scene.rings: 1}, 30)
    assert balance_of(scene.rings) == 30


def test_more_used_since_than_was_counted_is_refused_and_nothing_is_written(scene) -> None:
    sheet = scene.sheet()
    for turn in (1, 2):
        count(sheet, turn, {scene.rings: 2, scene.straw: 9}, 10 * turn)
    scene.take(scene.rings, 20, 25)
    before = Entry.objects.count()
    with pytest.raises(StocktakeRefused, match="Rings: since it was counted"):
        post(sheet)
    assert (Entry.objects.count(), sheet.lines.filter(agreed__isnull=False).count()) == (before, 0)


def test_what_is_typed_in_after_the_posting_is_shown_and_settled(scene, posted) -> None:
    scene.take(scene.rings, 4, 5)
    assert balance_of(scene.rings) == 22
    assert [(each.line.item.name, each.off) for each in late_of(posted.stocktake)] == [("Rings", 4)]
    (entry,) = actions.settle_late(stocktake=posted.stocktake, by=None)
    assert (balance_of(scene.rings), entry.at) == (26, after(20))
    assert actions.settle_late(stocktake=posted.stocktake, by=None) == []


def test_a_count_that_was_taken_back_is_not_settled(scene, posted) -> None:
    entry = line(posted, scene.rings).entry
    ledger.correct(entry, reason="counted in the wrong shed", by=None, at=after(90))
    assert late_of(posted.stocktake) == []


def test_a_place_counted_again_has_the_last_word(scene, posted) -> None:
    again = scene.sheet()
    for turn in (1, 2):
        count(again, turn, {scene.rings: 26, scene.straw: 8}, 100 + turn)
    post(again, 120)
    scene.take(scene.rings, 4, 5)
    assert late_of(posted.stocktake) == []
    actions.settle_late(stocktake=again.stocktake, by=None)
    assert balance_of(scene.rings) == 26


def test_the_database_refuses_a_count_without_its_moment(scene) -> None:
    row = line(scene.sheet(), scene.rings)
    with pytest.raises(IntegrityError), transaction.atomic():
        CountLine.objects.filter(pk=row.pk).update(first=3)
