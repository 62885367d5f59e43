"""How many cases a property is tried on: few in an ordinary run, many when there is time.

``HYPOTHESIS_PROFILE=long python3 manage.py test`` tries twenty times as many.
"""

from __future__ import annotations

import os
from typing import Any

from hypothesis import settings

IS_LONG = os.environ.get("HYPOTHESIS_PROFILE") == "long"
MANY = 20


def examples(few: int, **rest: Any) -> settings:
    """Settings for a property; no deadline, because other work may share the machine."""
    return settings(max_examples=few * MANY if IS_LONG else few, deadline=None, **rest)
