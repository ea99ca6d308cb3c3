"""Every check over a whole shop, subject by subject."""

from __future__ import annotations

from collections.abc import Iterable

from generator.ground.finding import Finding, in_file_order
from generator.ground.survey import Survey
from generator.shop.shop import Shop
from generator.workings import air, bearing, light, noise, power, risk, touch
from generator.workings.heat import Refusals
from generator.workings.power import PowerStudy

_MOST_SETS = 2000
"""More sets than this are not listened to one by one: noise then has everything run at once."""


def surveys(shop: Shop) -> tuple[Survey, ...]:
    """Every subject looked at, in the order a reader asks.

    Parameters
    ----------
    shop
        The shop, read without a data fault.
    """
    supply = power.study(shop)
    return (
        Refusals(shop).survey(),
        risk.survey_of(shop),
        supply.survey,
        air.study(shop).survey,
        noise.study(shop, running_together(supply)).survey,
        light.study(shop).survey,
        touch.study(shop).survey,
        bearing.study(shop).survey,
    )


def running_together(supply: PowerStudy) -> tuple[frozenset[str], ...] | None:
    """The sets of machines that the supply lets run at once; None where there are too many."""
    if not supply.sets.complete or supply.sets.count > _MOST_SETS:
        return None
    return tuple(frozenset(chosen) for chosen in supply.sets.sets())


def findings_of(made: Iterable[Survey]) -> tuple[Finding, ...]:
    """Everything found by some surveys, in file order."""
    return in_file_order(finding for survey in made for finding in survey.findings)
