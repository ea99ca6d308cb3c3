"""Keys to a drawing: a sample of a line form, and what it stands for."""

from __future__ import annotations

from dataclasses import dataclass

from generator.drawings.ink import Drawing, Item

SAMPLE = (44.0, 18.0)
"""Width and height of a line form shown in a key [px]."""


@dataclass(frozen=True, slots=True)
class Key:
    """One line of a key: a sample of a line form, and what it stands for."""

    sample: tuple[Item, ...]
    words: str

    @property
    def drawing(self) -> Drawing:
        """The sample by itself; its words stand beside it."""
        return Drawing(*SAMPLE, self.sample, self.words, self.words)
