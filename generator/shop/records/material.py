"""Material: polymers, what they come in and stand in, moulds, blends and products."""

from __future__ import annotations

from typing import Literal

from generator.shop.fields import (
    Amount,
    Box,
    C,
    Cm3,
    Colour,
    Count,
    D,
    Day,
    Fraction,
    H,
    Id,
    Kg,
    Kgm3,
    Many,
    Min,
    Mm,
    OneOrMore,
    OneToSeven,
    Percent,
    Price,
    Record,
    S,
    Some,
    SomeCm2,
    SomeCm3,
    SomeG,
    SomeKg,
    SomeL,
    SomeMm,
    Text,
)
from generator.shop.records.refs import (
    BlendId,
    Condition,
    ConsumableId,
    ContainerId,
    ContainerStandard,
    MachineId,
    MaterialForm,
    MouldId,
    PolymerId,
    StationId,
    Weekday,
)


class ColourLot(Record):
    """A colour a polymer is kept apart by."""

    name: Text
    hex: Colour | None = None
    """How it looks on screen; a photograph decides."""
    reflectance: Fraction | None = None
    """Measured, mean over the visible, where the shop has it."""


class Own(Record):
    """The shop's own figures for a polymer; each wins over the reference table."""

    density_kgm3: Kgm3 | None = None
    flake_density_kgm3: Kgm3 | None = None
    """Bulk density of this shop's flake."""
    loose_density_kgm3: Kgm3 | None = None
    """Bulk density as donated."""
    shrinkage_percent: Percent | None = None
    drying_at_c: C | None = None
    drying_for_h: H | None = None
    hot_hold_min: Min | None = None
    ejection_c: C | None = None


class Polymer(Record):
    """A material as this shop meets it: taken, paused or refused."""

    code: str
    """What it is, by its ISO 1043 mark (``PP``, ``PE-HD``, ``PC+ABS``), or ``unknown``."""
    name: Text
    recycling_code: OneToSeven | None = None
    """The number in the triangle, 1 to 7. 7 says nothing of what it is."""
    status: Literal["taken", "paused", "refused"]
    why: Text | None = None
    """Why it is paused or refused, in a donor's words."""
    contains: Many[
        Literal[
            "halogen flame retardant",
            "glass fibre",
            "paint",
            "metal",
            "foam",
            "old pigment",
            "chemical residue",
        ]
    ] = ()
    examples: Many[Text] = ()
    """Things it comes as, in a donor's words."""
    forms: Many[MaterialForm] = ()
    colours: dict[Id, ColourLot] = {}
    own: Own = Own()
    store: StationId | None = None
    store_limit_kg: Kg | None = None
    """How much of it the shop will hold."""
    tell_by: Many[Text] = ()
    """How it is told apart here: feel, sound, float or sink."""


class Container(Record):
    """A kind of container the shop uses."""

    name: Text
    standard: ContainerStandard | None = None
    """A row of the container table, such as ``euro-600x400-320``."""
    outer: Box
    volume_l: SomeL
    empty_kg: Kg
    most_kg: SomeKg
    """What may go in, by its rating or the shop's own lifting rule."""
    stack: OneOrMore = 1
    """How many may stand on one another when full."""
    lid: bool = False
    material: Literal["plastic", "metal", "textile", "paper", "wood"] = "plastic"
    keeps: Some[Literal[Condition, "tools"]]
    owned: Count
    price: Price | None = None


class Mould(Record):
    """A mould, and the part it makes."""

    name: Text
    machines: Some[MachineId]
    """Machines it fits."""
    cavities: OneOrMore = 1
    part_volume_cm3: SomeCm3
    """Of one part, cold."""
    sprue_cm3: Cm3 = 0.0
    """Sprue, runner and flash a shot."""
    wall_mm: SomeMm
    """Thickest wall, which sets the cooling time."""
    flow_mm: Mm | None = None
    """Longest way the melt runs in the cavity."""
    projected_cm2: SomeCm2
    """Area seen along the opening direction, all cavities and runner."""
    part_lengths_mm: Many[SomeMm] = ()
    """The part's main dimensions, cold."""
    outer: Box
    mass_kg: Kg
    material: Literal["aluminium", "steel", "brass", "silicone", "wood"] = "aluminium"
    mould_c: C | None = None
    cooling_s: S | None = None
    form: Literal["plate", "block", "cylinder"] = "plate"
    changes_in_min: Min = 10.0
    shots: Count = 0
    """Shots so far, as counted."""
    counted: Day | None = None
    """The day they were counted; loans.csv counts on from it. Left out, the count is today's."""
    lasts_shots: Count | None = None
    kept_at: StationId
    damage: Text | None = None
    price: Price | None = None


class Part(Record):
    """A share of a blend."""

    polymer: PolymerId
    colour: Id | None = None
    share_percent: Percent
    """By mass."""


class Additive(Record):
    """Something stirred in beside the flake."""

    consumable: ConsumableId
    share_percent: Percent
    """By mass of the whole."""


class Blend(Record):
    """A recipe: flake by mass, and what is stirred in."""

    name: Text
    parts: Some[Part]
    additives: Many[Additive] = ()
    mixes: Literal["speckle", "melt"]
    """Whether flakes survive as speckle, or melt into one colour."""
    machines: Many[MachineId]
    regrind_percent: Percent = 100.0
    look: Text | None = None
    note: Text | None = None


class Finish(Record):
    """A step between demoulding and the shelf."""

    do: Text
    station: StationId
    takes_min: Min
    loss_percent: Percent = 0.0


class Product(Record):
    """Something the shop makes."""

    name: Text
    mould: MouldId
    blends: Some[BlendId]
    parts: OneOrMore = 1
    """How many moulded parts go into one."""
    mass_g: SomeG
    """Of one, as weighed."""
    finish: Many[Finish] = ()
    price: Price | None = None
    made_for: Text
    not_for: Many[Text]
    """What it must not be used for."""
    per_week: Count = 0
    """How many are wanted in an ordinary week."""
    session_piece: bool = False
    """Whether groups make it in sessions."""


class Brings(Record):
    """What a source gives in an ordinary week."""

    polymer: PolymerId
    form: MaterialForm
    weekly_kg: Kg
    dirt: Literal["clean", "rinsed", "dirty"]
    rejected_percent: Percent | None = None


class Donor(Record):
    """A source of donations, by what it is."""

    name: Text
    brings: Many[Brings]
    days: Many[Weekday] = ()
    by: Literal["brought", "collected"] = "brought"
    container: ContainerId | None = None


class Consumable(Record):
    """Something that is used up."""

    name: Text
    kind: Literal[
        "masterbatch",
        "cleaning",
        "protection",
        "spare",
        "label",
        "release",
        "blade",
        "filter",
        "first-aid",
        "other",
    ]
    unit: Text
    """What is counted, such as ``pair`` or ``roll``."""
    kept_at: StationId
    stock: Amount
    least: Amount
    """Reorder when stock falls to this."""
    lead_time_d: D
    pack: OneOrMore = 1
    price: Price | None = None
    use_per_session: Amount = 0.0
    use_per_week: Amount = 0.0
    spent_kg: Kg | None = None
    """What one weighs when it is thrown away, with what it has caught: a full filter sack."""
    hex: Colour | None = None
    density_kgm3: Kgm3 | None = None


class Tool(Record):
    """A hand tool with a place."""

    name: Text
    kept_at: StationId
    count: OneOrMore = 1
    use: Text
    price: Price | None = None
    check: Text | None = None
    """What to look at before using it."""
