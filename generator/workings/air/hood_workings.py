"""Hoods, ducts and fans with their working shown."""

from __future__ import annotations

from collections.abc import Iterator

from generator.ground.units import show
from generator.ground.wording import _
from generator.ground.working import Input, Quantity, Verdict, Working
from generator.reference import reference
from generator.shop.records.room import Hood
from generator.shop.shop import Shop
from generator.workings.air.drawn import (
    TRANSPORT,
    Carries,
    Duct,
    FanAir,
    HoodAir,
    capture_of,
    needed_m3h,
)
from generator.workings.shown import given, own, tabled


def of_hood(air: HoodAir) -> Iterator[Working]:
    hood = air.hood
    drawn = air.left_m3h if air.has_m3h is None else air.has_m3h
    field = "fan" if air.has_m3h is None else "flow_m3h"
    yield Working(
        id=f"air.hood.{hood.id}.flow",
        subject=f"stations/{air.station}",
        title=_("Flow that {hood} must draw").format(hood=hood.name),
        formula=_formula(hood),
        inputs=tuple(_hood_inputs(air)),
        result=Quantity(air.need_m3h, "m³/h"),
        verdict=air.verdict,
        limit=None if drawn is None else Quantity(drawn, "m³/h"),
        limit_source=None if drawn is None else hood.origin_of(field),
        margin=None if drawn is None else Quantity(drawn - air.need_m3h, "m³/h"),
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
    yield tabled(_("capture velocity"), capture_of(air.carries), air.capture_ms)
    if air.left_m3h is not None:
        yield given(_("flow the fan leaves for it"), air.left_m3h, "m³/h", hood.origin_of("fan"))


def _hood_caution(air: HoodAir) -> str:
    if not air.outside:
        return _("Its fan gives the air back to the room, which counts as no extraction.")
    if air.beyond_rule:
        return _("The rule may not hold: {why}.").format(why=air.beyond_rule)
    if air.carries == "dust":
        says = _("By the least velocity for what is thrown off; up to {most} may be needed.")
        return says.format(most=show(capture_of("dust").high, "ms"))
    if air.has_m3h is None and air.left_m3h is not None:
        return _("Held against the most its fan leaves it: nobody has measured it.")
    if air.has_m3h is not None and not air.measured:
        return _("The flow is written, and nobody has measured it.")
    return _("Draughts, and anybody who stands between, take away from it.")


def _duct_working(
    duct: Duct, carries: Carries, inputs: tuple[Input, ...], *, id_: str, subject: str, title: str
) -> Working:
    speed = reference().limit(TRANSPORT[carries])
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


def of_fan(shop: Shop, air: FanAir) -> Iterator[Working]:
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
    capture = capture_of(air.carries)
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
