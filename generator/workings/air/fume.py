"""What hot plastic gives off: measured or confirmed rates worked out, and a what-if where none is.

A rate is never invented. Where the shop has none it is asked for, and published ranges are run
through the same laws only to show how far apart the answers lie. Dilution is weak control: what
comes off at one point is caught there, and these figures say what the room would do without.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Literal

from generator.ground.finding import Finding, Severity
from generator.ground.units import show, show_number
from generator.ground.wording import _
from generator.ground.working import Input, Quantity, Verdict, Working
from generator.reference import Value, reference
from generator.shop.records.machines import Emission, Machine, Setting
from generator.shop.shop import Shop
from generator.workings.air import laws
from generator.workings.air.curves import Curve, curve
from generator.workings.air.room import RoomAir
from generator.workings.air.uncaught import melts
from generator.workings.heat import refusal_of
from generator.workings.shown import given, own, tabled

End = Literal["low", "high"]

_HOURS_SHOWN = 4.0
_PLACEHOLDERS = ("polyolefin-placeholder", "styrenic-placeholder")


@dataclass(frozen=True, slots=True)
class Dilution:
    """One confirmed emission, and the air that would keep it down.

    ``aim_mgm3`` is the concentration planned for, None where the place has no limit on record.
    ``need_m3h`` is the flow at the worst mixing factor, None with it.
    """

    machine: str
    polymer: str
    emission: Emission
    aim_mgm3: float | None
    need_m3h: float | None
    build_up: Curve
    verdict: Verdict


@dataclass(frozen=True, slots=True)
class WhatIf:
    """What published ranges would mean here: never a figure of this shop.

    Everything that melts plastic at once, each machine with its worst polymer at its written
    rate. ``low`` and ``high`` are the ends: the least emission in well mixed air, the most in
    badly mixed air. ``left_out`` names what no range is on record for.
    """

    machines: tuple[str, ...]
    low_mgh: float
    high_mgh: float
    low: Curve
    high: Curve
    left_out: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class FumeStudy:
    """Dilution of what is known, and a what-if of what is not."""

    dilutions: tuple[Dilution, ...]
    what_if: WhatIf | None
    workings: tuple[Working, ...]
    findings: tuple[Finding, ...]
    checks: int
    unanswered: int
    """Checks that leave no working: each machine that melts is asked for its emission."""


@dataclass(frozen=True, slots=True)
class _Given:
    """A range of emission of one machine with one polymer, from its mass rate [mg/h]."""

    machine: Machine
    setting: Setting
    per_kg: Value
    rate: Input

    @property
    def low_mgh(self) -> float:
        return self.per_kg.low * self.rate.quantity.value

    @property
    def high_mgh(self) -> float:
        return self.per_kg.high * self.rate.quantity.value


def study(shop: Shop, air: RoomAir) -> FumeStudy:
    """Work out what is given off.

    Parameters
    ----------
    shop
        The shop, read without a data fault.
    air
        Its room's air.
    """
    known = [(m, s, e) for m, s, e in _emissions(shop) if is_confirmed(e)]
    dilutions = tuple(_dilution(shop, air, m, s, e) for m, s, e in known)
    worst, left_out = _worst_ranges(shop)
    what_if = _what_if(air, worst, left_out) if worst else None
    workings = [w for d in dilutions for w in _dilution_working(shop, air, d)]
    workings += _what_if_workings(shop, air, worst)
    findings = [*_unknown(shop), *_weak(shop, air, dilutions)]
    asked = sum(melts(m) for m in shop.machines.values()) + sum(
        d.need_m3h is None for d in dilutions
    )
    silent = sum(f.severity is Severity.ASK for f in findings)
    return FumeStudy(dilutions, what_if, tuple(workings), tuple(findings), asked, silent)


def _emissions(shop: Shop) -> Iterator[tuple[Machine, Setting, Emission]]:
    for machine in shop.machines.values():
        for setting in _heated(shop, machine):
            for emission in setting.emissions:
                yield machine, setting, emission


def _heated(shop: Shop, machine: Machine) -> list[Setting]:
    """Settings for what may be heated: nobody is asked to measure what must not be melted."""
    return [s for s in machine.settings if not refusal_of(shop.polymers[s.polymer])]


def is_confirmed(emission: Emission) -> bool:
    """Whether somebody measured it here or stands for it."""
    return emission.measured is not None or emission.confirmed_by is not None


# --- dilution ----------------------------------------------------------------------------------


def limit_of(substance: str, place: str) -> Value | None:
    """The exposure limit over eight hours at a place [ppm], None where none is on record."""
    return reference().find_limit(f"exposure-{substance}-8h", place)


def _dilution(
    shop: Shop, air: RoomAir, machine: Machine, setting: Setting, emission: Emission
) -> Dilution:
    mixing = reference().limit("mixing-factor").high
    aim = _aim_mgm3(emission.substance, shop.shop.jurisdiction)
    need = None if aim is None else laws.dilution_m3h(emission.rate_mgh, mixing, aim)
    return Dilution(
        machine=machine.id,
        polymer=setting.polymer,
        emission=emission,
        aim_mgm3=aim,
        need_m3h=need,
        build_up=curve(
            f"{machine.id}-{setting.polymer}-{emission.substance}",
            _("{substance} in badly mixed air").format(
                substance=_(reference().substance(emission.substance).name)
            ),
            "mg/m³",
            60 * _HOURS_SHOWN,
            _rising(emission.rate_mgh, air, mixing),
        ),
        verdict=_judged(need, air.counted_m3h),
    )


def _aim_mgm3(substance: str, place: str) -> float | None:
    limit = limit_of(substance, place)
    if limit is None:
        return None
    share = reference().limit("dilution-share").low
    molar = reference().substance(substance).molar_mass.low
    return laws.mass_concentration_mgm3(share * limit.high, molar)


def _rising(emission_mgh: float, air: RoomAir, mixing: float) -> Callable[[float], float]:
    return lambda minutes: laws.build_up_mgm3(
        minutes, emission_mgh, air.counted_m3h, air.volume_m3, mixing
    )


def _judged(need_m3h: float | None, counted_m3h: float) -> Verdict:
    if need_m3h is None:
        return Verdict.UNANSWERED
    return Verdict.HOLDS if need_m3h <= counted_m3h else Verdict.FAILS


def _dilution_working(shop: Shop, air: RoomAir, made: Dilution) -> Iterator[Working]:
    machine, substance = shop.machines[made.machine], made.emission.substance
    name = _(reference().substance(substance).name)
    limit = limit_of(substance, shop.shop.jurisdiction)
    if made.need_m3h is None or limit is None:
        return
    mixing = reference().limit("mixing-factor")
    yield Working(
        id=f"air.dilution.{made.machine}.{made.polymer}.{substance}",
        subject=f"machines/{made.machine}",
        title=_("Clean air against {substance} from {machine}, as if no hood caught any").format(
            substance=name, machine=machine.name
        ),
        formula=_("emission × mixing factor ÷ (share of the limit × limit × molar mass ÷ 24.45)"),
        inputs=(
            own(_("emission"), made.emission, "rate_mgh"),
            tabled(_("mixing factor, applied once"), mixing, mixing.high),
            tabled(_("share of the limit planned for"), reference().limit("dilution-share")),
            tabled(_("limit over eight hours"), limit, limit.high),
            tabled(_("molar mass"), reference().substance(substance).molar_mass),
        ),
        result=Quantity(made.need_m3h, "m³/h"),
        verdict=made.verdict,
        limit=Quantity(air.counted_m3h, "m³/h"),
        limit_source=air.counted_origin,
        margin=Quantity(air.counted_m3h - made.need_m3h, "m³/h"),
        caution=_("Dilution is weak control: catch it at the source. Well mixed, {least}.").format(
            least=show(made.need_m3h * mixing.low / mixing.high, "m3h", 0)
        ),
        source=mixing.source_record,
    )


def _weak(shop: Shop, air: RoomAir, dilutions: tuple[Dilution, ...]) -> Iterator[Finding]:
    for made in dilutions:
        name = _(reference().substance(made.emission.substance).name)
        machine = shop.machines[made.machine]
        if made.need_m3h is None:
            yield _no_limit(shop, made, name)
        elif made.verdict is Verdict.FAILS:
            says = _(
                "What a hood misses of the {substance} from {machine} the room cannot dilute: it "
                "would take {need}, and {counted} counts."
            ).format(
                substance=name, machine=machine.name, need=show(made.need_m3h, "m3h", 0),
                counted=show(air.counted_m3h, "m3h", 0),
            )  # fmt: skip
            yield Finding(
                "air.dilution",
                Severity.FIX,
                made.emission.origin_of("rate_mgh"),
                says,
                _("Rely on the hood: have its capture shown with smoke, and run it first."),
                subject=f"machines/{made.machine}",
                working=f"air.dilution.{made.machine}.{made.polymer}.{made.emission.substance}",
            )


def _no_limit(shop: Shop, made: Dilution, substance: str) -> Finding:
    says = _("No exposure limit for {substance} in {place} is on record here.")
    return Finding(
        "air.no-exposure-limit",
        Severity.ASK,
        made.emission.origin_of("substance"),
        says.format(substance=substance, place=shop.shop.jurisdiction),
        _("Ask which limit holds where the shop stands, and what the room must be aired with."),
        subject=f"machines/{made.machine}",
        asks="ventilation",
    )


# --- what if -----------------------------------------------------------------------------------


def per_kilogram(polymer_code: str) -> Value | None:
    """The published placeholder of organics for each kilogram heated [mg/kg], or None."""
    bases = reference().identify(polymer_code).bases
    rows = [reference().emissions[key] for key in _PLACEHOLDERS]
    if not bases:
        return None
    found = [next((r.rate for r in rows if base in r.polymers), None) for base in bases]
    return max((f for f in found if f), key=lambda v: v.high, default=None) if all(found) else None


def _ranges(shop: Shop, machine: Machine) -> Iterator[_Given | str]:
    """A range for each polymer the machine melts, or the name of one without figures."""
    for setting in _heated(shop, machine):
        polymer = shop.polymers[setting.polymer]
        per_kg, rate = per_kilogram(polymer.code), _rate(machine, setting)
        if per_kg is None or rate is None:
            yield _("{polymer} in {machine}").format(polymer=polymer.name, machine=machine.name)
        else:
            yield _Given(machine, setting, per_kg, rate)


def _rate(machine: Machine, setting: Setting) -> Input | None:
    name = _("rate of {machine}").format(machine=machine.name)
    if setting.rate_kgh is not None:
        return own(name, setting, "rate_kgh")
    if machine.capacity.throughput_kgh is not None:
        return own(name, machine.capacity, "throughput_kgh")
    return None


def _worst_ranges(shop: Shop) -> tuple[list[_Given], list[str]]:
    """Each melting machine with its worst polymer, and what has no range."""
    worst, left_out = [], []
    for machine in shop.machines.values():
        if not melts(machine):
            continue
        found = list(_ranges(shop, machine))
        ranges = [f for f in found if isinstance(f, _Given)]
        left_out += [f for f in found if isinstance(f, str)]
        if ranges:
            worst.append(max(ranges, key=lambda r: r.high_mgh))
    return worst, left_out


def _what_if(air: RoomAir, worst: list[_Given], left_out: list[str]) -> WhatIf:
    mixing = reference().limit("mixing-factor")
    low, high = math.fsum(r.low_mgh for r in worst), math.fsum(r.high_mgh for r in worst)
    length = 60 * _HOURS_SHOWN
    return WhatIf(
        machines=tuple(r.machine.id for r in worst),
        low_mgh=low,
        high_mgh=high,
        low=curve(
            "what-if-low", _("least, well mixed"), "mg/m³", length, _rising(low, air, mixing.low)
        ),
        high=curve(
            "what-if-high", _("most, badly mixed"), "mg/m³", length, _rising(high, air, mixing.high)
        ),
        left_out=tuple(left_out),
    )


def _what_if_workings(shop: Shop, air: RoomAir, worst: list[_Given]) -> Iterator[Working]:
    if worst:
        yield _what_if_working(shop, "low", air, worst)
        yield _what_if_working(shop, "high", air, worst)


def _what_if_working(shop: Shop, end: End, air: RoomAir, worst: list[_Given]) -> Working:
    factor = reference().limit("mixing-factor")
    emitted = math.fsum(r.low_mgh if end == "low" else r.high_mgh for r in worst)
    mixing = factor.low if end == "low" else factor.high
    result = laws.build_up_mgm3(60 * _HOURS_SHOWN, emitted, air.counted_m3h, air.volume_m3, mixing)
    return Working(
        id=f"air.what-if.{end}",
        subject="room",
        title=_("What if: organics in the air after {hours} h, {end}").format(
            hours=show_number(_HOURS_SHOWN), end=_("least") if end == "low" else _("most")
        ),
        formula=_(
            "emission ÷ (flow ÷ mixing factor) × (1 − e^(−flow × time ÷ (mixing factor × volume)))"
        ),
        inputs=tuple(_what_if_inputs(shop, end, air, worst)),
        result=Quantity(result, "mg/m³"),
        caution=_(
            "Not a figure of this shop: a published placeholder that nobody has confirmed, with "
            "no hood catching any. It shows how little is known before somebody measures."
        ),
        source=factor.source_record,
    )


def _what_if_inputs(shop: Shop, end: End, air: RoomAir, worst: list[_Given]) -> Iterator[Input]:
    for found in worst:
        yield found.rate
        label = _("given off by each kilogram in {machine}").format(machine=found.machine.name)
        yield tabled(label, found.per_kg, found.per_kg.low if end == "low" else found.per_kg.high)
    factor = reference().limit("mixing-factor")
    mixing = factor.low if end == "low" else factor.high
    yield tabled(_("mixing factor, applied once"), factor, mixing)
    yield given(_("outdoor air that counts"), air.counted_m3h, "m³/h", air.counted_origin)
    yield given(_("volume"), air.volume_m3, "m³", shop.room.origin_of("outline"))


def _unknown(shop: Shop) -> Iterator[Finding]:
    """Every melting machine with a polymer that nobody has a figure for."""
    for machine in shop.machines.values():
        missing = [s for s in _heated(shop, machine) if not any(map(is_confirmed, s.emissions))]
        if not melts(machine) or not missing:
            continue
        names = ", ".join(str(shop.polymers[s.polymer].name) for s in missing)
        says = _("Nobody has measured or confirmed what {machine} gives off with {polymers}.")
        yield Finding(
            "air.emission-unknown",
            Severity.ASK,
            missing[0].origin,
            says.format(machine=machine.name, polymers=names),
            _(
                "Ask whether it is worth measuring here, and what; write it under `emissions` "
                "of the setting. Until then only the hood stands between fume and people."
            ),
            subject=f"machines/{machine.id}",
            asks="ventilation",
        )
