"""Grams as they are read off the bench scale, so that what is weighed adds up to its total."""

from __future__ import annotations

from collections.abc import Sequence

from generator.ground.units import show
from generator.workings.blends.colour import apportioned

_WHOLE_FROM = 1000.0
"""Up to here [g] the bench scale is read to a tenth of a gram, from here on to a gram."""


def weighing(grams: Sequence[float]) -> tuple[tuple[str, ...], str]:
    """Some masses [g] as they are weighed out, and what they come to.

    Each is rounded so that together they are the rounded total, which plain rounding misses.
    """
    total = sum(grams)
    digits = 0 if total >= _WHOLE_FROM else 1
    step = 10.0**-digits
    seats = round(total / step)
    parts = apportioned([mass / total for mass in grams], seats) if total else [0] * len(grams)
    return tuple(_words(n * step, digits) for n in parts), _words(seats * step, digits)


def _words(mass_g: float, digits: int) -> str:
    return show(mass_g, "g", digits)
