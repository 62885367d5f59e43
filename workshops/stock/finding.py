"""Finding an item by what a person types of its name."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable

from inventory.materials.models import Item

TOLD = 4  # names offered when several fit


class NotFound(ValueError):
    """A name that is no item's, or several items'; the sentence says what to type."""


class Finder:
    """The items of a shop by name: whole, by address, by its beginning, or by words in it."""

    def __init__(self, items: Iterable[Item]) -> None:
        self.items = list(items)
        twice = Counter(str(item).casefold() for item in self.items)
        # Two items of one name are told apart by their address.
        self.names = {
            item.pk: str(item) if twice[str(item).casefold()] == 1 else f"{item} ({item.slug})"
            for item in self.items
        }
        self._whole = {self.names[item.pk].casefold(): item for item in self.items}
        self._whole |= {item.slug: item for item in self.items}

    def name_of(self, item: Item) -> str:
        """What is typed to mean this item and no other."""
        return self.names[item.pk]

    def find(self, text: str) -> Item:
        """The item that was meant.

        Raises
        ------
        NotFound
            When none or several go by that name.
        """
        typed = " ".join(text.split()).casefold()
        if typed in self._whole:
            return self._whole[typed]
        words = typed.split()
        fit = [
            item for item in self.items
            if all(word in self.names[item.pk].casefold() for word in words)
        ]  # fmt: skip
        # Who types "post" means the post tube, not the short post that has the word as well.
        begun = [item for item in fit if self.names[item.pk].casefold().startswith(typed)]
        if len(begun or fit) == 1:
            return (begun or fit)[0]
        if not fit:
            raise NotFound(f"Nothing here is called “{text.strip()}”: choose from the list.")
        offered = ", ".join(self.names[item.pk] for item in fit[:TOLD])
        more = " and more" if len(fit) > TOLD else ""
        raise NotFound(f"Several go by that: {offered}{more}. Write one of them out.")
