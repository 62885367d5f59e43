"""The house: floors, doors, and habits nobody takes up. Proven on two planted breaches."""

from __future__ import annotations

from pathlib import Path

import pytest
from django.apps import apps

from tests import floors


def faults(place: str, module: str, *, is_late: bool = False) -> list[str]:
    return list(floors.import_faults(place, module, is_late=is_late))


def test_every_module_keeps_the_rules_of_the_house() -> None:
    found = [str(breach) for path in floors.sources() for breach in floors.breaches(path)]
    assert not found, "\n" + "\n".join(found)


def test_every_slice_stands_on_a_floor() -> None:
    slices = {
        config.name for config in apps.get_app_configs()
        if config.name.startswith(("inventory.", "workshops."))
    }  # fmt: skip
    assert slices <= set(floors.FLOORS)


def test_inventory_stands_below_all_workshops() -> None:
    highest = max(floors.FLOORS.index(f"inventory.{name}") for name in floors.INVENTORY)
    assert all(floors.FLOORS.index(f"workshops.{name}") > highest for name in floors.WORKSHOPS)


def planted(tmp_path: Path, place: str, text: str) -> list[str]:
    """What the check says of a file planted at ``place`` in a tree of its own."""
    path = tmp_path / place
    path.parent.mkdir(parents=True)
    path.write_text(text, encoding="utf-8")
    return [str(breach) for breach in floors.breaches(path, tmp_path)]


def test_a_planted_import_from_a_floor_above_is_caught(tmp_path: Path) -> None:
    text = "from workshops.nights.models import Night\n"
    assert planted(tmp_path, "inventory/ledger/queries.py", text) == [
        "inventory/ledger/queries.py:1: "
        "imports workshops.nights.models.Night from a floor above its own"
    ]


def test_a_planted_django_import_in_an_engine_is_caught(tmp_path: Path) -> None:
    text = '"""An engine."""\nimport numpy\nfrom django.db import models\n'
    assert planted(tmp_path, "workshops/nights/engine/solve.py", text) == [
        "workshops/nights/engine/solve.py:3: is pure computing and imports django.db.models"
    ]


def test_a_planted_save_and_a_planted_late_import_are_caught(tmp_path: Path) -> None:
    text = "class Item:\n    def save(self):\n        import json\n"
    says = planted(tmp_path, "inventory/materials/models.py", text)
    assert [line.partition(": ")[2] for line in says] == [
        "imports json inside a function",
        "Item overrides save()",
    ]


@pytest.mark.parametrize(
    ("place", "module"),
    [
        ("workshops/people/gate.py", "workshops.people.words"),
        ("workshops/people/gate.py", "inventory.places.models.Shop"),
        ("workshops/home/views.py", "workshops.nights.queries"),
        ("workshops/nights/actions/tally.py", "inventory.ledger.actions.make"),
        ("workshops/common/pdf.py", "weasyprint"),
        ("workshops/urls.py", "workshops.common.views"),
    ],
)
def test_what_the_house_allows_is_not_a_fault(place: str, module: str) -> None:
    assert faults(place, module, is_late=place.endswith("pdf.py")) == []


@pytest.mark.parametrize(
    ("place", "module", "says"),
    [
        ("workshops/home/views.py", "workshops.nights.views.night", "belong to the slice alone"),
        ("workshops/home/views.py", "workshops.nights.queries._rows", "is private"),
        (
            "workshops/home/views.py",
            "inventory.ledger.book.write",
            "go through the slice's actions",
        ),
        ("inventory/places/models.py", "workshops.settings", "above every slice"),
        ("workshops/paper/cards.py", "weasyprint", "only common/pdf.py"),
        ("workshops/paper/cards.py", "..models", "relatively"),
        ("workshops/people/models.py", "django.db.models.signals.post_save", "signals"),
        ("workshops/people/models.py", "workshops.barn.models", "stands on no floor"),
    ],
)
def test_what_the_house_forbids_is_named(place: str, module: str, says: str) -> None:
    assert any(says in fault for fault in faults(place, module))
