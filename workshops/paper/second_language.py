"""A card's texts in a second language, from the translation files beside this module.

A file holds source text and translation, field by field. What is filled in on the night
stands in braces: figures and names go over unchanged, ``{text}`` is translated in its turn.
A text without a translation, such as the club's own, stays English and says so.
"""

from __future__ import annotations

import json
import re
from dataclasses import dataclass
from datetime import datetime
from functools import cache
from pathlib import Path

from django.utils.formats import date_format
from django.utils.translation import override

LANGUAGES = {"es": "Spanish", "fr": "French"}
FILES = Path(__file__).parent / "translations"
_FIGURES = {
    "count": r"(?P<count>\d+)(?:st|nd|rd|th)",
    "date": r"(?P<date>\d{1,2} [A-Z][a-z]{2} \d{4})",
    "many": r"(?P<many>\d[\d.,]*)",
    **{name: rf"(?P<{name}>\d+)" for name in ("n", "m", "age", "minutes", "amperes", "shade")},
}
_BRACES = re.compile(r"\{(\w+)\}")


@dataclass(frozen=True)
class Language:
    """One translation file."""

    code: str
    mark: str
    sections: dict[str, dict[str, str]]
    exact: dict[str, str]
    patterns: list[tuple[re.Pattern[str], str]]

    def of(self, text: str) -> str:
        """The text translated, or as it is with the mark before it."""
        found = self.known(text)
        return found if found is not None else f"{self.mark} {text}"

    def of_club(self, text: str) -> str:
        """As ``of``; empty stays empty."""
        return self.of(text) if text else ""

    def known(self, text: str) -> str | None:
        """The text translated; ``None`` where the file has nothing for it."""
        if text in self.exact:
            return self.exact[text]
        for pattern, translated in self.patterns:
            if found := pattern.fullmatch(text):
                filled = {name: self._filled(name, v) for name, v in found.groupdict().items()}
                return translated.format(**filled)
        return None

    def _filled(self, name: str, value: str) -> str:
        if name == "text":
            return self.of(value)
        if name == "date":
            with override(self.code):
                return date_format(datetime.strptime(value, "%d %b %Y"), "j M Y")
        return value.replace(") and ", f") {self.exact['and']} ") if name == "watch" else value


@cache
def language(code: str) -> Language:
    """The translations of a language, read once.

    Raises
    ------
    KeyError
        When there is no file for it.
    """
    if code not in LANGUAGES:
        raise KeyError(code)
    told = json.loads((FILES / f"{code}.json").read_text(encoding="utf-8"))
    mark = told.pop("mark")
    pairs = {source: said for rows in told.values() for source, said in rows.items()}
    open_ones = [source for source in pairs if "{" in source]
    # The most words first: a short sentence would swallow the beginning of a longer one.
    open_ones.sort(key=lambda source: -len(_BRACES.sub("", source)))
    return Language(
        code=code,
        mark=mark,
        sections=told,
        exact={source: said for source, said in pairs.items() if "{" not in source},
        patterns=[(_pattern(source), pairs[source]) for source in open_ones],
    )


def _pattern(source: str) -> re.Pattern[str]:
    """What a sentence with braces matches; a name met again must say the same again."""
    parts, met = [], set()
    for at, part in enumerate(_BRACES.split(source)):
        if at % 2 == 0:
            parts.append(re.escape(part))
        elif part in met:
            parts.append(f"(?P={part})")
        else:
            met.add(part)
            parts.append(_FIGURES.get(part, f"(?P<{part}>.+?)"))
    return re.compile("".join(parts), re.DOTALL)
