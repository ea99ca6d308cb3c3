"""How much plastic it takes to clear a barrel of what was in it before."""

from __future__ import annotations

import math


def purge_kg(volumes: float, barrel_cm3: float, melt_density_kgm3: float) -> float:
    r"""Mass of a number of barrel volumes of melt [kg].

    .. math:: m = n\,V\,\rho_m

    Parameters
    ----------
    volumes
        Barrel volumes pushed through [-].
    barrel_cm3
        Volume of the barrel [cm³].
    melt_density_kgm3
        Of what it is purged with, as melt [kg/m³].
    """
    return volumes * barrel_cm3 * melt_density_kgm3 * 1e-6


def volumes_of(mass_kg: float, barrel_cm3: float, melt_density_kgm3: float) -> float:
    """The barrel volumes that a mass of melt fills [-]; the reverse of ``purge_kg``."""
    return mass_kg / purge_kg(1.0, barrel_cm3, melt_density_kgm3)


def left_share(volumes: float) -> float:
    r"""Share of the old melt left in a barrel that mixes perfectly, after a purge [-].

    .. math:: w = e^{-n}

    The worst that a plunger can do. A screw pushes the old melt out ahead of the new and leaves
    less, but what hangs behind a nozzle follows no formula: look, after the purge.

    Parameters
    ----------
    volumes
        Barrel volumes pushed through [-].

    References
    ----------
    Textbook, washing out of a stirred vessel.
    """
    return math.exp(-volumes)


def volumes_for(share: float) -> float:
    r"""Barrel volumes after which no more than a share is left, mixing perfectly [-].

    .. math:: n = \ln(1/w)

    Parameters
    ----------
    share
        That may be left, over 0 [-].
    """
    return math.log(1 / share)
