"""The limits of the search refuse nonsense."""

from __future__ import annotations

import pytest

from inventory.needs.engine.params import NeedsParams


@pytest.mark.parametrize("seconds", [0, -1, float("nan")])
def test_no_time_for_a_cut_list_is_refused(seconds):
    with pytest.raises(ValueError, match="cut_seconds"):
        NeedsParams(cut_seconds=seconds)
