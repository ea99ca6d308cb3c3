"""What each hood must draw and draws, the ducts behind it, and hot machines that have none.

A hood counts only where its fan blows to the outside. A flow nobody measured never makes a
check hold; it can make one fail.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Literal

from generator.ground.finding import Finding, Severity
from generator.ground.units import show
from generator.ground.wording import _, ngettext
from generator.ground.working import Input, Quantity, Verdict, Working
from generator.reference import Value, reference
from generator.shop.records.machines import Machine
from generator.shop.records.room import Fan, Hood
from generator.shop.records.stations import Station
from generator.shop.shop import Shop
from generator.workings.air import laws
from generator.workings.shown import at_station, given, own, tabled

Carries = Literal["fume", "dust"]
Basis = Literal["measured", "written", "needed"]
"""What a duct's flow rests on: somebody's meter, a figure nobody measured, or the hood's need."""

_DUSTY_KINDS = frozenset({"granulator", "shredder", "band-saw", "belt-sander", "pillar-drill"})
_DUSTY_ZONES = frozenset({"dusty", "finishing"})
_CAPTURE = {"fume": "capture-heated-plastic", "dust": "capture-active"}
_TRANSPORT = {"fume": "duct-fume", "dust": "duct-dry-powder"}


@dataclass(frozen=True, slots=True)
class Duct:
    """A round duct and the flow it carries.

    ``widest_mm`` and ``narrowest_mm`` are the diameters at the least and the greatest transport
    velocity; ``diameter_mm`` and ``velocity_ms`` are the duct's as built, None where unknown.
    """

    flow_m3h: float
    basis: Basis
    slowest_ms: float
    fastest_ms: float
    widest_mm: float
    narrowest_mm: float
    diameter_mm: float | None
    velocity_ms: float | None

    @property
    def too_slow(self) -> bool:
        """Whether what is carried settles, with a flow that is more than a wish."""
        known = self.basis != "needed" and self.velocity_ms is not None
        return known and (self.velocity_ms or 0.0) < self.slowest_ms


@dataclass(frozen=True, slots=True)
class HoodAir:
    """One hood: what it must draw, what it draws, and its branch duct.

    ``need_m3h`` is what its rule gives; ``beyond_rule`` says in words why the rule may not hold,
    else "". ``has_m3h`` is the flow written, ``measured`` whether somebody measured it.
    ``left_m3h`` is the most that the fan leaves for it where its own flow is not measured.
    """

    hood: Hood
    station: str
    carries: Carries
    outside: bool
    capture_ms: float
    need_m3h: float
    beyond_rule: str
    has_m3h: float | None
    measured: bool
    left_m3h: float | None
    branch: Duct
    verdict: Verdict


@dataclass(frozen=True, slots=True)
class FanAir:
    """One fan: its hoods, the flow they need together, what it moves, and the main duct.

    ``main`` is None for a fan without hoods or without an extract point.
    """

    fan: Fan
    hoods: tuple[str, ...]
    carries: Carries
    need_m3h: float
    has_m3h: float | None
    measured: bool
    main: Duct | None
    verdict: Verdict


@dataclass(frozen=True, slots=True)
class HoodStudy:
    """Every hood and fan of a shop, with what was found."""

    hoods: tuple[HoodAir, ...]
    fans: tuple[FanAir, ...]
    workings: tuple[Working, ...]
    findings: tuple[Finding, ...]
    checks: int
    unanswered: int
    """Checks that leave no working behind: each hot machine is asked for its hood."""


def study(shop: Shop) -> HoodStudy:
    """Work out hoods, ducts and fans.

    Parameters
    ----------
    shop
        The shop, read without a data fault.
    """
    hoods = tuple(_hood(shop, hood) for hood in shop.room.hoods.values())
    fans = tuple(_fan(shop, fan, hoods) for fan in shop.room.fans.values() if _draws(fan))
    workings = [w for h in hoods for w in _hood_workings(h)]
    workings += [w for f in fans for w in _fan_workings(shop, f)]
    hot = [m for m in shop.machines.values() if _asked_for_a_hood(m)]
    findings = tuple(_findings(shop, hoods, fans, hot))
    open_questions = sum(f.rule == "air.no-hood" and f.severity is Severity.ASK for f in findings)
    return HoodStudy(hoods, fans, tuple(workings), findings, len(hot), open_questions)


def _draws(fan: Fan) -> bool:
    return fan.discharge != "supply"


# --- one hood ----------------------------------------------------------------------------------


def carried_from(shop: Shop, station: Station) -> Carries:
    """What comes off at a station: fume wherever something is hot, else dust where it cuts."""
    machines = shop.machines_at(station.id)
    if any(m.is_hot for m in machines):
        return "fume"
    if any(m.kind in _DUSTY_KINDS for m in machines):
        return "dust"
    zone = shop.room.zones[station.zone]
    return "dust" if not machines and zone.kind in _DUSTY_ZONES else "fume"


def _capture(carries: Carries) -> Value:
    return reference().limit(_CAPTURE[carries])


def needed_m3h(hood: Hood, capture_ms: float) -> float:
    """The flow a hood must draw by the rule of its form.

    Plain ``V (10 x² + A)``, flanged 0.75 of that, canopy ``1.4 P H V`` with the perimeter of
    its opening.

    Parameters
    ----------
    hood
        The hood as built.
    capture_ms
        Capture velocity V wanted at the source [m/s].

    Returns
    -------
    float
        Flow [m³/h].
    """
    width, depth = (side / 1000 for side in hood.opening)
    distance = hood.distance_mm / 1000
    if hood.form == "canopy":
        factor = reference().limit("hood-canopy-factor").low
        return laws.canopy_m3h(2 * (width + depth), distance, capture_ms, factor)
    plain = laws.plain_hood_m3h(width * depth, distance, capture_ms)
    return plain * (reference().limit("hood-flanged-factor").low if hood.form == "flanged" else 1.0)


def _beyond_rule(hood: Hood) -> str:
    """Why the rule of the hood's form does not cover it, or ""."""
    if hood.form == "canopy":
        return ""
    short, long = sorted(hood.opening)
    if short / long < reference().limit("hood-aspect-least").low:
        return _("it is {long} long and {short} high, a slot, which has a rule of its own").format(
            long=show(long, "mm", 0), short=show(short, "mm", 0)
        )
    diameter = 2 * math.sqrt(short * long / math.pi)
    reach = reference().limit("hood-distance-most").high * diameter
    if hood.distance_mm > reach:
        return _("it is {distance} from the source, and the rule holds up to {reach}").format(
            distance=show(hood.distance_mm, "mm", 0), reach=show(reach, "mm", 0)
        )
    return ""


def _hood(shop: Shop, hood: Hood) -> HoodAir:
    carries = carried_from(shop, shop.stations[hood.station])
    capture = _capture(carries).low
    need = needed_m3h(hood, capture)
    outside = shop.room.fans[hood.fan].discharge == "outside"
    left = _left_for(shop, hood)
    beyond = _beyond_rule(hood)
    return HoodAir(
        hood=hood,
        station=hood.station,
        carries=carries,
        outside=outside,
        capture_ms=capture,
        need_m3h=need,
        beyond_rule=beyond,
        has_m3h=hood.flow_m3h,
        measured=hood.measured is not None,
        left_m3h=left,
        branch=_branch(shop, hood, carries, left, need),
        verdict=_verdict(need, hood, left) if outside and not beyond else Verdict.UNANSWERED,
    )


def _branch(
    shop: Shop, hood: Hood, carries: Carries, left_m3h: float | None, need_m3h: float
) -> Duct:
    """The duct behind a hood, with the flow it was measured at or, failing that, may have."""
    fan = shop.room.fans[hood.fan]
    alone = sum(h.fan == hood.fan for h in shop.room.hoods.values()) == 1
    known = (hood.flow_m3h, left_m3h, fan.flow_m3h if alone else None)
    flow = next((f for f in known if f is not None), None)
    basis: Basis = "written" if flow is not None else "needed"
    if hood.measured is not None or (left_m3h is not None and flow == left_m3h):
        basis = "measured"
    return _duct(need_m3h if flow is None else flow, carries, hood.duct_diameter_mm, basis)


def _left_for(shop: Shop, hood: Hood) -> float | None:
    """What the fan moves less what its other hoods were measured to take; None if not known."""
    fan = shop.room.fans[hood.fan]
    if hood.measured is not None or fan.measured is None or fan.flow_m3h is None:
        return None
    others = (h for h in shop.room.hoods.values() if h.fan == hood.fan and h.measured is not None)
    return max(0.0, fan.flow_m3h - sum(h.flow_m3h or 0.0 for h in others))


def _verdict(need_m3h: float, hood: Hood, left_m3h: float | None) -> Verdict:
    if hood.flow_m3h is not None and hood.flow_m3h < need_m3h:
        return Verdict.FAILS
    if hood.measured is not None:
        return Verdict.HOLDS
    short = left_m3h is not None and left_m3h < need_m3h
    return Verdict.FAILS if short else Verdict.UNANSWERED


def _duct(flow_m3h: float, carries: Carries, diameter_mm: float | None, basis: Basis) -> Duct:
    speed = reference().limit(_TRANSPORT[carries])
    velocity = laws.duct_velocity_ms(flow_m3h, diameter_mm) if diameter_mm else None
    return Duct(
        flow_m3h=flow_m3h,
        basis=basis,
        slowest_ms=speed.low,
        fastest_ms=speed.high,
        widest_mm=laws.duct_diameter_mm(flow_m3h, speed.low),
        narrowest_mm=laws.duct_diameter_mm(flow_m3h, speed.high),
        diameter_mm=diameter_mm,
        velocity_ms=velocity,
    )


# --- one fan -----------------------------------------------------------------------------------


def _fan(shop: Shop, fan: Fan, all_hoods: Iterable[HoodAir]) -> FanAir:
    hoods = [h for h in all_hoods if h.hood.fan == fan.id]
    need = sum(h.need_m3h for h in hoods)
    carries: Carries = "dust" if any(h.carries == "dust" for h in hoods) else "fume"
    return FanAir(
        fan=fan,
        hoods=tuple(h.hood.id for h in hoods),
        carries=carries,
        need_m3h=need,
        has_m3h=fan.flow_m3h,
        measured=fan.measured is not None,
        main=_main_duct(shop, fan, hoods, carries),
        verdict=_fan_verdict(fan, need),
    )


def _main_duct(shop: Shop, fan: Fan, hoods: list[HoodAir], carries: Carries) -> Duct | None:
    if not hoods or fan.extract_point is None:
        return None
    diameter = shop.room.extract_points[fan.extract_point].diameter_mm
    if fan.flow_m3h is None:
        return _duct(sum(h.need_m3h for h in hoods), carries, diameter, "needed")
    return _duct(fan.flow_m3h, carries, diameter, "measured" if fan.measured else "written")


def _fan_verdict(fan: Fan, need_m3h: float) -> Verdict:
    if fan.discharge != "outside" or fan.flow_m3h is None:
        return Verdict.UNANSWERED
    if fan.flow_m3h < need_m3h:
        return Verdict.FAILS
    return Verdict.HOLDS if fan.measured is not None else Verdict.UNANSWERED


# --- workings ----------------------------------------------------------------------------------


def _hood_workings(air: HoodAir) -> Iterator[Working]:
    hood = air.hood
    yield Working(
        id=f"air.hood.{hood.id}.flow",
        subject=f"stations/{air.station}",
        title=_("Flow that {hood} must draw").format(hood=hood.name),
        formula=_formula(hood),
        inputs=tuple(_hood_inputs(air)),
        result=Quantity(air.need_m3h, "m³/h"),
        verdict=air.verdict,
        limit=None if air.has_m3h is None else Quantity(air.has_m3h, "m³/h"),
        limit_source=None if air.has_m3h is None else hood.origin_of("flow_m3h"),
        margin=None if air.has_m3h is None else Quantity(air.has_m3h - air.need_m3h, "m³/h"),
        caution=_hood_caution(air),
        source=reference().limit("hood-flanged-factor").source_record,
    )
    diameter = own(_("inner diameter"), hood, "duct_diameter_mm") if hood.duct_diameter_mm else None
    flow = given(_("flow"), air.branch.flow_m3h, "m³/h", hood.origin_of("flow_m3h"))
    yield _duct_working(
        air.branch,
        air.carries,
        (flow, diameter) if diameter else (flow,),
        id_=f"air.hood.{hood.id}.duct",
        subject=f"stations/{air.station}",
        title=_("Duct of {hood}").format(hood=hood.name),
    )


def _formula(hood: Hood) -> str:
    if hood.form == "canopy":
        return _("1.4 × perimeter of the opening × height above the source × capture velocity")
    plain = _("capture velocity × (10 × distance² + area of the opening)")
    return _("0.75 × {plain}").format(plain=plain) if hood.form == "flanged" else plain


def _hood_inputs(air: HoodAir) -> Iterator[Input]:
    hood, (width, depth) = air.hood, air.hood.opening
    opening = hood.origin_of("opening")
    if hood.form == "canopy":
        yield given(_("perimeter"), 2 * (width + depth) / 1000, "m", opening)
        yield own(_("height above the source"), hood, "distance_mm")
        yield tabled(_("factor"), reference().limit("hood-canopy-factor"))
    else:
        yield given(_("area of the opening"), width * depth / 1e6, "m²", opening)
        yield own(_("distance"), hood, "distance_mm")
    if hood.form == "flanged":
        yield tabled(_("factor of a flange"), reference().limit("hood-flanged-factor"))
    yield tabled(_("capture velocity"), _capture(air.carries), air.capture_ms)
    if air.left_m3h is not None:
        yield given(_("flow the fan leaves for it"), air.left_m3h, "m³/h", hood.origin_of("fan"))


def _hood_caution(air: HoodAir) -> str:
    if not air.outside:
        return _("Its fan gives the air back to the room, which counts as no extraction.")
    if air.beyond_rule:
        return _("The rule may not hold: {why}.").format(why=air.beyond_rule)
    if air.carries == "dust":
        says = _("By the least velocity for what is thrown off; up to {most} may be needed.")
        return says.format(most=show(_capture("dust").high, "ms"))
    if air.has_m3h is not None and not air.measured:
        return _("The flow is written, and nobody has measured it.")
    return _("Draughts, and anybody who stands between, take away from it.")


def _duct_working(
    duct: Duct, carries: Carries, inputs: tuple[Input, ...], *, id_: str, subject: str, title: str
) -> Working:
    speed = reference().limit(_TRANSPORT[carries])
    known = duct.velocity_ms is not None
    result = (
        Quantity(duct.velocity_ms, "m/s")
        if duct.velocity_ms is not None
        else Quantity(duct.widest_mm, "mm")
    )
    return Working(
        id=id_,
        subject=subject,
        title=title,
        formula=_("4 × flow ÷ (π × diameter²)") if known else _("√(4 × flow ÷ (π × velocity))"),
        inputs=(*inputs, tabled(_("transport velocity, least"), speed, speed.low)),
        result=result,
        verdict=_duct_verdict(duct),
        limit=Quantity(speed.low, "m/s") if known else None,
        limit_source=speed.source_record if known else None,
        margin=Quantity(duct.velocity_ms - speed.low, "m/s")
        if duct.velocity_ms is not None
        else None,
        caution=_("At {slow} to {fast} the duct is {wide} to {narrow} wide.").format(
            slow=show(speed.low, "ms"),
            fast=show(speed.high, "ms"),
            wide=show(duct.widest_mm, "mm", 0),
            narrow=show(duct.narrowest_mm, "mm", 0),
        ),
        source=speed.source_record,
    )


def _duct_verdict(duct: Duct) -> Verdict:
    if duct.velocity_ms is None or duct.basis == "needed":
        return Verdict.INFORMS
    if duct.too_slow:
        return Verdict.FAILS
    return Verdict.HOLDS if duct.basis == "measured" else Verdict.UNANSWERED


def _fan_workings(shop: Shop, air: FanAir) -> Iterator[Working]:
    fan = air.fan
    if air.hoods:
        yield _fan_working(shop, air)
    if air.main is not None and fan.extract_point is not None:
        point = shop.room.extract_points[fan.extract_point]
        flow = given(_("flow"), air.main.flow_m3h, "m³/h", fan.origin_of("flow_m3h"))
        yield _duct_working(
            air.main,
            air.carries,
            (flow, own(_("inner diameter"), point, "diameter_mm")),
            id_=f"air.fan.{fan.id}.duct",
            subject=f"room/fans/{fan.id}",
            title=_("Main duct of {fan}").format(fan=fan.name),
        )


def _fan_working(shop: Shop, air: FanAir) -> Working:
    fan = air.fan
    capture = _capture(air.carries)
    return Working(
        id=f"air.fan.{fan.id}.flow",
        subject=f"room/fans/{fan.id}",
        title=_("Flow that {fan} must move").format(fan=fan.name),
        formula=_("sum of what its hoods must draw, all dampers open"),
        inputs=tuple(
            given(
                str(shop.room.hoods[h].name),
                needed_m3h(shop.room.hoods[h], capture.low),
                "m³/h",
                shop.room.hoods[h].origin,
            )
            for h in air.hoods
        ),
        result=Quantity(air.need_m3h, "m³/h"),
        verdict=air.verdict,
        limit=None if air.has_m3h is None else Quantity(air.has_m3h, "m³/h"),
        limit_source=None if air.has_m3h is None else fan.origin_of("flow_m3h"),
        margin=None if air.has_m3h is None else Quantity(air.has_m3h - air.need_m3h, "m³/h"),
        caution=""
        if fan.discharge == "outside"
        else _("It gives its air back to the room, which counts as no extraction."),
        source=capture.source_record,
    )


# --- findings ----------------------------------------------------------------------------------


def _findings(
    shop: Shop, hoods: tuple[HoodAir, ...], fans: tuple[FanAir, ...], hot: list[Machine]
) -> Iterator[Finding]:
    for hood in hoods:
        yield from _of_hood(shop, hood)
    for fan in fans:
        yield from _of_fan(shop, fan, [h for h in hoods if h.hood.fan == fan.fan.id])
    for machine in hot:
        yield from _without_hood(shop, machine)


def _of_hood(shop: Shop, air: HoodAir) -> Iterator[Finding]:
    if air.hood.form == "canopy" and _leaned_under(shop, air.station):
        yield _canopy(shop, air)
    if not air.outside:
        return
    if air.beyond_rule:
        yield _beyond(shop, air)
    elif air.verdict is Verdict.FAILS:
        yield _short(shop, air)
    elif air.verdict is Verdict.UNANSWERED:
        yield _unmeasured(shop, air)


def _finding(
    air: HoodAir, rule: str, severity: Severity, says: str, mend: str, *, field: str = "flow_m3h"
) -> Finding:
    return Finding(
        f"air.{rule}",
        severity,
        air.hood.origin_of(field),
        says,
        mend,
        subject=f"stations/{air.station}",
        working=f"air.hood.{air.hood.id}.flow",
        asks="ventilation" if severity is Severity.ASK else "",
    )


def _leaned_under(shop: Shop, station: str) -> bool:
    return any(not side.service for side in shop.stations[station].working_sides)


def _canopy(shop: Shop, air: HoodAir) -> Finding:
    says = _(
        "{hood} is a canopy over {station}, where people work: what rises passes their faces."
    ).format(hood=air.hood.name, station=at_station(shop, air.station))
    mend = _("Draw it off at the side or the back instead, with a flanged hood near the source.")
    return _finding(air, "canopy-over-people", Severity.FIX, says, mend, field="form")


def _beyond(shop: Shop, air: HoodAir) -> Finding:
    says = _("The flow of {hood} at {station} cannot be worked out by the rule: {why}.").format(
        hood=air.hood.name, station=at_station(shop, air.station), why=air.beyond_rule
    )
    mend = _("Ask what it must draw for {capture} at the source, and have it measured.").format(
        capture=show(air.capture_ms, "ms")
    )
    return _finding(air, "hood-beyond-rule", Severity.ASK, says, mend, field="opening")


def _short(shop: Shop, air: HoodAir) -> Finding:
    need, station = show(air.need_m3h, "m3h", 0), at_station(shop, air.station)
    if air.has_m3h is not None and air.has_m3h < air.need_m3h:
        says = _("{hood} at {station} draws {has} and needs {need}.").format(
            hood=air.hood.name, station=station, has=show(air.has_m3h, "m3h", 0), need=need
        )
        mend = _more_or_nearer(air, air.need_m3h - air.has_m3h)
    else:
        says = _(
            "Nobody has measured {hood} at {station}; its fan leaves it {left} at most, "
            "and it needs {need}."
        ).format(
            hood=air.hood.name, station=station, left=show(air.left_m3h or 0.0, "m3h", 1),
            need=show(air.need_m3h, "m3h", 1),
        )  # fmt: skip
        mend = _("Measure all hoods of the fan on one day, with the dampers as they stand in use.")
    return _finding(air, "hood-short", Severity.FIX, says, mend)


def _more_or_nearer(air: HoodAir, short_m3h: float) -> str:
    more, near = show(short_m3h, "m3h", 0), _nearest_mm(air)
    if near < 1:
        return _("Bring the flow up by {more}.").format(more=more)
    says = _("Bring it to {near} from the source, or the flow up by {more}.")
    return says.format(near=show(math.floor(near), "mm"), more=more)


def _nearest_mm(air: HoodAir) -> float:
    """The distance at which the flow a hood has is enough, 0 where it is not even at its face."""
    hood, has = air.hood, air.has_m3h or 0.0
    if hood.form == "canopy":
        return hood.distance_mm * has / air.need_m3h
    area = hood.opening[0] * hood.opening[1] / 1e6
    per_term = air.need_m3h / (10 * (hood.distance_mm / 1000) ** 2 + area)
    return 1000 * math.sqrt(max(0.0, (has / per_term - area) / 10))


def _unmeasured(shop: Shop, air: HoodAir) -> Finding:
    need, station = show(air.need_m3h, "m3h", 0), at_station(shop, air.station)
    if air.has_m3h is None:
        says = _("Nobody has measured what {hood} at {station} draws; it needs {need}.").format(
            hood=air.hood.name, station=station, need=need
        )
    else:
        says = _("{has} at {hood}, {station}, is not measured; it needs {need}.").format(
            has=show(air.has_m3h, "m3h", 0), hood=air.hood.name, station=station, need=need
        )
    mend = _("Have it measured with the dampers as they stand in use, and write flow and day.")
    return _finding(air, "hood-unmeasured", Severity.ASK, says, mend)


def _of_fan(shop: Shop, air: FanAir, hoods: list[HoodAir]) -> Iterator[Finding]:
    if air.fan.discharge == "recirculating":
        yield _recirculates(shop, air)
        return
    if air.has_m3h is None or not air.measured:
        yield _fan_unmeasured(air)
    if air.verdict is Verdict.FAILS:
        yield _fan_short(air)
    yield from _disagree(air, hoods)
    yield from _too_slow(air, hoods)


def _fan_finding(air: FanAir, rule: str, severity: Severity, says: str, mend: str) -> Finding:
    return Finding(
        f"air.{rule}",
        severity,
        air.fan.origin_of("flow_m3h"),
        says,
        mend,
        subject=f"room/fans/{air.fan.id}",
        working=f"air.fan.{air.fan.id}.flow" if air.hoods else "",
        asks="ventilation" if severity is Severity.ASK else "",
    )


def _recirculates(shop: Shop, air: FanAir) -> Finding:
    served = [at_station(shop, shop.room.hoods[h].station) for h in air.hoods]
    says = _("{fan} gives its air back to the room and counts as no extraction.").format(
        fan=air.fan.name
    )
    if served:
        says += " " + _("It is all there is at {stations}.").format(stations="; ".join(served))
    mend = _("Ask whether its filter may stand for what comes off here, or lead it outside.")
    return _fan_finding(air, "recirculates", Severity.ASK, says, mend)


def _fan_unmeasured(air: FanAir) -> Finding:
    says = _("Nobody has measured what {fan} moves as installed, so it counts as nothing.").format(
        fan=air.fan.name
    )
    mend = _("Have it measured with all dampers open, and write flow and day.")
    return _fan_finding(air, "fan-unmeasured", Severity.ASK, says, mend)


def _fan_short(air: FanAir) -> Finding:
    says = _("{fan} moves {has}, and its hoods need {need} together.").format(
        fan=air.fan.name,
        has=show(air.has_m3h or 0.0, "m3h", 0),
        need=show(air.need_m3h, "m3h", 0),
    )
    mend = _("Say which dampers stay shut while others are open, or fit a fan of {need}.").format(
        need=show(air.need_m3h, "m3h", 0)
    )
    return _fan_finding(air, "fan-short", Severity.FIX, says, mend)


def _disagree(air: FanAir, hoods: list[HoodAir]) -> Iterator[Finding]:
    """More goes in at the hoods than comes out of the fan: one of the figures is wrong."""
    drawn = sum(h.has_m3h or 0.0 for h in hoods if h.measured)
    if not air.measured or air.has_m3h is None or drawn <= air.has_m3h:
        return
    says = _("{fan} was measured at {has}, and its hoods at {drawn} together.").format(
        fan=air.fan.name, has=show(air.has_m3h, "m3h", 0), drawn=show(drawn, "m3h", 0)
    )
    mend = _("Measure fan and hoods on one day with the same dampers open.")
    yield _fan_finding(air, "flows-disagree", Severity.FIX, says, mend)


def _too_slow(air: FanAir, hoods: list[HoodAir]) -> Iterator[Finding]:
    """Ducts in which what is carried settles: dust there can burn, fume leaves a film."""
    slow = [(str(h.hood.name), h.branch) for h in hoods if h.branch.too_slow]
    if air.main is not None and air.main.too_slow:
        slow.append((_("main duct"), air.main))
    if not slow:
        return
    told = "; ".join(_slow_duct(name, duct) for name, duct in slow)
    says = ngettext(
        "Air in a duct of {fan} is slower than {least}, so what it carries settles: {ducts}.",
        "Air in {n} ducts of {fan} is slower than {least}, so what it carries settles: {ducts}.",
        len(slow),
    ).format(n=len(slow), fan=air.fan.name, least=show(slow[0][1].slowest_ms, "ms"), ducts=told)
    mend = _("Narrow them when they are next taken down, and clean them until then.")
    severity = Severity.FIX if air.carries == "dust" else Severity.NOTE
    yield _fan_finding(air, "duct-slow", severity, says, mend)


def _slow_duct(name: str, duct: Duct) -> str:
    return _("{name} {velocity}, {wide} would do").format(
        name=name,
        velocity=show(duct.velocity_ms or 0.0, "ms", 1),
        wide=show(math.floor(duct.widest_mm), "mm"),
    )


# --- machines without a hood -------------------------------------------------------------------


def melts(machine: Machine) -> bool:
    """Whether it melts plastic, which always gives off fume."""
    return machine.process in ("injection", "extrusion", "press")


def _asked_for_a_hood(machine: Machine) -> bool:
    return machine.is_hot or bool(machine.needs_extraction)


def _without_hood(shop: Shop, machine: Machine) -> Iterator[Finding]:
    if _caught(shop, machine):
        return
    where = at_station(shop, machine.station)
    if machine.needs_extraction:
        yield _uncaught(shop, machine, where)
    elif machine.needs_extraction is None or melts(machine):
        yield _may_need(machine, where)


def _caught(shop: Shop, machine: Machine) -> bool:
    hoods = (h for h in shop.room.hoods.values() if h.station == machine.station)
    return any(shop.room.fans[h.fan].discharge == "outside" for h in hoods)


def is_planned(shop: Shop, machine: Machine) -> bool:
    """Whether a stage that is not reached yet adds the machine or its station."""
    return any(
        not stage.reached
        for stage in shop.stages.values()
        if machine.id in stage.adds_machines or machine.station in stage.adds_stations
    )


def _uncaught(shop: Shop, machine: Machine, where: str) -> Finding:
    says = _("{machine} at {station} needs extraction, and no hood there blows outside.").format(
        machine=machine.name, station=where
    )
    planned = is_planned(shop, machine)
    mend = (
        _("Fit a hood that blows outside before it is first heated.")
        if planned
        else _("Do not heat it until a hood there blows outside and is measured.")
    )
    return Finding(
        "air.no-hood",
        Severity.STOP if machine.is_hot and not planned else Severity.FIX,
        machine.origin_of("needs_extraction"),
        says,
        mend,
        subject=f"machines/{machine.id}",
    )


def _may_need(machine: Machine, where: str) -> Finding:
    if machine.needs_extraction is None:
        says = _("{machine} at {station} is hot and has no hood; nobody said if it needs one.")
        mend = _("Ask, and write the answer as `needs_extraction`.")
    else:
        says = _("{machine} at {station} melts plastic, and the shop says it needs no hood.")
        mend = _("Have that confirmed by somebody who knows the fume of its polymers.")
    return Finding(
        "air.no-hood",
        Severity.ASK,
        machine.origin_of("needs_extraction"),
        says.format(machine=machine.name, station=where),
        mend,
        subject=f"machines/{machine.id}",
        asks="ventilation",
    )
