"""The limits of the search refuse nonsense."""

from __future__ import annotations

import pytest

from inventory.cutting.engine.params import CuttingParams


@pytest.mark.parametrize("bad", [{"most_sums": 0}, {"most_patterns": 0}, {"order_tries": -1}])
def test_nonsense_is_refused(bad):
    with pytest.raises(ValueError, match=next(iter(bad))):
        CuttingParams(**bad)
