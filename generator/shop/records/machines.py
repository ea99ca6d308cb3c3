"""Machines: what turns, heats or cuts, with every figure that room, power, air and time need."""

from __future__ import annotations

from typing import Literal

from generator.shop.fields import (
    C,
    Cm3,
    Day,
    Db,
    Factor,
    Fraction,
    H,
    Id,
    Kg,
    Kgh,
    Kn,
    Kw,
    Many,
    Min,
    Mm,
    Mpa,
    Percent,
    Period,
    Price,
    Record,
    S,
    Size,
    SomeMgh,
    SomeMin,
    SomeMm,
    SomeV,
    Text,
)
from generator.shop.records.refs import (
    CircuitId,
    ConsumableId,
    Level,
    PolymerId,
    ProcedureId,
    Side,
    StationId,
    SubstanceId,
    ToolId,
)
from generator.shop.records.stations import Use

MachineKind = Literal[
    "granulator",
    "shredder",
    "wash-tub",
    "spin-dryer",
    "drying-cabinet",
    "plunger-injector",
    "screw-injector",
    "extruder",
    "platen-press",
    "oven",
    "band-saw",
    "belt-sander",
    "pillar-drill",
    "extractor",
    "scale",
    "sealer",
    "other",
]
HOT_KINDS = frozenset(
    {
        "drying-cabinet",
        "plunger-injector",
        "screw-injector",
        "extruder",
        "platen-press",
        "oven",
        "sealer",
    }
)
"""Machines that warm plastic, whatever the shop says of them."""

Process = Literal["injection", "extrusion", "press", "drying"]
PROCESS_OF_KIND: dict[str, Process] = {
    "plunger-injector": "injection",
    "screw-injector": "injection",
    "extruder": "extrusion",
    "platen-press": "press",
    "oven": "press",
    "drying-cabinet": "drying",
}


class Electric(Record):
    """What the machine draws."""

    power_kw: Kw
    of_shaft: bool = False
    """True where the plate states shaft power, so that efficiency counts."""
    voltage_v: SomeV
    phases: Literal["one", "two", "three"]
    power_factor: Fraction | None = None
    efficiency: Fraction | None = None
    starting_factor: Factor | None = None
    """Starting current over full-load current."""
    continuous: bool = False
    """Whether it runs three hours or more at a stretch."""
    duty_percent: Percent = 100.0
    """Share of its running time at full power, once hot."""
    circuit: CircuitId
    outlet: str | None = None
    restarts: bool | None = None
    """Whether it starts by itself when power comes back; left out means nobody has tried."""
    leakage_note: Text | None = None


class Noise(Record):
    """A level at a distance, and where it comes from."""

    level_db: Db
    distance_mm: SomeMm = 1000.0
    measured: Day | None = None
    """When the shop measured it; left out, it is the maker's figure or a guess."""


class HotSurface(Record):
    """A surface somebody can reach."""

    where: Text
    surface_c: C
    material: Literal["metal", "plastic", "wood", "glass"] = "metal"
    guarded: bool = False


class GuardOpening(Record):
    """An opening through which something moving can be reached."""

    where: Text
    shape: Literal["slot", "square", "round"]
    opening_mm: Mm
    """The slot's width, the square's side or the diameter."""
    length_mm: Mm | None = None
    distance_mm: Mm
    """From the opening to what moves."""
    interlocked: bool | None = None


class Moves(Record):
    """A part that travels outside the station's outline."""

    what: Text
    side: Side
    reach_mm: Mm


class Emission(Record):
    """What the machine gives off while it runs the polymer, as somebody measured or confirmed it.

    Nothing is assumed in its place: rates vary with temperature and dirt.
    """

    substance: SubstanceId
    rate_mgh: SomeMgh
    measured: Day | None = None
    """When it was measured at this machine."""
    confirmed_by: Text | None = None
    """Who stands for the figure where it was not measured here: a function, never a name."""


class Setting(Record):
    """How this shop runs one polymer on this machine."""

    polymer: PolymerId
    melt_c: C | None = None
    zones_c: Many[C] = ()
    """Barrel zones from the feed to the nozzle."""
    mould_c: C | None = None
    rate_kgh: Kgh | None = None
    screen_mm: Mm | None = None
    largest_piece_mm: Mm | None = None
    drying_at_c: C | None = None
    drying_for_h: H | None = None
    hold_s: S | None = None
    hot_hold_min: Min | None = None
    """How long the plastic may stay hot before it is purged or cooled."""
    purge_kg: Kg | None = None
    clean_down: Text | None = None
    clean_down_takes_min: Min | None = None
    emissions: Many[Emission] = ()
    note: Text | None = None


class Capacity(Record):
    """What the machine can take at most."""

    shot_cm3: Cm3 | None = None
    barrel_cm3: Cm3 | None = None
    injection_mpa: Mpa | None = None
    clamp_kn: Kn | None = None
    platen: Size | None = None
    daylight_mm: Mm | None = None
    """Opening between the platens."""
    batch_kg: Kg | None = None
    throughput_kgh: Kgh | None = None
    feed_opening: Size | None = None


class HeatTimes(Record):
    """How long it takes to be ready and to be cold again."""

    heat_up_min: SomeMin
    soak_min: Min = 0.0
    """After the set point is shown, before the first shot."""
    cool_down_min: Min
    highest_c: C
    """The highest set point it allows."""


class Upkeep(Record):
    """Something done again and again so that it lasts."""

    what: Text
    every: Period
    who: Level = "maintainer"
    lock_out: bool = False
    takes_min: Min = 15.0
    procedure: ProcedureId | None = None
    uses: Many[ConsumableId] = ()
    tools: Many[ToolId] = ()


class FirstHeatCheck(Record):
    """A check before the machine is used for the first time."""

    check: Literal[
        "earth-continuity",
        "over-temperature-cut-out",
        "emergency-stop",
        "interlocks",
        "run-down-time",
        "no-restart",
        "guards",
    ]
    done: Day | None = None
    by: Text | None = None
    """A function, never a name."""
    value: Text | None = None


class OutOfUse(Record):
    """A machine that nobody may use for now."""

    since: Day
    because: Text


class Alteration(Record):
    """A change to a machine: moved, rebuilt, another guard, another tool in it."""

    day: Day
    what: Text


class Machine(Record):
    """A machine on a station."""

    name: Text
    kind: MachineKind
    station: StationId
    use: Use | None = None
    """Where it differs from the station's."""
    electric: Electric | None = None
    heat: HeatTimes | None = None
    noise: Noise | None = None
    hot_surfaces: Many[HotSurface] = ()
    guard_openings: Many[GuardOpening] = ()
    moves: Many[Moves] = ()
    run_down_s: S | None = None
    """From stop to standstill."""
    emergency_stop: bool | None = None
    capacity: Capacity = Capacity()
    settings: Many[Setting] = ()
    energy_sources: Many[Literal["electric", "heat", "spring", "weight", "air", "hydraulic"]] = ()
    lock_out: Many[Text] = ()
    """The steps that leave it dead, in order."""
    upkeep: dict[Id, Upkeep] = {}
    first_heat: Many[FirstHeatCheck] = ()
    runs_per_week_h: H | None = None
    """Running hours in an ordinary week, from the log or as planned."""
    mass_kg: Kg | None = None
    needs_extraction: bool | None = None
    out_of_use: OutOfUse | None = None
    """Left out while it can be used."""
    altered: Many[Alteration] = ()
    """Every change to it that its hazards must be gone through for."""
    price: Price | None = None

    @property
    def is_hot(self) -> bool:
        """Whether it warms plastic: by what it is, or by a set point of its own."""
        return self.kind in HOT_KINDS or self.heat is not None

    @property
    def process(self) -> Process | None:
        """Which column of the process windows it is held against."""
        return PROCESS_OF_KIND.get(self.kind)
