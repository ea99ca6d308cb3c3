"""One place on the hang-list: what hangs there, and what is missing."""

from __future__ import annotations

from dataclasses import dataclass

from generator.ground.paper import Paper
from generator.shop.records.room import HungSign
from generator.workings.signage.faces import Spot
from generator.workings.signage.needs import Need
from generator.workings.signage.sizes import Size


@dataclass(frozen=True, slots=True)
class Wanted:
    """A sign that is missing: what asks for it, how large it must be, the least paper for it."""

    need: Need
    size: Size
    paper: Paper | None

    @property
    def code(self) -> str:
        return self.need.code


@dataclass(frozen=True, slots=True)
class Posted:
    """A sign that hangs, the needs it answers, and how large it should be (None if for none).

    ``against`` are needs of the same place that it contradicts.
    """

    id: str
    hung: HungSign
    needs: tuple[Need, ...]
    size: Size | None
    against: tuple[Need, ...] = ()

    @property
    def code(self) -> str:
        return self.hung.sign

    @property
    def too_small(self) -> bool:
        """Whether it is known to be smaller than its distance asks for."""
        needed = self.size.across_mm if self.size else None
        has = self.hung.across_mm
        return needed is not None and has is not None and has < needed


@dataclass(frozen=True, slots=True)
class Place:
    """One place on the hang-list: what hangs there and what is missing.

    ``subject`` is the record it is told by (``stations/granulator-bay``). ``lower_mm`` is where
    the lower edge of what is missing comes, over the floor.
    """

    id: str
    subject: str
    spot: Spot
    lower_mm: float
    wanted: tuple[Wanted, ...]
    posted: tuple[Posted, ...]

    @property
    def lacking(self) -> int:
        """How many signs are to be hung there: what is missing, and what is too small."""
        return len(self.wanted) + sum(sign.too_small for sign in self.posted)

    @property
    def codes(self) -> tuple[str, ...]:
        """Every sign of the place, what is missing first."""
        return (*(w.code for w in self.wanted), *(p.code for p in self.posted))
