"""The force that melt puts on a mould, and the pressure a plunger or a press can put on it."""

from __future__ import annotations

import math


def clamp_kn(area_cm2: float, pressure_mpa: float, factor: float = 1.0) -> float:
    r"""Force that keeps a mould shut [kN].

    .. math:: F = A\,p\,k

    Parameters
    ----------
    area_cm2
        Area seen along the opening direction, all cavities and runner [cm²].
    pressure_mpa
        In the cavity [MPa].
    factor
        Force of the clamp over the force in the cavity [-].

    References
    ----------
    Handbook. 1 cm² at 1 MPa is 0.1 kN.
    """
    return area_cm2 * pressure_mpa * factor / 10


def pressure_mpa(force_kn: float, area_cm2: float) -> float:
    r"""Pressure of a force spread over an area [MPa].

    .. math:: p = F / A

    Parameters
    ----------
    force_kn
        Force of the press [kN].
    area_cm2
        Area it presses on [cm²].
    """
    return 10 * force_kn / area_cm2


def plunger_mpa(force_kn: float, diameter_mm: float) -> float:
    r"""Pressure under a plunger [MPa].

    .. math:: p = \frac{4 F}{\pi d^2}

    Parameters
    ----------
    force_kn
        Force on the plunger [kN].
    diameter_mm
        Of the plunger [mm].
    """
    return 4000 * force_kn / (math.pi * diameter_mm**2)
