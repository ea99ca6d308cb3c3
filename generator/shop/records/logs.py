"""What is logged weekly, a CSV row each. Amounts are in the unit their column names.

A field is a column; one with a default may be left out or left empty. A column of type ``Prose``
is written in somebody's own words and may name anybody: it is for the shop alone, and
:func:`generator.workings.for_readers.for_readers` takes it out of whatever is published.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Annotated, Literal

from generator.ground.origin import Origin
from generator.shop.fields import Plain, Ref
from generator.shop.records.refs import Condition, MaterialForm

Number = Annotated[float, Plain("12.5", least=0, most=1_000_000)]
Temperature = Annotated[float, Plain("185", least=-60, most=600)]
Whole = Annotated[int, Plain("12", whole=True, least=0, most=1_000_000)]

BatchLabel = Annotated[str, Ref("logs.batches")]


class OwnWords:
    """Marks a column written in somebody's own words."""


Prose = Annotated[str, OwnWords()]


class InPhotos:
    """Marks a column that names a picture in the shop's folder of photographs."""


PhotoName = Annotated[str, InPhotos()]
"""Never published itself, since a file's name may be anybody's: the trial's label stands for it."""

Rejection = Literal[
    "no mark",
    "wrong plastic",
    "dirty",
    "metal in it",
    "stuck on",
    "smell",
    "wet",
    "brittle",
    "not taken",
    "other",
]
"""Why plastic is handed back, in words that may be published."""


@dataclass(frozen=True, slots=True)
class WeighIn:
    """Plastic put on the scale at the door (``weigh-ins.csv``)."""

    origin: Origin
    date: dt.date
    donor: Annotated[str, Ref("donors")]
    polymer: Annotated[str, Ref("polymers")]
    kg: Number
    """All that was put on the scale, with what was rejected."""
    form: MaterialForm | Literal[""] = ""
    colour: str = ""
    rejected_kg: Number = 0.0
    rejected_for: Rejection | Literal[""] = ""
    why: Prose = ""
    """More about why it was rejected, for the shop alone."""
    batch: BatchLabel = ""
    """The label it was given."""


@dataclass(frozen=True, slots=True)
class Batch:
    """A label: one polymer and colour at one step (``batches.csv``)."""

    origin: Origin
    batch: str
    """The label, without spaces."""
    date: dt.date
    step: Condition
    kg: Number
    polymer: Annotated[str, Ref("polymers")] = ""
    """Left out where a blend is named."""
    colour: str = ""
    made_from: tuple[BatchLabel, ...] = ()
    """Labels with a space between."""
    blend: Annotated[str, Ref("blends")] = ""
    product: Annotated[str, Ref("products")] = ""
    count: Whole = 0
    container: Annotated[str, Ref("containers")] = ""
    station: Annotated[str, Ref("stations")] = ""


@dataclass(frozen=True, slots=True)
class Trial:
    """One setting tried on one mould (``trials.csv``)."""

    origin: Origin
    trial: str
    """Its number or label in the trial book."""
    date: dt.date
    machine: Annotated[str, Ref("machines")]
    mould: Annotated[str, Ref("moulds")]
    blend: Annotated[str, Ref("blends")]
    result: Literal["good", "usable", "failed"]
    melt_c: Temperature | None = None
    mould_c: Temperature | None = None
    pressure_mpa: Number | None = None
    cycle_s: Number | None = None
    part_g: Number | None = None
    fault: Prose = ""
    """What was wrong with the part, in the moulder's words; the trade's words among them are
    published."""
    photo: PhotoName = ""
    """A picture of the part in the shop's folder ``photos``, such as ``t04.jpg``. It is published
    under the trial's label, without what the camera wrote beside it."""
    note: Prose = ""


@dataclass(frozen=True, slots=True)
class Stock:
    """What stood where at a count (``stock.csv``)."""

    origin: Origin
    date: dt.date
    polymer: Annotated[str, Ref("polymers")]
    form: MaterialForm
    kg: Number
    station: Annotated[str, Ref("stations")]
    colour: str = ""
    container: Annotated[str, Ref("containers")] = ""
    count: Whole = 0
    """How many containers."""


@dataclass(frozen=True, slots=True)
class Shift:
    """A shift on the rota, by role (``rota.csv``)."""

    origin: Origin
    date: dt.date
    start: dt.time
    end: dt.time
    role: Annotated[str, Ref("roles")]
    count: Whole = 1
    """How many people."""


@dataclass(frozen=True, slots=True)
class UpkeepDone:
    """A piece of upkeep that was done (``upkeep.csv``)."""

    origin: Origin
    date: dt.date
    machine: Annotated[str, Ref("machines")]
    task: str
    """The id under the machine's ``upkeep``."""
    running_h: Number | None = None
    """What the machine's hour counter showed."""
    role: Annotated[str, Ref("roles")] = ""
    note: Prose = ""


@dataclass(frozen=True, slots=True)
class Loan:
    """A mould or a tool that left its place (``loans.csv``)."""

    origin: Origin
    out: dt.date
    mould: Annotated[str, Ref("moulds")] = ""
    tool: Annotated[str, Ref("tools")] = ""
    """A row names a mould or a tool."""
    station: Annotated[str, Ref("stations")] = ""
    """Where it went in the shop."""
    contact: Annotated[str, Ref("contacts")] = ""
    """Who has it outside, by function."""
    role: Annotated[str, Ref("roles")] = ""
    """Who took it."""
    until: dt.date | None = None
    """When it is to be back."""
    back: dt.date | None = None
    """When it came back; left out while it is out."""
    shots: Whole = 0
    """Shots a mould made while it was out."""
    came_back: Literal["good", "worn", "damaged", ""] = ""
    note: Prose = ""

    @property
    def date(self) -> dt.date:
        """The day the row begins, as in every other log."""
        return self.out


@dataclass(frozen=True, slots=True)
class PrintRun:
    """A sheet that was printed and hung (``printed.csv``), as ``benchleaf printed`` notes it."""

    origin: Origin
    date: dt.date
    sheet: str
    """The sheet's id in the print room."""
    content: str
    """What stands beside "content" on its foot, without spaces."""


@dataclass(frozen=True, slots=True)
class Photo:
    """A picture that a trial names: where it lies, and its size as it is seen [px]."""

    path: Path
    width: int
    height: int


@dataclass(frozen=True, slots=True)
class Logs:
    """Everything logged, in file order; ``photos`` are the pictures that trials name."""

    weigh_ins: tuple[WeighIn, ...] = ()
    batches: tuple[Batch, ...] = ()
    trials: tuple[Trial, ...] = ()
    stock: tuple[Stock, ...] = ()
    rota: tuple[Shift, ...] = ()
    upkeep: tuple[UpkeepDone, ...] = ()
    printed: tuple[PrintRun, ...] = ()
    loans: tuple[Loan, ...] = ()
    photos: Mapping[str, Photo] = field(
        default_factory=dict, repr=False, metadata={"published": False}
    )
