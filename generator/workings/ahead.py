"""Rows of the logs that are dated after the day they are told against."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from dataclasses import replace

from generator.ground.finding import Finding, Severity
from generator.ground.survey import Survey, survey
from generator.ground.wording import _, day_words
from generator.shop.records.logs import Batch, Loan, Stock, Trial, UpkeepDone, WeighIn
from generator.shop.records.material import Mould
from generator.shop.shop import Shop
from generator.workings.loans import shots_by
from generator.workings.partial import copied


def survey_of(shop: Shop, as_of: dt.date) -> Survey:
    """Find rows of what was done or counted that cannot have been yet."""
    rows = tuple(_rows(shop))
    findings = [_finding(row, as_of) for row in rows if row.date > as_of]
    return survey("logs", (), findings, other_checks=len(rows))


def known_by(shop: Shop, as_of: dt.date) -> Shop:
    """A shop as it is known by a day.

    Without what is weighed in or counted on a day to come, which would change figures, and with
    the shots that moulds made on loans since they were counted.
    """
    shop, logs = _with_shots(shop, as_of), shop.logs
    weigh_ins = tuple(row for row in logs.weigh_ins if row.date <= as_of)
    stock = tuple(row for row in logs.stock if row.date <= as_of)
    if (weigh_ins, stock) == (logs.weigh_ins, logs.stock):
        return shop
    known = replace(logs, weigh_ins=weigh_ins, stock=stock)
    return shop.model_copy(update={"logs": known})


def _with_shots(shop: Shop, as_of: dt.date) -> Shop:
    shots = {id_: shots_by(shop, mould, as_of) for id_, mould in shop.moulds.items()}
    more = {id_: n for id_, n in shots.items() if n != shop.moulds[id_].shots}
    if not more:
        return shop
    moulds = {id_: _shot(m, more.get(id_, m.shots)) for id_, m in shop.moulds.items()}
    return copied(shop, {"moulds": moulds})


def _shot(mould: Mould, shots: int) -> Mould:
    return mould if mould.shots == shots else mould.model_copy(update={"shots": shots})


def _rows(shop: Shop) -> Iterator[WeighIn | Batch | Trial | Stock | UpkeepDone | Loan]:
    """The rota is left out: it is written ahead."""
    logs = shop.logs
    yield from logs.weigh_ins
    yield from logs.batches
    yield from logs.trials
    yield from logs.stock
    yield from logs.upkeep
    yield from logs.loans


def _finding(row: WeighIn | Batch | Trial | Stock | UpkeepDone | Loan, as_of: dt.date) -> Finding:
    says = _("{file}, line {line}, is dated {date}, after {day}.").format(
        file=row.origin.file, line=row.origin.line, date=day_words(row.date), day=day_words(as_of)
    )
    mend = _("Correct the year, the month or the day.")
    return Finding("log.future", Severity.FIX, row.origin, says, mend)
