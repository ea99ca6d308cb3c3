"""How lengths are said: whole millimetres, metres to the centimetre, the same however turned."""

from __future__ import annotations

import math

from generator.ground.units import show

_NOISE = 1e-6
"""A worked length that should be 900.5 may come out a hair below: it is rounded all the same."""


SPARE_MM = 1.0
"""What is short by less than this holds: layouts on a grid make aisles and clear floors of
exactly what is needed."""


def falls_short(has_mm: float, needed_mm: float) -> bool:
    """Whether a length is short of what is needed by a millimetre or more [mm]."""
    return has_mm <= needed_mm - SPARE_MM + _NOISE


def whole_mm(length_mm: float) -> float:
    """A length rounded to the millimetre, halves up [mm]."""
    return math.floor(length_mm + 0.5 + _NOISE)


def mm(length_mm: float) -> str:
    """A length as a sentence says it: ``940 mm``."""
    return show(whole_mm(length_mm), "mm")


def metres(length_mm: float) -> str:
    """A long length as a sentence says it: ``12.4 m``."""
    return show(math.floor(length_mm / 100 + 0.5 + _NOISE) / 10, "m")


def square_metres(area_mm2: float) -> str:
    """An area as a sentence says it: ``3.2 m²``."""
    return show(math.floor(area_mm2 / 1e5 + 0.5 + _NOISE) / 10, "m2")


def capital(sentence: str) -> str:
    """A sentence with its first letter as a sentence begins."""
    return sentence[:1].upper() + sentence[1:]
