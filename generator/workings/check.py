"""Every check over a whole shop, gathered into one list of findings in file order."""

from __future__ import annotations

from generator.ground.finding import Finding, in_file_order
from generator.shop.shop import Shop
from generator.workings import risk
from generator.workings.heat import Refusals


def findings(shop: Shop) -> tuple[Finding, ...]:
    """Everything found wrong, doubtful or unanswered.

    Parameters
    ----------
    shop
        The shop, read without a data fault.
    """
    return in_file_order([*Refusals(shop).findings(), *risk.findings(shop)])
