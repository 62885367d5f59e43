"""What must hold after two tablets did the same thing; asked on SQLite and on PostgreSQL."""

from __future__ import annotations

from tests.workshops.stock.tablets import REFUSALS, Outcome, refusals_in


class StockAtOnce:
    """Tests for a module with an ``outcome`` of the scenes."""

    def test_a_count_posted_by_four_is_posted_once(self, outcome: Outcome) -> None:
        for each in outcome["posted_twice"]:
            assert each == {"said": [""] * 4, "entries": 1, "there": 26}

    def test_what_is_used_while_a_count_is_posted_counts(self, outcome: Outcome) -> None:
        for each in outcome["posted_while_used"]:
            assert each == {"said": ["", ""], "there": 21}

    def test_a_delivery_sent_four_times_is_booked_in_once(self, outcome: Outcome) -> None:
        for each in outcome["received_twice"]:
            assert each == {"said": [""] * 4, "deliveries": 1, "there": 5}

    def test_nothing_comes_on_an_order_that_was_called_off(self, outcome: Outcome) -> None:
        came = {"said": ["", "PartCame"], "state": "sent", "there": 5}
        called_off = {"said": ["", "OrderNotSent"], "state": "cancelled", "there": 1}
        for each in outcome["received_while_called_off"]:
            assert each in (came, called_off)

    def test_no_stick_is_ticked_that_is_not_on_the_list(self, outcome: Outcome) -> None:
        for each in outcome["cut_together"]:
            assert each == {"said": ["", "", "", "CutRefused"], "ticked": 6, "there": 3}

    def test_what_was_sent_to_the_supplier_stands_still(self, outcome: Outcome) -> None:
        assert not any(each["changed"] for each in outcome["changed_while_sent"])

    def test_of_three_who_write_one_list_one_does(self, outcome: Outcome) -> None:
        for each in outcome["list_written_twice"]:
            assert each == {"said": ["", "ListGone", "ListGone"], "there": 20}

    def test_a_reading_is_corrected_once(self, outcome: Outcome) -> None:
        for each in outcome["reading_corrected_twice"]:
            assert each == {"said": ["", "ReadingRefused", "ReadingRefused"], "corrections": 1}

    def test_whoever_is_refused_is_told_why(self, outcome: Outcome) -> None:
        assert set(refusals_in(outcome)) <= REFUSALS

    def test_the_book_is_right(self, outcome: Outcome) -> None:
        assert outcome["faults"] == []
