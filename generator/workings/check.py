"""Every check over a whole shop, subject by subject."""

from __future__ import annotations

from collections.abc import Iterable

from generator.ground.finding import Finding, in_file_order
from generator.ground.survey import Survey
from generator.shop.shop import Shop
from generator.workings import risk
from generator.workings.heat import Refusals


def surveys(shop: Shop) -> tuple[Survey, ...]:
    """Every subject looked at, in the order a reader asks.

    Parameters
    ----------
    shop
        The shop, read without a data fault.
    """
    return (Refusals(shop).survey(), risk.survey_of(shop))


def findings_of(made: Iterable[Survey]) -> tuple[Finding, ...]:
    """Everything found by some surveys, in file order."""
    return in_file_order(finding for survey in made for finding in survey.findings)
