"""Out of the door: what leaves as waste in kilograms a week, and the wash water with its screens.

What is handed back at the counter is counted beside it: it went on the scale, but whoever brought
it takes it home. What is washed off goes partly into the screens and partly down the drain, and
nobody here can tell how much of which: that is a question for the water company.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Literal

from generator.ground.finding import Finding, Severity
from generator.ground.origin import Origin
from generator.ground.survey import Survey, survey
from generator.ground.units import Money, show
from generator.ground.wording import N_, _
from generator.ground.working import Input, Quantity, Verdict, Working
from generator.reference import reference
from generator.shop.records.material import Consumable
from generator.shop.records.room import WaterPoint
from generator.shop.shop import Shop
from generator.workings.flow import WASTE, FlowStudy, Place
from generator.workings.shown import given, own, tabled, worked_out

Way = Literal["handed back", "refuse", "water"]
_WAYS: Mapping[Place, Way] = {
    "rejected": "handed back",
    "residue": "refuse",
    "sludge": "water",
    "fines": "refuse",
    "purgings": "refuse",
    "trimmings": "refuse",
}
WASTE_WORDS: Mapping[str, str] = {
    "rejected": N_("Rejected at the counter"),
    "residue": N_("Sorted out"),
    "sludge": N_("Washed off"),
    "fines": N_("Fines from the granulator"),
    "purgings": N_("Purgings"),
    "trimmings": N_("Trimmed off and not taken back"),
    "filters": N_("Filters with what they caught"),
}


@dataclass(frozen=True, slots=True)
class Waste:
    """One kind of waste.

    ``kg`` a week, None where it is not known. ``by_polymer`` is empty for what is of none.
    ``way`` is how it leaves: ``handed back``, with the ``refuse`` or down the ``water``.
    """

    key: str
    kg: float | None
    by_polymer: Mapping[str, float]
    way: Way
    inputs: tuple[Input, ...]


@dataclass(frozen=True, slots=True)
class Drain:
    """A drain and its screen. ``verdict`` is unanswered where nobody has written the mesh."""

    id: str
    point: WaterPoint
    verdict: Verdict


@dataclass(frozen=True, slots=True)
class Water:
    """Wash water in a week. ``litres`` is None where nobody has read it; ``per_kg`` is litres to
    a kilogram washed, ``washed_off_kg`` what goes into it and its screens."""

    litres: float | None
    per_kg: float | None
    washed_kg: float
    washed_off_kg: float
    drains: tuple[Drain, ...]


@dataclass(frozen=True, slots=True)
class WasteStudy:
    """What leaves in an ordinary week.

    ``fee`` is what taking the refuse away costs, None where no price is written.
    """

    streams: tuple[Waste, ...]
    water: Water
    fee: Money | None
    survey: Survey

    @property
    def refuse_kg(self) -> float:
        """What leaves with the refuse a week, as far as it is known [kg]."""
        return sum(s.kg or 0.0 for s in self.streams if s.way == "refuse")

    def of(self, key: str) -> Waste | None:
        """One kind of waste, None where there is none."""
        return next((s for s in self.streams if s.key == key), None)


def study(shop: Shop, flow: FlowStudy) -> WasteStudy:
    """Work out what leaves in an ordinary week.

    Parameters
    ----------
    shop
        The shop, read without a data fault.
    flow
        The week's flow.
    """
    streams = (*_of_flow(shop, flow), *_filters(shop))
    water = _water(shop, flow)
    refuse = sum(s.kg or 0.0 for s in streams if s.way == "refuse")
    price = shop.shop.prices.waste
    fee = Money(refuse * price.amount, price.currency) if price else None
    shown = tuple(_workings(shop, streams, water, refuse))
    found = tuple(_findings(streams, water, refuse))
    unsure = sum(s.kg is None for s in streams)
    made = survey("waste", shown, found, other_checks=len(streams), other_unanswered=unsure)
    return WasteStudy(streams, water, fee, made)


def _of_flow(shop: Shop, flow: FlowStudy) -> Iterator[Waste]:
    masses = flow.masses
    for place in WASTE:
        by = {p: kg for p in (*masses.polymers, "") if (kg := masses.into(place, p))}
        if by:
            named = {p: kg for p, kg in by.items() if p}
            inputs = tuple(
                given(str(shop.polymers[p].name), round(kg, 3), "kg", worked_out())
                for p, kg in named.items()
            )
            yield Waste(place, sum(by.values()), named, _WAYS[place], inputs)


def _filters(shop: Shop) -> Iterator[Waste]:
    """Filters that are used up, each as heavy as it is when it is thrown away."""
    used = [c for c in shop.consumables.values() if c.kind == "filter" and c.use_per_week]
    if not used:
        return
    known = all(c.spent_kg is not None for c in used)
    kg = sum(c.use_per_week * (c.spent_kg or 0.0) for c in used)
    inputs = tuple(x for c in used for x in _of_filter(c))
    yield Waste("filters", kg if known else None, {}, "refuse", inputs)


def _of_filter(record: Consumable) -> Iterator[Input]:
    yield own(str(record.name), record, "use_per_week")
    if record.spent_kg is not None:
        yield own(_("What one weighs then"), record, "spent_kg")


# --- water -------------------------------------------------------------------------------------


def litres_per_kg(litres: float, washed_kg: float) -> float:
    r"""Wash water for a kilogram [l/kg].

    .. math:: w = V / m

    Parameters
    ----------
    litres
        Water drawn in a week [l].
    washed_kg
        What is washed in a week [kg], more than 0.
    """
    return litres / washed_kg


def _water(shop: Shop, flow: FlowStudy) -> Water:
    washed = flow.masses.into("washing")
    used = [p.use_per_week_l for p in shop.room.water.values() if p.use_per_week_l is not None]
    litres = sum(used) if used else None
    per_kg = litres_per_kg(litres, washed) if litres is not None and washed else None
    drains = tuple(_drains(shop)) if washed else ()
    return Water(litres, per_kg, washed, flow.masses.into("sludge"), drains)


def _drains(shop: Shop) -> Iterator[Drain]:
    """Drains whose screen is written, and those in the wet zone whose is not."""
    most = reference().limit("catch-screen").low
    for id_, point in shop.room.water.items():
        if point.kind == "tap":
            continue
        if point.catch_screen_mm is not None:
            fine = point.catch_screen_mm <= most
            yield Drain(id_, point, Verdict.HOLDS if fine else Verdict.FAILS)
        elif _is_wet(shop, point):
            yield Drain(id_, point, Verdict.UNANSWERED)


def _is_wet(shop: Shop, point: WaterPoint) -> bool:
    """Whether the station nearest to it stands in a wet zone."""
    nearest = min(shop.stations.values(), key=lambda s: math.dist(s.at, point.at))
    zone = shop.room.zones.get(nearest.zone)
    return zone is not None and zone.kind == "wet"


# --- workings ----------------------------------------------------------------------------------


def _workings(
    shop: Shop, streams: tuple[Waste, ...], water: Water, refuse: float
) -> Iterator[Working]:  # fmt: skip
    for stream in streams:
        known = stream.kg is not None
        yield Working(
            f"waste.{stream.key}", "shop", _(WASTE_WORDS[stream.key]), _("sum over what it is of"),
            stream.inputs, Quantity(round(stream.kg or 0.0, 3), "kg"),
            Verdict.INFORMS if known else Verdict.UNANSWERED,
        )  # fmt: skip
    if streams:
        yield _refuse(shop, streams, refuse)
    if water.washed_kg:
        yield _of_water(shop, water)
    for drain in water.drains:
        yield _of_drain(drain)


def _refuse(shop: Shop, streams: tuple[Waste, ...], refuse: float) -> Working:
    price = shop.shop.prices.waste
    inputs = [
        given(_(WASTE_WORDS[s.key]), round(s.kg or 0.0, 3), "kg", worked_out())
        for s in streams
        if s.way == "refuse"
    ]
    caution = _("What is rejected at the counter goes home again and is not in it.")
    if price:
        caution += " " + _("Taking it away costs {fee} a week.").format(
            fee=show(round(price.amount * refuse, 2), "money", currency=price.currency)
        )
    return Working(
        "waste.refuse", "shop", _("Leaves with the refuse in a week"), _("sum of its kinds"),
        tuple(inputs), Quantity(round(refuse, 2), "kg"), caution=caution,
    )  # fmt: skip


def _of_water(shop: Shop, water: Water) -> Working:
    inputs = [
        own(_("Drawn at {point}").format(point=f"`{id_}`"), point, "use_per_week_l")
        for id_, point in shop.room.water.items()
        if point.use_per_week_l is not None
    ]
    inputs.append(given(_("Washed"), round(water.washed_kg, 2), "kg", worked_out()))
    inputs.append(given(_("Washed off"), round(water.washed_off_kg, 2), "kg", worked_out()))
    return Working(
        "waste.water", "room", _("Wash water for a kilogram"), _("water drawn / mass washed"),
        tuple(inputs), Quantity(round(water.per_kg or 0.0, 1), "l/kg"),
        Verdict.INFORMS if water.per_kg is not None else Verdict.UNANSWERED,
    )  # fmt: skip


def _of_drain(drain: Drain) -> Working:
    limit = reference().limit("catch-screen")
    point, mesh = drain.point, drain.point.catch_screen_mm
    inputs = (own(_("Mesh of its screen"), point, "catch_screen_mm"),) if mesh is not None else ()
    return Working(
        f"waste.screen.{drain.id}", f"room/water/{drain.id}",
        _("Screen before the drain {drain}").format(drain=f"`{drain.id}`"),
        _("mesh of the screen against the finest that must be held back"),
        (*inputs, tabled(_(reference().limits["catch-screen"].title), limit)),
        Quantity(mesh or 0.0, "mm"), drain.verdict, Quantity(limit.low, "mm"), limit.source_record,
        None if mesh is None else Quantity(round(limit.low - mesh, 2), "mm"),
    )  # fmt: skip


# --- findings ----------------------------------------------------------------------------------


def _findings(streams: tuple[Waste, ...], water: Water, refuse: float) -> Iterator[Finding]:
    for drain in water.drains:
        yield from _of_screen(drain)
    if water.washed_kg:
        yield _ask_water(water)
    if refuse:
        yield _ask_waste(streams, refuse)
    if water.washed_kg and water.litres is None:
        yield Finding(
            "waste.water-unknown", Severity.NOTE, Origin("room.yml"),
            _("{kg} are washed in a week, and nobody has written with how much water.").format(
                kg=show(water.washed_kg, "kg", 1)
            ),
            _("Count the basins of a week, and write `use_per_week` at the tap."), subject="room",
            working="waste.water",
        )  # fmt: skip
    for stream in streams:
        if stream.kg is None:
            yield Finding(
                "waste.filters", Severity.NOTE, Origin("consumables.yml"),
                _("What the filters of a week weigh when they are thrown away is not known."),
                _("Weigh a spent one, and write it under `spent`."), working="waste.filters",
            )  # fmt: skip


def _of_screen(drain: Drain) -> Iterator[Finding]:
    mesh, most = drain.point.catch_screen_mm, reference().limit("catch-screen").low
    place = drain.point.origin_of("catch_screen_mm")
    working, subject = f"waste.screen.{drain.id}", f"room/water/{drain.id}"
    if mesh is None:
        says = _("Nobody has written what screen the drain “{drain}” has.").format(drain=drain.id)
        mend = _("Measure its mesh, and write it under `catch_screen`.")
        yield Finding(
            "waste.screen-unknown", Severity.NOTE, place, says, mend, subject=subject,
            working=working,
        )  # fmt: skip
    elif drain.verdict is Verdict.FAILS:
        says = _(
            "The screen of the drain “{drain}” has a mesh of {mesh}; fines pass more than {most}."
        )
        yield Finding(
            "waste.screen", Severity.FIX, place,
            says.format(drain=drain.id, mesh=show(mesh, "mm", 2), most=show(most, "mm", 2)),
            _("Fit one of {most}, and keep wash water and the broom away from it until "
              "then.").format(most=show(most, "mm", 2)),
            subject=subject, working=working,
        )  # fmt: skip


def _ask_water(water: Water) -> Finding:
    meshes = sorted({d.point.catch_screen_mm for d in water.drains if d.point.catch_screen_mm})
    drawn = _("an amount of water nobody has read")
    if water.litres is not None:
        drawn = _("{litres} of water").format(litres=show(water.litres, "l", 0))
    screens = ", ".join(show(mesh, "mm", 2) for mesh in meshes) or _("none written")
    return Finding(
        "waste.ask-water", Severity.ASK, Origin("room.yml"),
        _("In a week {kg} of plastic are washed in {drawn}; {off} are washed off, before screens "
          "of {screens}.").format(
            kg=show(water.washed_kg, "kg", 1), drawn=drawn,
            off=show(water.washed_off_kg, "kg", 1), screens=screens,
        ),
        _("Ask whether the drain may take that water, what must be held back, and who records it."),
        subject="room", working="waste.water", asks="water",
    )  # fmt: skip


def _ask_waste(streams: tuple[Waste, ...], refuse: float) -> Finding:
    kinds = ", ".join(
        _("{kg} {kind}").format(kg=show(s.kg, "kg", 2), kind=_(WASTE_WORDS[s.key]).lower())
        for s in streams
        if s.way == "refuse" and s.kg
    )
    return Finding(
        "waste.ask-waste", Severity.ASK, Origin("batches.csv"),
        _("In a week {kg} leave with the refuse: {kinds}.").format(
            kg=show(refuse, "kg", 1), kinds=kinds
        ),
        _("Ask in which container and under which code each may leave, and what it costs."),
        working="waste.refuse", asks="waste",
    )  # fmt: skip
