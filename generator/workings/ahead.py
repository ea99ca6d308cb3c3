"""Rows of the logs that are dated after the day they are told against."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from dataclasses import replace

from generator.ground.finding import Finding, Severity
from generator.ground.survey import Survey, survey
from generator.ground.wording import _
from generator.shop.records.logs import Batch, Stock, Trial, UpkeepDone, WeighIn
from generator.shop.shop import Shop


def survey_of(shop: Shop, as_of: dt.date) -> Survey:
    """Find rows of what was done or counted that cannot have been yet."""
    rows = tuple(_rows(shop))
    findings = [_finding(row, as_of) for row in rows if row.date > as_of]
    return survey("logs", (), findings, other_checks=len(rows))


def known_by(shop: Shop, as_of: dt.date) -> Shop:
    """A shop without what is weighed in or counted on a day to come: it would change figures."""
    logs = shop.logs
    weigh_ins = tuple(row for row in logs.weigh_ins if row.date <= as_of)
    stock = tuple(row for row in logs.stock if row.date <= as_of)
    if (weigh_ins, stock) == (logs.weigh_ins, logs.stock):
        return shop
    known = replace(logs, weigh_ins=weigh_ins, stock=stock)
    return shop.model_copy(update={"logs": known})


def _rows(shop: Shop) -> Iterator[WeighIn | Batch | Trial | Stock | UpkeepDone]:
    """The rota is left out: it is written ahead."""
    logs = shop.logs
    yield from logs.weigh_ins
    yield from logs.batches
    yield from logs.trials
    yield from logs.stock
    yield from logs.upkeep


def _finding(row: WeighIn | Batch | Trial | Stock | UpkeepDone, as_of: dt.date) -> Finding:
    says = _("{file}, line {line}, is dated {date}, after {day}.").format(
        file=row.origin.file, line=row.origin.line, date=row.date, day=as_of
    )
    mend = _("Correct the year, the month or the day.")
    return Finding("log.future", Severity.FIX, row.origin, says, mend)
