"""How large a sign must be to be read from afar: pure formulas."""

from __future__ import annotations

import math
from typing import Literal

from generator.reference import Value, reference

Shape = Literal["square", "circle", "triangle"]

_SHAPES: dict[str, Shape] = {
    "circle-bar": "circle",
    "circle": "circle",
    "triangle": "triangle",
    "rectangle": "square",
    "square": "square",
}
_LIT_BY_LX = (400, 200, 100, 5)
"""The light [lx] at which the table has a factor, the brightest first."""

_TRIANGLE = math.sqrt(3) / 2
"""Height of an equilateral triangle over its side."""


def shape_of(code: str) -> Shape:
    """The outline of a registered sign."""
    return _SHAPES[reference().sign_class(code).shape]


def factor_at(lux: float) -> Value | None:
    """The distance factor of a sign lit from outside.

    Parameters
    ----------
    lux
        Light on the sign [lx]. Between two rows the darker one holds.

    Returns
    -------
    Value or None
        Distance over height; None for less light than the table has.

    References
    ----------
    BS 5266-1 table and sign makers' guides.
    """
    row = next((lx for lx in _LIT_BY_LX if lux >= lx), None)
    return None if row is None else reference().limit(f"sign-viewing-factor-{row}lx")


def darkest_factor() -> Value:
    """The factor of the least light the table has."""
    return reference().limit(f"sign-viewing-factor-{_LIT_BY_LX[-1]}lx")


def height_mm(distance_m: float, factor: float) -> float:
    """Height of a sign: ``h = l / Z``.

    Parameters
    ----------
    distance_m
        From the sign to its farthest reader [m].
    factor
        Distance over height.

    Returns
    -------
    float
        Least height of the sign [mm].

    References
    ----------
    BS 5266-1 table and sign makers' guides.
    """
    return 1000 * distance_m / factor


def area_m2(distance_m: float) -> float:
    """Area of a sign: ``A >= L^2 / 2000``, up to about 50 m.

    Parameters
    ----------
    distance_m
        From the sign to its farthest reader [m].

    Returns
    -------
    float
        Least area of the sign [m2].

    References
    ----------
    Of the ISO 3864 lineage; its formula is incomplete in the copy read.
    """
    return distance_m**2 / reference().limit("sign-area-divisor").low


def across_of_area_mm(shape: Shape, area: float) -> float:
    """Side of a square, diameter of a circle or side of a triangle of an area.

    Parameters
    ----------
    shape
        Outline of the sign.
    area
        Its area [m2].

    Returns
    -------
    float
        Its width [mm].
    """
    sides = {
        "square": math.sqrt(area),
        "circle": 2 * math.sqrt(area / math.pi),
        "triangle": math.sqrt(2 * area / _TRIANGLE),
    }
    return 1000 * sides[shape]


def across_mm(shape: Shape, distance_m: float, factor: float) -> float:
    """Width of a sign that is high enough and has area enough.

    Parameters
    ----------
    shape
        Outline of the sign.
    distance_m
        From the sign to its farthest reader [m].
    factor
        Distance over height.

    Returns
    -------
    float
        The larger of what height and area ask for [mm].
    """
    high = height_mm(distance_m, factor)
    wide = high / _TRIANGLE if shape == "triangle" else high
    return max(wide, across_of_area_mm(shape, area_m2(distance_m)))


def high_mm(shape: Shape, across: float) -> float:
    """Height of a sign of a width [mm]."""
    return across * _TRIANGLE if shape == "triangle" else across


def read_from_m(shape: Shape, across: float, factor: float) -> float:
    """From how far a sign of a width [mm] can be read [m]: :func:`across_mm` the other way."""
    return across / across_mm(shape, 1.0, factor)


def letter_mm(distance_m: float) -> float:
    """Height of capitals: distance over 200 [mm]."""
    return 1000 * distance_m / reference().limit("sign-text-divisor").low


def least_letter_mm(distance_m: float) -> float:
    """Height of capitals at the least: distance over 300 [mm]."""
    return 1000 * distance_m / reference().limit("sign-text-divisor-least").low
