"""The room's air as a whole: what leaves, what must come in, what warms it, how it clears.

What leaves must come in. Only flows that somebody measured count as air for people or for
clearing the room; a flow that is merely written still counts as drawn out where that is worse.
A filter that gives air back and a window count as nothing.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

from shapely import Polygon

from generator.ground.finding import Finding, Severity
from generator.ground.origin import Origin
from generator.ground.units import show
from generator.ground.wording import _, ngettext
from generator.ground.working import Input, Quantity, Source, Verdict, Working
from generator.reference import reference
from generator.shop.records.room import Climate, Fan
from generator.shop.shop import Shop
from generator.workings.air import laws
from generator.workings.air.curves import Curve, curve
from generator.workings.shown import given, own, tabled

_CLEARED = 0.1
"""Share left when a room is said to be cleared."""


@dataclass(frozen=True, slots=True)
class RoomAir:
    """The room and the air that goes through it.

    ``exhaust_m3h`` and ``supply_m3h`` are what all fans to and from outside are written to
    move; ``counted_m3h`` is the outdoor air that measured flows alone bring through the room,
    ``counted_origin`` where the first of them is written, else the room itself.
    ``heating_kw`` warms the make-up air on the coldest day, None without a climate. ``purge``
    holds a curve of the share left for each way of mixing, none without a counted flow.
    """

    area_m2: float
    volume_m3: float
    exhaust_m3h: float
    supply_m3h: float
    counted_m3h: float
    counted_origin: Origin
    changes_per_hour: float
    heating_kw: float | None
    purge: tuple[Curve, ...]
    workings: tuple[Working, ...]
    findings: tuple[Finding, ...]
    checks: int
    unanswered: int
    """Checks that leave no working: whether a flue and a fan share the room, and its heat."""

    @property
    def make_up_m3h(self) -> float:
        """What must come in by itself, because no fan brings it [m³/h]."""
        return max(0.0, self.exhaust_m3h - self.supply_m3h)


def study(shop: Shop) -> RoomAir:
    """Work out the room's air.

    Parameters
    ----------
    shop
        The shop, read without a data fault.
    """
    room = shop.room
    area = Polygon(room.outline).area / 1e6
    volume = area * room.ceiling_mm / 1000
    exhaust, supply = (_moved(shop, way) for way in ("outside", "supply"))
    counted = max(_moved(shop, way, measured=True) for way in ("outside", "supply"))
    through = max(exhaust, supply)
    air = RoomAir(
        area_m2=area,
        volume_m3=volume,
        exhaust_m3h=exhaust,
        supply_m3h=supply,
        counted_m3h=counted,
        counted_origin=_counted_origin(shop),
        changes_per_hour=laws.changes_per_hour(counted, volume),
        heating_kw=_heating_kw(through, room.climate),
        purge=tuple(_purge_curves(counted, volume)),
        workings=(),
        findings=(),
        checks=1,
        unanswered=int(_draws_out(shop) and room.climate is None),
    )
    return replace(air, workings=tuple(_workings(shop, air)), findings=tuple(_findings(shop, air)))


def _fans(shop: Shop, way: str, *, measured: bool = False) -> list[Fan]:
    fans = (f for f in shop.room.fans.values() if f.discharge == way and f.flow_m3h is not None)
    return [f for f in fans if f.measured is not None or not measured]


def _moved(shop: Shop, way: str, *, measured: bool = False) -> float:
    return sum(fan.flow_m3h or 0.0 for fan in _fans(shop, way, measured=measured))


def _counted_origin(shop: Shop) -> Origin:
    fans = [f for way in ("outside", "supply") for f in _fans(shop, way, measured=True)]
    return fans[0].origin_of("flow_m3h") if fans else shop.room.origin


def _heating_kw(flow_m3h: float, climate: Climate | None) -> float | None:
    if climate is None:
        return None
    density, heat = (reference().limit(k).low for k in ("air-density", "air-heat-capacity"))
    return laws.air_heating_kw(flow_m3h, _rise_k(climate), density, heat)


def _rise_k(climate: Climate) -> float:
    return max(0.0, climate.indoor_c - climate.winter_outdoor_c)


def _purge_curves(flow_m3h: float, volume_m3: float) -> Iterator[Curve]:
    if flow_m3h <= 0:
        return
    mixing = reference().limit("mixing-factor")
    length = laws.purge_minutes(_CLEARED, flow_m3h, volume_m3, mixing.high)
    for factor, label in _mixings():
        law = _left_percent(flow_m3h, volume_m3, factor)
        yield curve(f"mixing-{factor:g}", label, "%", length, law)


def _left_percent(flow_m3h: float, volume_m3: float, mixing: float) -> Callable[[float], float]:
    return lambda minutes: 100 * laws.purged_share(minutes, flow_m3h, volume_m3, mixing)


def _mixings() -> tuple[tuple[float, str], ...]:
    mixing = reference().limit("mixing-factor")
    return (
        (1.0, _("mixed perfectly, which no room is")),
        (mixing.low, _("mixed well (factor {k})").format(k=f"{mixing.low:g}")),
        (mixing.high, _("mixed badly (factor {k})").format(k=f"{mixing.high:g}")),
    )


# --- workings ----------------------------------------------------------------------------------


def _workings(shop: Shop, air: RoomAir) -> Iterator[Working]:
    if air.exhaust_m3h > 0:
        yield _make_up(shop, air)
    yield _changes(shop, air)
    moved = max(air.exhaust_m3h, air.supply_m3h)
    if moved and air.heating_kw is not None and shop.room.climate is not None:
        yield _heating(shop, shop.room.climate, air.heating_kw)
    if air.counted_m3h > 0:
        for factor, label in _mixings()[1:]:
            yield _purge(shop, air, factor, label)


def _flow_inputs(shop: Shop, way: str, *, measured: bool = False) -> tuple[Input, ...]:
    return tuple(own(str(fan.name), fan, "flow_m3h") for fan in _fans(shop, way, measured=measured))


def _make_up(shop: Shop, air: RoomAir) -> Working:
    short = air.make_up_m3h > 0
    return Working(
        id="air.make-up.flow",
        subject="room",
        title=_("Make-up air"),
        formula=_("what fans take out of the room comes in again, by fans or by itself"),
        inputs=(*_flow_inputs(shop, "outside"), *_flow_inputs(shop, "supply")),
        result=Quantity(air.exhaust_m3h, "m³/h"),
        verdict=Verdict.UNANSWERED if short else Verdict.HOLDS,
        limit=Quantity(air.supply_m3h, "m³/h") if air.supply_m3h else None,
        limit_source=_fans(shop, "supply")[0].origin_of("flow_m3h") if air.supply_m3h else None,
        margin=Quantity(air.supply_m3h - air.exhaust_m3h, "m³/h") if air.supply_m3h else None,
        caution=_("Windows and gaps count as nothing: what they let in turns with the wind."),
        source=_textbook(),
    )


def _textbook() -> Source:
    return reference().limit("air-density").source_record


def _changes(shop: Shop, air: RoomAir) -> Working:
    room = shop.room
    return Working(
        id="air.changes",
        subject="room",
        title=_("Air changes"),
        formula=_("outdoor air that counts ÷ volume of the room"),
        inputs=(
            *_flow_inputs(shop, "outside", measured=True),
            *_flow_inputs(shop, "supply", measured=True),
            given(_("volume"), air.volume_m3, "m³", room.origin_of("outline")),
        ),
        result=Quantity(air.changes_per_hour, "1/h"),
        verdict=Verdict.INFORMS if air.counted_m3h else Verdict.UNANSWERED,
        caution=_("Only measured flows count, and none but to or from outside."),
        source=_textbook(),
    )


def _heating(shop: Shop, climate: Climate, heating_kw: float) -> Working:
    has = climate.heating_kw
    return Working(
        id="air.make-up.heat",
        subject="room",
        title=_("Heat for the make-up air on the coldest day"),
        formula=_("flow × density × heat capacity × (indoors − outdoors)"),
        inputs=(
            *_flow_inputs(shop, "outside"),
            *_flow_inputs(shop, "supply"),
            tabled(_("density of air"), reference().limit("air-density")),
            tabled(_("heat capacity of air"), reference().limit("air-heat-capacity")),
            own(_("indoors"), climate, "indoor_c"),
            own(_("outdoors"), climate, "winter_outdoor_c"),
        ),
        result=Quantity(heating_kw, "kW"),
        verdict=_heat_verdict(heating_kw, has),
        limit=None if has is None else Quantity(has, "kW"),
        limit_source=None if has is None else climate.origin_of("heating_kw"),
        margin=None if has is None else Quantity(has - heating_kw, "kW"),
        caution=_("What walls, floor and roof lose comes on top."),
        source=_textbook(),
    )


def _heat_verdict(needs_kw: float, has_kw: float | None) -> Verdict:
    if has_kw is None:
        return Verdict.UNANSWERED if needs_kw else Verdict.INFORMS
    return Verdict.HOLDS if needs_kw <= has_kw else Verdict.FAILS


def _purge(shop: Shop, air: RoomAir, factor: float, label: str) -> Working:
    minutes = laws.purge_minutes(_CLEARED, air.counted_m3h, air.volume_m3, factor)
    return Working(
        id=f"air.purge.mixing-{factor:g}",
        subject="room",
        title=_("Time until nine tenths are out, {how}").format(how=label),
        formula=_("−ln(share left) × mixing factor × volume ÷ flow"),
        inputs=(
            *_flow_inputs(shop, "outside", measured=True),
            *_flow_inputs(shop, "supply", measured=True),
            given(_("volume"), air.volume_m3, "m³", shop.room.origin_of("outline")),
            tabled(_("mixing factor"), reference().limit("mixing-factor"), factor),
        ),
        result=Quantity(minutes, "min"),
        caution=_("Once nothing is given off any more, with the fans left running."),
        source=reference().limit("mixing-factor").source_record,
    )


# --- findings ----------------------------------------------------------------------------------


def _findings(shop: Shop, air: RoomAir) -> Iterator[Finding]:
    yield from _backdraught(shop, air)
    yield from _no_way_in(shop, air)
    yield from _too_cold(shop, air)
    yield from _windows(shop)
    if not air.counted_m3h:
        yield _nothing_counts(shop)


def _drawing(shop: Shop) -> str:
    return "; ".join(str(fan.name) for fan in _fans(shop, "outside"))


def _draws_out(shop: Shop) -> bool:
    """Whether a fan takes air out of the room, whatever is known of its flow."""
    return any(fan.discharge == "outside" for fan in shop.room.fans.values())


def _backdraught(shop: Shop, air: RoomAir) -> Iterator[Finding]:
    """A fire that breathes the room's air beside a fan that takes it out."""
    climate = shop.room.climate
    if climate is None or climate.heating_kind != "open flue" or not _draws_out(shop):
        return
    says = _(
        "The heating has an open flue, and fans draw {flow} out of its room: they can draw its "
        "flue gas, carbon monoxide with it, back in."
    ).format(flow=_flow_words(air))
    mend = _(
        "Do not run fans and fire together until a licensed heating engineer has tested for "
        "spillage with all fans on; hang a carbon monoxide alarm."
    )
    yield Finding(
        "air.backdraught",
        Severity.STOP,
        climate.origin_of("heating_kind"),
        says,
        mend,
        subject="room",
        working="air.make-up.flow" if air.exhaust_m3h else "",
        asks="ventilation",
    )


def _flow_words(air: RoomAir) -> str:
    return show(air.exhaust_m3h, "m3h", 0) if air.exhaust_m3h else _("air, nobody knows how much,")


def _no_way_in(shop: Shop, air: RoomAir) -> Iterator[Finding]:
    if not air.make_up_m3h:
        return
    says = _("{flow} leaves the room by {fans}, and {missing} of it has no way in that counts.")
    says = says.format(
        fans=_drawing(shop),
        flow=show(air.exhaust_m3h, "m3h", 0),
        missing=show(air.make_up_m3h, "m3h", 0),
    )
    mend = _("Ask where it is to come in, warmed, and without blowing across the hoods.")
    fan = _fans(shop, "outside")[0]
    yield Finding(
        "air.no-make-up",
        Severity.ASK,
        fan.origin_of("flow_m3h"),
        says,
        mend,
        subject="room",
        working="air.make-up.flow",
        asks="ventilation",
    )


def _too_cold(shop: Shop, air: RoomAir) -> Iterator[Finding]:
    climate = shop.room.climate
    if climate is None:
        if _draws_out(shop):
            yield _no_climate(shop, air)
    elif air.heating_kw and climate.heating_kw is not None and air.heating_kw > climate.heating_kw:
        says = _("Warming the make-up air takes {needs} on the coldest day; the heating has {has}.")
        mend = _("Plan {more} more before the walls are counted, or run fewer hoods in winter.")
        yield Finding(
            "air.cold-make-up",
            Severity.FIX,
            climate.origin_of("heating_kw"),
            says.format(needs=show(air.heating_kw, "kw", 1), has=show(climate.heating_kw, "kw", 1)),
            mend.format(more=show(air.heating_kw - climate.heating_kw, "kw", 1)),
            subject="room",
            working="air.make-up.heat",
        )


def _no_climate(shop: Shop, air: RoomAir) -> Finding:
    says = _("Fans draw {flow} out, and neither winter nor heating is written.").format(
        flow=_flow_words(air)
    )
    return Finding(
        "air.no-climate",
        Severity.NOTE,
        shop.room.origin,
        says,
        _(
            "Write `climate`: the coldest day outdoors, the temperature indoors, and what heats "
            "the room, since an open flue and a fan can draw its gas back in."
        ),
        subject="room",
        working="air.make-up.flow" if air.exhaust_m3h else "",
    )


def _windows(shop: Shop) -> Iterator[Finding]:
    openable = [w for w in shop.room.windows.values() if w.openable_m2 > 0]
    if not openable:
        return
    area = math.fsum(window.openable_m2 for window in openable)
    says = ngettext(
        "The one window that opens ({area}) counts as no extraction.",
        "The {n} windows that open ({area} together) count as no extraction.",
        len(openable),
    ).format(n=len(openable), area=show(area, "m2", 1))
    mend = _("Ask whether they may serve as a way in for make-up air, and in which weather.")
    yield Finding(
        "air.window",
        Severity.ASK,
        openable[0].origin_of("openable_m2"),
        says,
        mend,
        subject="room",
        asks="ventilation",
    )


def _nothing_counts(shop: Shop) -> Finding:
    return Finding(
        "air.nothing-counts",
        Severity.ASK,
        shop.room.origin,
        _("No measured flow goes to or from outside, so no outdoor air is counted."),
        _("Ask what airs the room when it is full, and have its flow measured."),
        subject="room",
        working="air.changes",
        asks="ventilation",
    )
