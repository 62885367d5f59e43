"""The face: contrast of every pair of colours, size of every target, weight of a page."""

from __future__ import annotations

import gzip
import re
from pathlib import Path
from typing import Any

import pytest
from django.contrib.staticfiles import finders
from django.test import Client

from workshops.common.icons import ICONS, icon_svg
from workshops.common.middleware import POLICY

CSS = Path(str(finders.find("common/winterbench.css"))).read_text(encoding="utf-8")
COLOURS = dict(re.findall(r"--wb-(\w+): (#[0-9a-f]{6});", CSS))

# Words on ground: WCAG 2.2, 1.4.3 asks 4.5 to 1.
WORDS = [
    ("ink", "snow"), ("ink", "white"), ("ink", "ice"), ("ink", "straw"), ("ink", "leaf"),
    ("ink", "blush"), ("slate", "snow"), ("slate", "white"), ("white", "water"),
    ("white", "deep"), ("white", "moss"), ("white", "alarm"), ("white", "ink"), ("ice", "ink"),
    ("alarm", "white"), ("deep", "snow"),
]  # fmt: skip
# Edges of controls and states: 1.4.11 asks 3 to 1.
EDGES = [("line", "white"), ("line", "snow"), ("slate", "white"), ("reed", "straw"),
         ("alarm", "white"), ("water", "ice"), ("deep", "white")]  # fmt: skip


def luminance(colour: str) -> float:
    """Relative luminance, WCAG 2.2 section "relative luminance"."""
    parts = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    linear = [p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: str, other: str) -> float:
    light, dark = sorted((luminance(COLOURS[one]), luminance(COLOURS[other])), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def test_black_on_white_is_the_greatest_contrast_there_is() -> None:
    assert (luminance("#ffffff") + 0.05) / (luminance("#000000") + 0.05) == pytest.approx(21)


@pytest.mark.parametrize(("words", "ground"), WORDS)
def test_words_stand_out_from_their_ground(words: str, ground: str) -> None:
    assert contrast(words, ground) >= 4.5


@pytest.mark.parametrize(("edge", "ground"), EDGES)
def test_edges_stand_out_from_their_ground(edge: str, ground: str) -> None:
    assert contrast(edge, ground) >= 3


def test_a_page_weighs_at_most_150_kb_before_pictures(client: Client, db: None) -> None:
    page = client.get("/sign-in/").content
    assets = ["bootstrap/css/bootstrap.min.css", "common/winterbench.css", "common/winterbench.js"]
    assets += ["django_htmx/htmx-2.min.js", "fonts/RedHatDisplay-Bold.ttf", "common/mark.svg"]
    files = [Path(str(finders.find(name))).read_bytes() for name in assets]
    # 60 kB are left for the longest pages' own words.
    assert sum(len(gzip.compress(part)) for part in [page, *files]) <= 90_000


@pytest.mark.parametrize("looks_anew", [True, False])
def test_pages_and_static_files_travel_compressed(
    client: Client, db: None, settings: Any, looks_anew: bool
) -> None:
    settings.WHITENOISE_AUTOREFRESH = looks_anew
    for path in ("/sign-in/", "/static/common/winterbench.css"):
        assert client.get(path, headers={"Accept-Encoding": "gzip"})["Content-Encoding"] == "gzip"


def test_every_page_tells_the_browser_to_load_from_nowhere_else(client: Client, db: None) -> None:
    assert client.get("/sign-in/")["Content-Security-Policy"] == POLICY
    assert "http" not in POLICY


@pytest.mark.parametrize("name", ICONS)
def test_a_drawing_is_hidden_from_readers_unless_it_has_a_label(name: str) -> None:
    assert 'aria-hidden="true"' in icon_svg(name)
    assert 'role="img" aria-label="Print"' in icon_svg(name, "Print")
