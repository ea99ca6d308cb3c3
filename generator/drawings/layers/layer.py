"""What a layer is: a few shapes over the plan, a switch, and a key to its line forms."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from generator.drawings.ink import Group, Item
from generator.drawings.keys import Key


@dataclass(frozen=True, slots=True)
class Layer:
    """One layer of a plan.

    ``key`` names it for the page (``escape``), ``title`` is the word on its switch, ``keys``
    tell its line forms apart, and ``on`` says whether the page shows it at first.
    """

    key: str
    title: str
    items: tuple[Item, ...]
    keys: tuple[Key, ...]
    on: bool = True

    @property
    def under(self) -> Group:
        """What is drawn to scale. Its words are in the page's lists as well."""
        return self._group(item for item in self.items if not _is_label(item))

    @property
    def over(self) -> Group:
        """Its labels, which lie over the lines of every layer."""
        return self._group(item for item in self.items if _is_label(item))

    def _group(self, items: Iterable[Item]) -> Group:
        return Group(tuple(items), f"layer layer-{self.key}", hidden=True)


LABEL = "label"
"""The class of a label with its ground."""


def _is_label(item: Item) -> bool:
    return isinstance(item, Group) and item.classes == LABEL
