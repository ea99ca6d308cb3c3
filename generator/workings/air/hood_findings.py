"""What is wrong or unanswered at hoods, ducts and fans."""

from __future__ import annotations

import math
from collections.abc import Iterator

from generator.ground.finding import Finding, Severity
from generator.ground.units import show
from generator.ground.wording import _, ngettext
from generator.ground.working import Verdict
from generator.shop.shop import Shop
from generator.workings.air.drawn import Duct, FanAir, HoodAir
from generator.workings.shown import at_station


def of_hood(shop: Shop, air: HoodAir) -> Iterator[Finding]:
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


def of_fan(shop: Shop, air: FanAir, hoods: list[HoodAir]) -> Iterator[Finding]:
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
