"""What the actions of this slice refuse, each with a sentence that says what to do."""

from __future__ import annotations


class StationsRefused(ValueError):
    """A change that cannot be made; ``field`` names what was wrong, empty for the whole."""

    def __init__(self, sentence: str, field: str = "") -> None:
        self.field = field
        super().__init__(sentence)


class UnknownField(StationsRefused):
    """A fact that the row does not keep."""


class NotOfThisShop(StationsRefused):
    """Something of another shop."""


class NotADraft(StationsRefused):
    """A build sheet in force or superseded is not changed: a new revision is made."""


class NotDrawable(StationsRefused):
    """A build sheet of which no drawing can be made does not come into force."""


class ToolRefused(StationsRefused):
    """More tools out of service than there are, or none with a fault to tell."""
