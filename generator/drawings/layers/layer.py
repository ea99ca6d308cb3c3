"""What a layer is: a few shapes over the plan, a switch, and a key to its line forms."""

from __future__ import annotations

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
    def group(self) -> Group:
        """The layer as it lies on the plan. Its words are in the page's lists as well."""
        return Group(self.items, f"layer layer-{self.key}", hidden=True)
