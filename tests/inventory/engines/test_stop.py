"""When an engine stops."""

from __future__ import annotations

import math

import pytest

from inventory.engines.stop import Seconds


@pytest.mark.parametrize("bad", [0, -1, math.nan])
def test_no_time_is_refused(bad):
    with pytest.raises(ValueError, match="seconds must be more than 0"):
        Seconds(bad)


def test_as_long_as_it_takes_is_allowed():
    assert Seconds(math.inf).seconds == math.inf
