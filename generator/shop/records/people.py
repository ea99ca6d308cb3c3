"""People and what they do: roles, procedures, hazards, sessions, stages."""

from __future__ import annotations

from typing import Literal

from generator.shop.fields import (
    Clock,
    Count,
    Day,
    Id,
    Many,
    Min,
    OneOrMore,
    OneToFive,
    Period,
    Price,
    Record,
    Some,
    Text,
    Years,
)
from generator.shop.records.refs import (
    BlendId,
    ConsumableId,
    ContactId,
    EquipmentId,
    HoodId,
    Level,
    MachineId,
    MouldId,
    PolymerId,
    ProcedureId,
    ProductId,
    RoleId,
    SignCode,
    StationId,
    ToolId,
    Weekday,
)


class Hold(Record):
    """A point where work waits until somebody says go."""

    until: Text
    """What must be so before going on."""
    because: Text
    who: Level = "authorised"
    """Who lets it go on."""


class Step(Record):
    """One line of a job breakdown."""

    do: Text
    key_point: Text
    reason: Text
    hold: Hold | None = None
    """Waits before this step."""


class Procedure(Record):
    """A job broken down into steps, each with its key point and reason."""

    name: Text
    kind: Literal["run", "opening", "closing", "upkeep", "changeover", "bad-day"]
    station: StationId | None = None
    """Where it is done; left out, it is done in the whole room."""
    machines: Many[MachineId] = ()
    level: Level
    least_age_years: Years = 0.0
    takes_min: Min
    people: OneOrMore = 1
    ppe: Many[SignCode] = ()
    polymers: Many[PolymerId] = ()
    """Materials it puts through the machine."""
    moulds: Many[MouldId] = ()
    tools: Many[ToolId] = ()
    consumables: Many[ConsumableId] = ()
    lock_out: bool = False
    every: Period | None = None
    done_when: Text
    steps: Some[Step]


class Risk(Record):
    """How likely and how bad."""

    likelihood: OneToFive
    severity: OneToFive


class Control(Record):
    """What keeps a hazard from hurting somebody."""

    kind: Literal["eliminate", "substitute", "engineer", "administer", "protect"]
    what: Text
    procedure: ProcedureId | None = None
    equipment: EquipmentId | None = None
    sign: SignCode | None = None
    hood: HoodId | None = None
    machine: MachineId | None = None
    """Where the control is part of a machine, such as a guard."""


class FurtherAction(Record):
    """What is still to be done, by which role and when."""

    do: Text
    by: RoleId
    due: Day


class Hazard(Record):
    """A row of the risk assessment."""

    name: Text
    harm: Text
    """How it hurts."""
    who: Some[Text]
    stations: Many[StationId] = ()
    machines: Many[MachineId] = ()
    before: Risk
    controls: Many[Control] = ()
    """Left out where nothing controls it yet, which is itself found."""
    after: Risk
    action: FurtherAction | None = None
    reviewed: Day | None = None
    review_every: Period | None = None


class Visit(Record):
    """One visit on the way into a role."""

    title: Text
    read: Many[ProcedureId] = ()
    shown: Many[Text] = ()
    do: Many[Text] = ()
    """What the newcomer does under somebody's eyes."""
    signs_off: Level
    """The level reached on sign-off."""
    takes_min: Min


class Competence(Record):
    """A level on a machine that a role needs."""

    machine: MachineId
    level: Level


class Role(Record):
    """What somebody is here for."""

    name: Text
    does: Text
    least_age_years: Years
    after: Many[RoleId] = ()
    """Roles to have held first."""
    needs: Many[Competence] = ()
    may: Many[Text] = ()
    may_not: Many[Text] = ()
    visits: Many[Visit] = ()
    renew: Period | None = None


class Learners(Record):
    """Who comes."""

    count: OneOrMore
    age_from_years: Years
    age_to_years: Years
    adults: Count
    """Adults who come with them."""


class Staff(Record):
    """Who the shop puts on."""

    role: RoleId
    count: OneOrMore


class Makes(Record):
    """What a group makes in an activity."""

    product: ProductId
    blend: BlendId
    each: OneOrMore = 1
    """Pieces a learner."""


class Activity(Record):
    """Something a group does at a station."""

    name: Text
    station: StationId
    takes_min: Min
    groups: OneOrMore = 1
    """How many groups fit at once."""
    must: bool = True
    learners: Literal["do", "watch"]
    supervisor: Level
    """The level of the person in charge of it."""
    supervisors: OneOrMore = 1
    machines: Many[MachineId] = ()
    moulds: Many[MouldId] = ()
    tools: Many[ToolId] = ()
    """Tools each group takes one of."""
    makes: Makes | None = None
    consumables: Many[ConsumableId] = ()
    ppe: Many[SignCode] = ()
    after: Many[Id] = ()
    """Activities of the same session that come first."""
    gap_min: Min = 0.0
    """Least time after those, such as cooling."""
    we_do: Text | None = None
    """What learners do or see there, in their own words."""
    look_at: Text | None = None
    question: Text | None = None
    words: Many[Text] = ()


class Slot(Record):
    """A line of a timetable written by hand or accepted from a proposal."""

    group: OneOrMore
    activity: Id
    start: Clock


class Session(Record):
    """A planned visit of a group."""

    name: Text
    for_: Text
    day: Day | None = None
    weekday: Weekday | None = None
    start: Clock
    end: Clock
    learners: Learners
    groups: OneOrMore
    staff: Many[Staff]
    arrival_min: Min
    tidy_min: Min
    break_min: Min = 0.0
    activities: dict[Id, Activity]
    timetable: Many[Slot] = ()
    proof: Text | None = None
    """What a proposal said of itself, with the hash of the data it was made for."""


class Stage(Record):
    """A step of the build-out."""

    order: OneOrMore
    name: Text
    goal: Text
    """What the shop can do once it is reached."""
    due: Day | None = None
    reached: bool
    adds_stations: Many[StationId] = ()
    adds_machines: Many[MachineId] = ()
    budget: Price | None = None
    other_costs: Many[OtherCost] = ()
    needs: Many[Text] = ()
    """What must be settled first."""


class OtherCost(Record):
    """A cost beside machines."""

    what: Text
    price: Price


class Opening(Record):
    """When the door is open in an ordinary week."""

    day: Weekday
    from_: Clock
    to: Clock
    what: Text
    takes_donations: bool = True


class Hours(Record):
    """Opening hours and the days without them."""

    weekly: Many[Opening]
    closed: Many[ClosedDays] = ()


class ClosedDays(Record):
    """Days the shop stays shut."""

    from_: Day
    to: Day
    why: Text


class Contact(Record):
    """An outside contact by function, never by name."""

    name: Text
    """The function, such as ``Electrician``."""
    answers: Some[
        Literal[
            "electrician",
            "fire",
            "ventilation",
            "landlord",
            "insurer",
            "water",
            "waste",
            "maintainer",
            "school",
            "first-aid",
        ]
    ]
    reach: Text
    when: Text | None = None


class Duty(Record):
    """Something that falls due on a date: a test, a review, a renewal."""

    name: Text
    every: Period
    last: Day | None = None
    by: ContactId | None = None
    equipment: EquipmentId | None = None
    note: Text | None = None


Stage.model_rebuild()
Hours.model_rebuild()
