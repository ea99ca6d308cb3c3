"""The room: walls, ways in and out, supply, air, water and what hangs on the walls."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from generator.shop.fields import (
    M2,
    A,
    C,
    Code,
    Day,
    Db,
    Deg,
    Fraction,
    H,
    Id,
    Kpa,
    Kw,
    L,
    Lx,
    M,
    M3h,
    Ma,
    Many,
    Mm,
    Point,
    Record,
    Size,
    Some,
    SomeA,
    SomeMm,
    SomeMm2,
    Text,
)
from generator.shop.records.refs import (
    CircuitId,
    ExtractPointId,
    FanId,
    MachineId,
    SignCode,
    StationId,
    SupplyProfile,
)

Phase = Literal["L1", "L2", "L3"]


class Column(Record):
    """A column or pier that stands in the room."""

    at: Point
    """Its centre."""
    size: Size
    turn_deg: Deg = 0.0


class Door(Record):
    """A door between two jambs on a wall."""

    name: Text
    hinge: Point
    """The jamb that carries the hinges, on the inner face of the wall."""
    latch: Point
    """The other jamb."""
    clear_width_mm: SomeMm
    """What is left to walk through with the leaf open."""
    clear_height_mm: Mm = 2000.0
    opens: Literal["out", "in", "sliding"]
    exit: bool
    """Whether it is a way out in an emergency."""
    lock: Literal["none", "thumb-turn", "push-bar", "key", "bolt"]
    """What a person inside must undo to get out."""
    locked_when_open: bool | None = None
    """Whether it is ever locked while people are in; left out means nobody has said."""
    step_mm: Mm = 0.0
    leads_to: Text


class Window(Record):
    """A window between two points on a wall."""

    start: Point
    end: Point
    sill_height_mm: Mm = 900.0
    openable_m2: M2 = 0.0


class Zone(Record):
    """A part of the room kept apart from the others by what happens there."""

    name: Text
    kind: Literal["public", "clean", "wet", "dusty", "hot", "finishing", "store", "quarantine"]
    visitors: bool
    """Whether visitors may stand in it while the shop runs."""
    outline: Many[Point] = ()
    """Its border on the floor, where one is painted."""


class Fixture(Record):
    """Furniture that is built in and stays."""

    name: Text
    at: Point
    size: Size
    turn_deg: Deg = 0.0
    height_mm: Mm = 900.0


class Supply(Record):
    """How the building is fed."""

    profile: SupplyProfile
    """A row of the supply table, such as ``EU-230-400``."""
    main_fuse_a: SomeA
    phases: Literal["one", "two", "three"]
    loop_impedance_note: Text | None = None
    earthing: Literal["TN-S", "TN-C-S", "TT", "IT", "unknown"] = "unknown"
    panel: Point
    """Where the distribution board hangs."""
    panel_width_mm: Mm = 600.0


class Outlet(Record):
    """A socket or a fixed connection of a circuit."""

    at: Point
    height_mm: Mm = 1100.0
    kind: Literal["socket", "three-phase socket", "fixed"]
    rating_a: SomeA


class Circuit(Record):
    """One protective device and the cable behind it."""

    name: Text
    phases: Some[Phase]
    """``[L2]`` for one phase, ``[L1, L2]`` across two, ``[L1, L2, L3]`` for three."""
    device_a: SomeA
    device_kind: Literal["B", "C", "D", "fuse", "inverse-time"]
    rcd_ma: Ma | None = None
    rcd_type: Literal["AC", "A", "F", "B"] | None = None
    cable_m: M
    """One way, from the board to the farthest outlet [m]."""
    section_mm2: SomeMm2
    cable_rating_a: SomeA | None = None
    """What the cable carries as laid, from the installer (after grouping and ambient)."""
    outlets: dict[Id, Outlet] = {}
    serves: Literal["machines", "sockets", "lighting", "extraction", "heating"] = "machines"
    other_load_a: A | None = None
    """What it carries in each phase beside the machines and fans written here, such as its lamps:
    read with a clamp meter or added up from labels; left out, nobody has looked."""


class ExtractPoint(Record):
    """Where a duct can leave the room."""

    at: Point
    height_mm: Mm
    diameter_mm: SomeMm


class Fan(Record):
    """A fan that moves air out, in, or round."""

    name: Text
    discharge: Literal["outside", "recirculating", "supply"]
    """Where its air goes: out of the room, back into it, or from outside into it."""
    extract_point: ExtractPointId | None = None
    flow_m3h: M3h | None = None
    """What it moves as installed."""
    measured: Day | None = None
    """When somebody measured that."""
    power_kw: Kw = 0.0
    power_factor: Fraction | None = None
    circuit: CircuitId | None = None
    restarts: bool | None = None
    """Whether it starts by itself when power comes back; left out means nobody has tried."""
    runs_per_week_h: H | None = None
    stops_with: Text | None = None
    """What else makes it stop."""


class Hood(Record):
    """A capture hood over or beside a source."""

    name: Text
    station: StationId
    form: Literal["plain", "flanged", "canopy"]
    opening: Size
    distance_mm: SomeMm
    """From the opening to the source; for a canopy the height above it."""
    fan: FanId
    duct_m: M = 0.0
    duct_diameter_mm: SomeMm | None = None
    flow_m3h: M3h | None = None
    measured: Day | None = None


class WaterPoint(Record):
    """A tap, a drain or both."""

    at: Point
    kind: Literal["tap", "drain", "tap and drain"]
    hot: bool = False
    catch_screen_mm: Mm | None = None
    """Mesh of the screen before the drain."""
    use_per_week_l: L | None = None
    """What is drawn in an ordinary week: read on a meter, or basins counted."""


EquipmentKind = Literal[
    "extinguisher",
    "fire-blanket",
    "alarm-point",
    "first-aid",
    "eyewash",
    "burn-sink",
    "isolator",
    "emergency-stop",
    "lock-out-station",
    "emergency-light",
    "spill-kit",
]


class Equipment(Record):
    """Something that must be found at once."""

    kind: EquipmentKind
    name: Text
    at: Point
    height_mm: Mm = 1500.0
    rating: Text | None = None
    """For instance an extinguisher's class and size."""
    isolates: Many[MachineId] = ()
    """Which machines an isolator or an emergency stop takes power from."""
    checked: Day | None = None


class HungSign(Record):
    """A sign that already hangs."""

    sign: SignCode
    at: Point
    height_mm: Mm = 1700.0
    """Of its lower edge over the floor."""
    letter_mm: Mm | None = None
    across_mm: Mm | None = None
    """How wide the sign itself is: a square's side, a circle's diameter, a triangle's base."""
    lit: bool = False
    """Whether a lamp inside lights it."""


class SignWords(Record):
    """What stands under a sign, in the shop's own words and languages."""

    sign: SignCode
    words: Text


class EscapePlan(Record):
    """Where an escape plan hangs, and who has stood for what it shows."""

    at: Point
    """On the wall, before which its reader stands."""
    height_mm: Mm = 1500.0
    signed: Day | None = None
    """When a competent person signed it off; until then it says draft."""
    signed_by: Text | None = None
    """A function, never a name."""
    content: Code | None = None
    """What stands beside "content" on the sheet that was signed: a plan that has changed since
    says draft again."""


class LightReading(Record):
    """What a light meter showed on a working surface."""

    station: StationId
    reading_lx: Lx
    day: Day


class Assembly(Record):
    """Where everybody meets when the alarm sounds."""

    name: Text
    distance_m: M
    from_: Text
    """By which door, in words."""


class Climate(Record):
    """What heating the room must hold against."""

    winter_outdoor_c: C
    indoor_c: C
    heating_kw: Kw | None = None
    heating_kind: Literal["electric", "hot water", "open flue", "room sealed", "none"] = "none"


class Room(Record):
    """The room as measured, in millimetres from one corner: x along the longest wall, y into it."""

    name: Text
    outline: Many[Point]
    """The inner face of the walls, in order round the room."""
    ceiling_mm: SomeMm
    wall_mm: Mm = 250.0
    """Thickness of the walls, for the drawing."""
    north_deg: Deg = 0.0
    """Clockwise from up on the plan to north."""
    floor_kpa: Kpa | None = None
    """What the floor may carry, from the landlord."""
    floor_kind: Text | None = None
    ground_floor: bool = True
    columns: dict[Id, Column] = {}
    doors: Annotated[dict[Id, Door], Field(min_length=1)]
    windows: dict[Id, Window] = {}
    zones: dict[Id, Zone] = {}
    fixtures: dict[Id, Fixture] = {}
    supply: Supply
    circuits: dict[Id, Circuit] = {}
    extract_points: dict[Id, ExtractPoint] = {}
    fans: dict[Id, Fan] = {}
    hoods: dict[Id, Hood] = {}
    water: dict[Id, WaterPoint] = {}
    equipment: dict[Id, Equipment] = {}
    signs: dict[Id, HungSign] = {}
    sign_words: Many[SignWords] = ()
    escape_plans: dict[Id, EscapePlan] = {}
    """Left out, they are laid by the exits and where the way out is longest."""
    light: Many[LightReading] = ()
    background_db: Db | None = None
    assembly: Assembly
    climate: Climate | None = None
    smoke_alarm: bool | None = None
