"""The demo command: loads once, tells each step, writes into one folder, destroys nothing."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from io import StringIO
from pathlib import Path
from typing import Any

import pytest
from django.core.management import CommandError, call_command
from django.utils import timezone

from inventory.places.models import Shop
from tests.demo import demo_winter
from workshops.access.actions import NameTaken
from workshops.home.demo.job import Bench, Said, Step, run_steps
from workshops.home.demo.steps import placings
from workshops.home.management.commands import demo
from workshops.nights.actions import unplace
from workshops.nights.models import Placing
from workshops.nights.refusals import NightRefused

COMMAND = "workshops.home.management.commands.demo"


def step(heading: str, *names: str) -> Step:
    """A step that says its heading once more and writes empty files."""

    def run(bench: Bench) -> Said:
        files = [bench.folder / name for name in names]
        for path in files:
            path.touch()
        return Said([f"{heading} is done."], files)

    return Step(heading, run)


@pytest.fixture
def quick(monkeypatch: pytest.MonkeyPatch) -> None:
    """The command with one small step in place of the main job."""
    monkeypatch.setattr(demo, "STEPS", (step("Placings", "cards.pdf"),))
    monkeypatch.setattr("waitress.serve", lambda *args, **options: pytest.fail("it served"))


@pytest.fixture(scope="module")
def winter(django_db_setup: None, django_db_blocker: Any) -> Iterator[Shop]:
    """A demo that is there already, for what is said after loading."""
    with demo_winter(django_db_blocker, timezone.localdate()) as shop:
        yield shop


def run_demo(folder: Path, **options: Any) -> str:
    out = StringIO()
    call_command("demo", output=folder, no_serve=True, stdout=out, **options)
    return out.getvalue()


def test_steps_are_told_in_turn_and_their_files_gathered(tmp_path: Path) -> None:
    bench = Bench(Shop(), date(2026, 1, 14), tmp_path / "new" / "folder")
    told: list[str] = []
    files = run_steps(bench, told.append, [step("One", "a.pdf"), step("Two", "b.svg", "c.pdf")])
    assert [path.name for path in files] == ["a.pdf", "b.svg", "c.pdf"]
    assert told[1].splitlines() == ["", "Two", "---", "Two is done."]


def test_a_step_that_is_refused_says_why_and_the_others_go_on(tmp_path: Path) -> None:
    def refuse(bench: Bench) -> Said:
        raise NightRefused("Somebody was fixed there by hand.")

    told: list[str] = []
    steps = [Step("One", refuse), step("Two", "b.svg")]
    files = run_steps(Bench(Shop(), date(2026, 1, 14), tmp_path), told.append, steps)
    assert told[0].splitlines() == ["", "One", "---", "Somebody was fixed there by hand."]
    assert [path.name for path in files] == ["b.svg"]


@pytest.mark.django_db
def test_a_second_run_uses_what_is_there(quick: None, tmp_path: Path) -> None:
    assert "is loaded" in run_demo(tmp_path)
    shop = Shop.objects.get()
    assert "is used again" in run_demo(tmp_path)
    assert Shop.objects.get() == shop


@pytest.mark.django_db
def test_it_says_which_files_were_written(winter: Shop, quick: None, tmp_path: Path) -> None:
    assert f"written: {tmp_path}/cards.pdf" in run_demo(tmp_path)


@pytest.mark.django_db
def test_beginning_anew_is_refused_where_a_club_would_be_lost(
    quick: None, shop: Shop, tmp_path: Path
) -> None:
    with pytest.raises(CommandError, match="--fresh"):
        run_demo(tmp_path, fresh=True)
    assert Shop.objects.filter(pk=shop.pk).exists()


def test_a_club_whose_sign_ins_the_demo_would_take_is_told_in_one_sentence(
    quick: None, shop: Shop, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def taken(*, today: date) -> Shop:
        raise NameTaken("Somebody already signs in as “coordinator” here.")

    monkeypatch.setattr(demo, "load_demo", taken)
    with pytest.raises(CommandError, match="already signs in as “coordinator”"):
        run_demo(tmp_path)


@pytest.mark.django_db
def test_the_sign_ins_and_the_address_are_told_before_serving(
    winter: Shop, quick: None, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setattr("waitress.serve", lambda *args, **options: None)
    out = StringIO()
    call_command("demo", output=tmp_path, port=48_101, stdout=out)
    said = out.getvalue()
    assert "coordinator" in said
    assert said.index("Sign in with the password") < said.index("http://127.0.0.1:48101/")


@pytest.mark.django_db
def test_what_was_moved_by_hand_stays_in_a_second_run(winter: Shop, tmp_path: Path) -> None:
    bench = Bench(winter, timezone.localdate(), tmp_path)
    placings(bench)
    moved = Placing.objects.filter(night__shop=winter, night__plan__isnull=False).last()
    assert moved is not None
    unplace(night=moved.night, block=moved.block, person=moved.person)
    assert "kept, with what was moved since" in placings(bench).lines[1]
    assert not Placing.objects.filter(block=moved.block, person=moved.person).exists()
