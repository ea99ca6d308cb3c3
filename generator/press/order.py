"""What is to be printed of: the shop, what was worked out of it, and where its handbook lies."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

from generator.drawings.atlas import Atlas
from generator.drawings.foot import Foot
from generator.ground.paper import A4, A_FAMILY, LETTER, Paper, family_of
from generator.press.sheet import held_foot
from generator.shop.shop import Shop
from generator.workings import legible
from generator.workings.check import Studies
from generator.workings.legible import Legible


def with_slash(address: str) -> str:
    """An address to which a page's path can be added; "" stays nowhere."""
    return f"{address.rstrip('/')}/" if address else ""


@dataclass(frozen=True)
class Order:
    """One shop's printing.

    ``address`` is where the handbook is published, with its last slash, or "" where it is
    nowhere; ``language`` is the one the sheets are in. ``first_label`` is the label of a started
    sheet to begin at, from 1.
    """

    studies: Studies
    language: str
    address: str = ""
    first_label: int = 1

    @property
    def shop(self) -> Shop:
        """The shop as it is known on the day."""
        return self.studies.shop

    @cached_property
    def atlas(self) -> Atlas:
        """What the drawings of this shop share."""
        return Atlas(self.shop)

    @cached_property
    def legible(self) -> Mapping[str, Legible]:
        """From how far each station's sheet is read."""
        return legible.study(self.shop, self.studies.floor.standing).stations

    @property
    def family(self) -> tuple[Paper, ...]:
        """The papers of the shop's printer and of a copy shop there, the smallest first."""
        return family_of(self.shop.shop.printer.largest)

    @property
    def paper(self) -> Paper:
        """The paper an ordinary printer there takes, upright."""
        return A4 if self.family == A_FAMILY else LETTER

    @property
    def half(self) -> Paper:
        """Half of that paper, for what is carried in the hand."""
        return self.family[self.family.index(self.paper) - 1]

    def foot(self, number: str) -> Foot:
        """The foot of a drawing, whose date and hash the press fills in."""
        return held_foot(str(self.shop.shop.name), number)
