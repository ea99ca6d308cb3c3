"""What each hood must draw and draws, the ducts behind it, and what its fan moves.

A hood counts only where its fan blows to the outside. A flow nobody measured never makes a
check hold; it can make one fail.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from generator.ground.units import show
from generator.ground.wording import _
from generator.ground.working import Verdict
from generator.reference import Value, reference
from generator.shop.records.room import Fan, Hood
from generator.shop.records.stations import Station
from generator.shop.shop import Shop
from generator.workings.air import laws

Carries = Literal["fume", "dust"]
Basis = Literal["measured", "written", "needed"]
"""What a duct's flow rests on: somebody's meter, a figure nobody measured, or the hood's need."""

_DUSTY_KINDS = frozenset({"granulator", "shredder", "band-saw", "belt-sander", "pillar-drill"})
_DUSTY_ZONES = frozenset({"dusty", "finishing"})
_CAPTURE = {"fume": "capture-heated-plastic", "dust": "capture-active"}
TRANSPORT = {"fume": "duct-fume", "dust": "duct-dry-powder"}


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


def capture_of(carries: Carries) -> Value:
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


def hood_air(shop: Shop, hood: Hood) -> HoodAir:
    carries = carried_from(shop, shop.stations[hood.station])
    capture = capture_of(carries).low
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
    speed = reference().limit(TRANSPORT[carries])
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


def fan_air(shop: Shop, fan: Fan, all_hoods: Iterable[HoodAir]) -> FanAir:
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
