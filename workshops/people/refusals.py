"""What the actions of this slice refuse, each with a sentence that says what to do."""

from __future__ import annotations

from collections.abc import Sequence

from workshops.people.grounds import Reason


class PeopleRefused(ValueError):
    """A change of the people list or the register that cannot be made.

    ``field`` names what was wrong, for the form; empty when it is the whole.
    """

    def __init__(self, sentence: str, field: str = "") -> None:
        self.field = field
        super().__init__(sentence)


class UnknownField(PeopleRefused):
    """A fact that a person's page does not keep."""


class NotOfThisShop(PeopleRefused):
    """Somebody or something of another shop."""


class DayRefused(PeopleRefused):
    """A day that cannot be: still to come, or out of order."""


class CannotSign(PeopleRefused):
    """The signer may not sign others for that station; ``reasons`` are the gate's."""

    def __init__(self, sentence: str, reasons: Sequence[Reason] = ()) -> None:
        self.reasons = tuple(reasons)
        super().__init__(sentence, "signed_by")


class SignsForHimself(CannotSign):
    """Somebody signs their own sign-off."""


class LevelRefused(PeopleRefused):
    """A level that the signer may not give."""


class PointsMissing(PeopleRefused):
    """Points of the station's list that the club wants ticked."""


class ReviewRefused(PeopleRefused):
    """A second look that cannot be taken."""


class AlreadyBarred(PeopleRefused):
    """The same bar is in force already."""


class NotBarred(PeopleRefused):
    """The bar was lifted before."""


class LiftsOwnBar(PeopleRefused):
    """Somebody lifts the bar that stops themselves."""


class GuardianRefused(PeopleRefused):
    """A guardian who is no grown-up, or a ward who is."""


class MergeRefused(PeopleRefused):
    """Two entries that cannot be made one; the sentence says what to do first."""


class EraseRefused(PeopleRefused):
    """Somebody who cannot be erased yet; ``sentences`` say what to do first."""

    def __init__(self, sentences: Sequence[str]) -> None:
        self.sentences = tuple(sentences)
        super().__init__(" ".join(sentences))
