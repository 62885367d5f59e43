"""What must hold after several people posted at once; asked on SQLite and on PostgreSQL."""

from __future__ import annotations

Outcome = dict[str, dict[str, int]]


class AtOnce:
    """Tests for a module with an ``outcome`` of the tablets."""

    def test_nothing_is_lost_and_nothing_taken_twice(self, outcome: Outcome) -> None:
        evening = outcome["evening"]
        assert evening["moved"] == 60
        assert (evening["away"], evening["left"]) == (60, 0)

    def test_a_tally_that_all_tablets_send_is_written_once(self, outcome: Outcome) -> None:
        # 20 shared and 80 own moves were wanted; the last 40 found the shelf empty.
        evening = outcome["evening"]
        assert evening["refused_own"] + evening["refused_shared"] == 40

    def test_one_key_from_six_threads_is_one_delivery(self, outcome: Outcome) -> None:
        # Ten were there before, and the delivery that was sent six times brought five.
        assert outcome["one_key"] == {"entries": 1, "there": 15, "sources": 2}

    def test_opposite_moves_lose_nothing(self, outcome: Outcome) -> None:
        assert outcome["opposite_moves"] == {"all": 20}

    def test_a_count_while_others_post_leaves_the_sum_right(self, outcome: Outcome) -> None:
        assert outcome["count_while_posting"] == {"scrapped": 20, "out": 0}

    def test_an_entry_is_taken_back_once(self, outcome: Outcome) -> None:
        assert outcome["taken_back"] == {"corrections": 1, "refused": 3, "left": 0}

    def test_the_book_is_right(self, outcome: Outcome) -> None:
        assert outcome["faults"] == []
