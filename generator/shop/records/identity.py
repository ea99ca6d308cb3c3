"""The shop itself: its name, its rules for the door, its prices and the limits it sets itself."""

from __future__ import annotations

from typing import Literal

from generator.shop.fields import (
    Count,
    Currency,
    D,
    Kg,
    Language,
    Many,
    Mm,
    OneOrMore,
    Percent,
    Point,
    Price,
    PricePerH,
    PricePerKg,
    PricePerKwh,
    PricePerM3,
    Record,
    Size,
    Some,
    Text,
    TimeZone,
    Years,
)
from generator.shop.records.refs import LabelGridKey, RoleId, Rule


class Prices(Record):
    """What running costs, for the workings that ask."""

    electricity: PricePerKwh | None = None
    water: PricePerM3 | None = None
    waste: PricePerKg | None = None
    """What taking residue away costs."""
    volunteer_hour: PricePerH | None = None
    """What an hour of somebody's time is counted at."""
    rent_month: Price | None = None
    insurance_year: Price | None = None


class OwnLimits(Record):
    """Limits the shop sets itself; each wins over the table and is shown as the shop's."""

    aisle_mm: Mm | None = None
    two_way_aisle_mm: Mm | None = None
    machine_walk_mm: Mm | None = None
    wheelchair_mm: Mm | None = None
    lift_kg: Kg | None = None
    hot_side_age_years: Years | None = None
    granulator_age_years: Years | None = None
    learners_per_adult: Count | None = None
    volt_drop_percent: Percent | None = None
    quarantine_d: D | None = None
    """How long something doubtful may wait before it must be told apart or leave."""
    why: Text | None = None


class LabelSheet(Record):
    """A sheet of labels as measured with a rule, from its upper left corner."""

    columns: OneOrMore
    rows: OneOrMore
    size: Size
    """Of one label, across then up."""
    first: Point
    """From the left and the top to the first label."""
    step: Size
    """From one label's corner to the next one's, across then down."""


class Printer(Record):
    """What the shop prints on itself; anything larger goes to a copy shop."""

    largest: Literal["A4", "A3", "A2", "Letter", "Tabloid", "ANSI C"] = "A4"
    """The largest sheet it takes. It also chooses the family: A sizes, or Letter."""
    label_sheet: LabelGridKey | None = None
    """The sheet of labels in its tray; left out, labels are cut from plain paper."""
    own_label_sheet: LabelSheet | None = None
    """Its measures, where they are none of those known here."""
    label_offset: Point | None = None
    """How far right and down of its place it puts what it prints on a label sheet."""


class Visitors(Record):
    """What a group is told before it comes, for the pack that its teacher gets."""

    bring: Many[Text]
    """What each of them brings or wears."""
    access: Text
    """How one gets in and about: steps, widths, where wheels and prams go."""
    photos: Text
    """The rule about pictures."""
    briefing: Some[Text]
    """What is said to everybody before the first activity, a sentence each."""
    beforehand: Many[Text] = ()
    """What the teacher settles or tells the shop beforehand."""


class Identity(Record):
    """Who the shop is."""

    name: Text
    strapline: Text
    """One sentence for people at the door."""
    jurisdiction: Literal["EU", "UK", "US", "BR", "IN", "JP"]
    """Whose limits apply."""
    languages: Some[Language]
    """By code, the first is the one the data is written in."""
    currency: Currency
    time_zone: TimeZone
    emergency_number: Text
    address: Text
    """What to tell the emergency services."""
    directions: Text
    """How the door is found."""
    site_address: str | None = None
    """Where the handbook is published, for QR codes."""
    rules: Many[Rule]
    """For people at the door, the first first."""
    donations: Text
    """Where and how plastic is handed in."""
    most_people: Count
    """How many may be in the room at once, as agreed with the landlord or insurer."""
    most_people_from: Text
    visitors: Visitors | None = None
    lead: RoleId
    limits: OwnLimits = OwnLimits()
    prices: Prices = Prices()
    printer: Printer = Printer()
    safety_role: RoleId
