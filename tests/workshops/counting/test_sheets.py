"""Paper beside the tablets: nothing is added by itself, a decision stands, nothing doubles."""

from __future__ import annotations

from datetime import timedelta

import pytest
from django.utils import timezone

from inventory.ledger.queries import balance_of, check
from workshops.counting import actions
from workshops.counting.models import PaperLine, PaperSheet
from workshops.counting.queries import beside, totals_of
from workshops.counting.refusals import CountingRefused
from workshops.nights.models import Tally


@pytest.fixture
def sheet(scene, duty_lead):
    def typed(number: int | None = None, **numbers: int) -> PaperSheet:
        counted = actions.Counted(operation=scene.operations["drill"], **numbers)
        return actions.type_in(
            night=scene.night, number=number, counted=[counted], counted_by="Bo", by=duty_lead,
            at=timezone.now(),
        )  # fmt: skip

    return typed


@pytest.fixture
def decide(duty_lead):
    def decided(sheet: PaperSheet, decision: str, word: str = "Bo and Dee") -> PaperLine:
        each = actions.Decided(sheet.lines.get(), decision, word)
        actions.decide(sheet=sheet, decided=[each], by=duty_lead, at=timezone.now())
        return sheet.lines.get()

    return decided


@pytest.fixture
def bench(scene, tablet):
    found = tablet("bench tablet")
    found.tap(scene.operations["drill"].pk, good=40, scrap=1)
    found.share()
    return found


def total(scene) -> list[int]:
    return totals_of(scene.night).get(scene.operations["drill"].pk, [0, 0, 0])


def test_typed_in_it_adds_nothing(scene, bench, sheet) -> None:
    [line] = beside(sheet(good=46))
    assert (line.counted, line.by) == ((40, 0, 1), (("bench tablet", 41),))
    assert total(scene) == [40, 0, 1]


@pytest.mark.parametrize(
    ("decision", "good"), [("same", 46), ("more", 86), ("tablets", 40)]
)  # fmt: skip
def test_each_of_the_three_counts_as_it_says(scene, bench, sheet, decide, decision, good) -> None:
    line = decide(sheet(good=46), decision)
    assert total(scene) == [good, 0, 1]
    assert balance_of(scene.stock.post) == good
    assert (line.word, line.beside, line.decided_by.username) == ("Bo and Dee", [40, 0, 1], "dov")


def test_what_a_tablet_shares_later_doubles_nothing(scene, bench, sheet, decide) -> None:
    decide(sheet(good=46), "same")
    bench.tap(scene.operations["drill"].pk, good=5)
    bench.share()
    assert total(scene) == [46, 0, 1]
    bench.tap(scene.operations["drill"].pk, good=5)
    bench.share()
    assert total(scene) == [50, 0, 1]
    assert list(check(scene.shop)) == []


def test_a_tap_taken_back_later_is_held_against_the_decision(scene, bench, sheet, decide) -> None:
    decide(sheet(good=30), "same")
    bench.take_back(bench.taps[0])
    bench.share()
    assert total(scene) == [30, 0, 0]


def test_decided_otherwise_the_first_decision_is_kept(scene, bench, sheet, decide) -> None:
    typed = sheet(good=46)
    decide(typed, "more", "thought so")
    line = decide(typed, "same")
    assert total(scene) == [46, 0, 1]
    assert line.earlier[0]["word"] == "thought so"


def test_two_sheets_of_the_same_pieces_count_the_greater(scene, bench, sheet, decide) -> None:
    decide(sheet(good=46), "same")
    decide(sheet(good=50), "same")
    assert total(scene) == [50, 0, 1]


def test_pieces_of_a_sheet_that_were_heads_are_not_added_again(
    scene, sheet, decide, duty_lead
) -> None:
    decide(sheet(good=60), "same")
    wrong = actions.Wrong(
        counted_as=scene.operations["drill"], was=scene.operations["weld"], good=60
    )
    actions.mend(night=scene.night, wrong=wrong, reason="Bo", by=duty_lead, at=timezone.now())
    assert total(scene) == [0, 0, 0]
    assert balance_of(scene.stock.head) == 60


def test_a_sheet_is_typed_in_once(scene, sheet) -> None:
    [printed] = actions.number_sheets(night=scene.night, how_many=1, at=timezone.now())
    sheet(printed.number, good=3)
    with pytest.raises(CountingRefused, match=r"typed in before, by .*: it counts once"):
        sheet(printed.number, good=3)


def test_a_number_that_was_never_printed_is_refused(sheet) -> None:
    with pytest.raises(CountingRefused, match="No sheet 7 was printed here"):
        sheet(7, good=1)


def test_an_empty_sheet_is_refused(sheet) -> None:
    with pytest.raises(CountingRefused, match="Nothing is written"):
        sheet()


@pytest.mark.parametrize(("decision", "word"), [("same", " "), ("sum", "x"), ("", "x")])
def test_a_decision_is_one_of_three_with_a_word(sheet, decide, decision, word) -> None:
    with pytest.raises(CountingRefused):
        decide(sheet(good=1), decision, word)
    assert not Tally.objects.exists()


def test_what_a_sheet_added_is_not_taken_back_beside_it(scene, sheet, decide, duty_lead) -> None:
    line = decide(sheet(good=5), "more")
    with pytest.raises(CountingRefused, match="Sheet 1 added that"):
        actions.take_back(tally=line.tally, by=duty_lead, at=timezone.now())


def test_typed_in_next_morning_it_counts_at_the_stop_of_the_night(
    scene, sheet, decide, clock
) -> None:
    typed = sheet(good=5)
    clock.shift(timedelta(hours=14))
    assert decide(typed, "more").tally.counted_at == scene.at("20:30")
