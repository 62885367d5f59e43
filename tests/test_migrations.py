"""Migrations say what the models say, and every slice's own begin at nothing."""

from __future__ import annotations

import pytest
from django.apps import apps
from django.core.management import call_command
from django.db import connection
from django.db.migrations.loader import MigrationLoader

OURS = [c.label for c in apps.get_app_configs() if c.name.startswith(("inventory.", "workshops."))]


@pytest.mark.django_db
def test_no_model_waits_for_a_migration(capsys: pytest.CaptureFixture[str]) -> None:
    call_command("makemigrations", check=True, dry_run=True, verbosity=1)
    assert "No changes detected" in capsys.readouterr().out


@pytest.mark.django_db
@pytest.mark.parametrize("label", OURS)
def test_a_slice_has_one_line_of_migrations(label: str) -> None:
    leaves = MigrationLoader(connection).graph.leaf_nodes(label)
    has_models = bool(list(apps.get_app_config(label).get_models()))
    assert len(leaves) == int(has_models)


@pytest.mark.django_db
def test_every_row_that_belongs_to_a_shop_says_so_in_the_database() -> None:
    """A row of one shop's is found by its shop, or by a row that is."""
    for label in OURS:
        for model in apps.get_app_config(label).get_models():
            fields = {field.name: field for field in model._meta.get_fields()}
            if "shop" in fields and model.__name__ != "Membership":
                assert not fields["shop"].null, f"{model.__name__}.shop may be empty"
