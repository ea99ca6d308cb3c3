"""The charge of a press mould and how high the bed of flake stands.

How long the bed must heat follows from no formula here: flake conducts far worse than the sheet
it becomes, and its latent heat comes on top. The shop's own trial says it, or nobody does.
"""

from __future__ import annotations


def charge_g(part_g: float, loss_percent: float) -> float:
    r"""Flake to weigh in for a part [g].

    .. math:: m_c = \frac{m}{1 - l}

    Parameters
    ----------
    part_g
        What comes out, without flash [g].
    loss_percent
        Share of the charge that leaves as flash [%].
    """
    return part_g / (1 - loss_percent / 100)


def fill_mm(charge_of_flake_g: float, bulk_kgm3: float, area_cm2: float) -> float:
    r"""Height of the loose bed in the mould [mm].

    .. math:: h = \frac{m_c}{\rho_b A}

    Parameters
    ----------
    charge_of_flake_g
        Charge [g].
    bulk_kgm3
        Bulk density of the flake [kg/m³].
    area_cm2
        Area it lies on [cm²].
    """
    return charge_of_flake_g / bulk_kgm3 / area_cm2 * 1e4
