"""The running of the shop on a day: what is due, what wears out, what must be signed."""

from __future__ import annotations

import datetime as dt
from functools import cached_property

from generator.ground.survey import Survey
from generator.shop.shop import Shop
from generator.workings import (
    ahead,
    commissioning,
    duties,
    loans,
    manning,
    risk,
    standstill,
    stores,
    upkeep,
)
from generator.workings.duties import DutyStudy
from generator.workings.loans import LoanStudy
from generator.workings.stores import StoresStudy
from generator.workings.upkeep import UpkeepStudy


class Running:
    """Everything that is told against one date.

    Parameters
    ----------
    shop
        The shop, read without a data fault.
    as_of
        The date.
    """

    def __init__(self, shop: Shop, as_of: dt.date) -> None:
        self.shop = shop
        self.as_of = as_of

    @cached_property
    def upkeep(self) -> UpkeepStudy:
        """Which upkeep is due, and what stops without a machine."""
        return upkeep.study(self.shop, self.as_of)

    @cached_property
    def duties(self) -> DutyStudy:
        """Everything with a date."""
        return duties.study(self.shop, self.as_of, self.upkeep)

    @cached_property
    def stores(self) -> StoresStudy:
        """What wears out, what runs out, and where each lives."""
        return stores.study(self.shop, self.as_of)

    @cached_property
    def loans(self) -> LoanStudy:
        """Which moulds and tools are out."""
        return loans.study(self.shop, self.as_of)

    @cached_property
    def surveys(self) -> tuple[Survey, ...]:
        """Hazards, signatures before first use, upkeep, dates and stores."""
        return (
            risk.survey_of(self.shop, self.as_of),
            commissioning.survey_of(self.shop),
            standstill.survey_of(self.shop, self.as_of),
            manning.survey_of(self.shop),
            self.upkeep.survey,
            self.duties.survey,
            self.stores.survey,
            self.loans.survey,
            ahead.survey_of(self.shop, self.as_of),
        )
