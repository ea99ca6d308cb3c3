"""What is logged weekly, a CSV row each. Amounts are in the unit their column names."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass

from generator.ground.origin import Origin


@dataclass(frozen=True, slots=True)
class WeighIn:
    """Plastic put on the scale at the door (``weigh-ins.csv``)."""

    origin: Origin
    date: dt.date
    donor: str
    polymer: str
    colour: str
    form: str
    kg: float
    rejected_kg: float
    why: str
    batch: str


@dataclass(frozen=True, slots=True)
class Batch:
    """A label: one polymer and colour at one step (``batches.csv``)."""

    origin: Origin
    batch: str
    date: dt.date
    step: str
    polymer: str
    colour: str
    kg: float
    made_from: tuple[str, ...]
    blend: str
    product: str
    count: int
    container: str
    station: str


@dataclass(frozen=True, slots=True)
class Trial:
    """One setting tried on one mould (``trials.csv``)."""

    origin: Origin
    trial: str
    date: dt.date
    machine: str
    mould: str
    blend: str
    melt_c: float | None
    mould_c: float | None
    pressure_mpa: float | None
    cycle_s: float | None
    part_g: float | None
    result: str
    fault: str
    photo: str
    note: str


@dataclass(frozen=True, slots=True)
class Stock:
    """What stood where at a count (``stock.csv``)."""

    origin: Origin
    date: dt.date
    polymer: str
    colour: str
    form: str
    kg: float
    container: str
    count: int
    station: str


@dataclass(frozen=True, slots=True)
class Shift:
    """A shift on the rota, by role (``rota.csv``)."""

    origin: Origin
    date: dt.date
    start: dt.time
    end: dt.time
    role: str
    count: int


@dataclass(frozen=True, slots=True)
class UpkeepDone:
    """A piece of upkeep that was done (``upkeep.csv``)."""

    origin: Origin
    date: dt.date
    machine: str
    task: str
    running_h: float | None
    role: str
    note: str


@dataclass(frozen=True, slots=True)
class Logs:
    """Everything logged, in file order."""

    weigh_ins: tuple[WeighIn, ...] = ()
    batches: tuple[Batch, ...] = ()
    trials: tuple[Trial, ...] = ()
    stock: tuple[Stock, ...] = ()
    rota: tuple[Shift, ...] = ()
    upkeep: tuple[UpkeepDone, ...] = ()
