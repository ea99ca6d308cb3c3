"""Paper by name, in exact millimetres: the A family of ISO 216, and Letter with its kin."""

from __future__ import annotations

from dataclasses import dataclass, replace


@dataclass(frozen=True, slots=True)
class Paper:
    """A sheet as it lies before the reader: ``width`` across and ``height`` up [mm]."""

    name: str
    width: float
    height: float

    @property
    def turned(self) -> Paper:
        """The same sheet with its other edge up."""
        return replace(self, width=self.height, height=self.width)

    @property
    def landscape(self) -> Paper:
        """The same sheet, wider than it is high."""
        return self if self.width >= self.height else self.turned

    def holds(self, other: Paper) -> bool:
        """Whether the other sheet can be cut out of this one, either way up."""
        mine, its = sorted((self.width, self.height)), sorted((other.width, other.height))
        return mine[0] >= its[0] and mine[1] >= its[1]


A_FAMILY = (
    Paper("A6", 105.0, 148.0),
    Paper("A5", 148.0, 210.0),
    Paper("A4", 210.0, 297.0),
    Paper("A3", 297.0, 420.0),
    Paper("A2", 420.0, 594.0),
    Paper("A1", 594.0, 841.0),
)
"""Upright, the smallest first (ISO 216)."""

LETTER_FAMILY = (
    Paper("Quarter Letter", 107.95, 139.7),
    Paper("Half Letter", 139.7, 215.9),
    Paper("Letter", 215.9, 279.4),
    Paper("Tabloid", 279.4, 431.8),
    Paper("ANSI C", 431.8, 558.8),
    Paper("ANSI D", 558.8, 863.6),
)
"""Upright, the smallest first (ANSI/ASME Y14.1 from Letter up, and its halves)."""

A6, A5, A4, A3, A2, A1 = A_FAMILY
QUARTER_LETTER, HALF_LETTER, LETTER, TABLOID, ANSI_C, ANSI_D = LETTER_FAMILY

FAMILIES = {"A": A_FAMILY, "Letter": LETTER_FAMILY}

_NAMES = {paper.name: paper for family in FAMILIES.values() for paper in family}


def paper(name: str) -> Paper:
    """A sheet by name, upright; ``KeyError`` for one that is not in the two families."""
    return _NAMES[name]
