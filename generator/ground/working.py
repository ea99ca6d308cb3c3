"""One computed quantity shown with its working."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from generator.ground.origin import Origin


@dataclass(frozen=True, slots=True)
class Quantity:
    """A number and its unit, as it is shown (``Quantity(4.7, "A")``)."""

    value: float
    unit: str


@dataclass(frozen=True, slots=True)
class Source:
    """Where a reference figure comes from.

    ``cite`` is the short citation, ``jurisdiction`` the place it holds for ("" for
    anywhere), ``status`` says whether it is a standard's, a handbook's or an assumption.
    """

    cite: str
    status: str
    jurisdiction: str = ""


@dataclass(frozen=True, slots=True)
class Input:
    """A value that went into a working, with the place it was read from."""

    name: str
    quantity: Quantity
    origin: Origin | Source


class Verdict(StrEnum):
    HOLDS = "holds"
    FAILS = "fails"
    UNANSWERED = "unanswered"
    INFORMS = "informs"  # no limit to hold it against


@dataclass(frozen=True, slots=True)
class Working:
    """A result, the formula in plain words, its inputs and the limit it is held against."""

    id: str
    subject: str
    title: str
    formula: str
    inputs: tuple[Input, ...]
    result: Quantity
    verdict: Verdict = Verdict.INFORMS
    limit: Quantity | None = None
    limit_source: Source | Origin | None = None
    margin: Quantity | None = None
    caution: str = ""
    source: Source | None = None
