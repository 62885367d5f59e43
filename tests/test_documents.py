"""README and DEVELOPERS: every command they show exists, and every file they name."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from django.core.management import get_commands, load_command_class

ROOT = Path(__file__).resolve().parent.parent
DOCUMENTS = ["README.md", "DEVELOPERS.md"]
COMMAND = re.compile(r"(?:python3?|\.venv/bin/python) manage\.py ([a-z_]+)((?: +[^\s`|]+)*)")
PATH = re.compile(r"`((?:inventory|workshops|tests|fixtures|\.ci)/[\w./*-]*)`")


def text_of(name: str) -> str:
    return (ROOT / name).read_text(encoding="utf-8")


@pytest.mark.parametrize("name", DOCUMENTS)
def test_every_command_it_shows_exists(name: str) -> None:
    shown = {command for command, _ in COMMAND.findall(text_of(name))}
    assert shown, f"{name} shows no command"
    assert shown <= set(get_commands())


@pytest.mark.parametrize("name", DOCUMENTS)
def test_every_option_it_shows_exists(name: str) -> None:
    for command, words in COMMAND.findall(text_of(name)):
        if command == "test":
            continue  # what follows is pytest's
        options = re.findall(r"(?<!\S)--[a-z-]+", words)
        parser = load_command_class(get_commands()[command], command).create_parser("m", command)
        known = set(parser._option_string_actions)
        assert set(options) <= known, f"{command} has no {set(options) - known}"


@pytest.mark.parametrize("name", DOCUMENTS)
def test_every_path_it_names_exists(name: str) -> None:
    named = PATH.findall(text_of(name))
    assert [path for path in named if not list(ROOT.glob(path.rstrip("/")))] == []


@pytest.mark.parametrize("name", DOCUMENTS)
def test_every_link_to_a_file_leads_to_one(name: str) -> None:
    links = re.findall(r"\]\((?!https?:|#|mailto:)([^)#]+)", text_of(name))
    assert [link for link in links if not (ROOT / link).exists()] == []
