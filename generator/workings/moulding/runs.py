"""One mould on one machine with one melt: shot, clamp, cooling, cycle, hot time, energy, cost."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from generator.ground.units import Money
from generator.reference import reference
from generator.shop.records.logs import Trial
from generator.shop.records.machines import Electric, Machine
from generator.shop.records.material import Mould
from generator.workings.moulding import clamp, press, shot, warming
from generator.workings.moulding.cooling import Where, plate_s, rod_s, share_left
from generator.workings.moulding.errors import UnworkableError
from generator.workings.moulding.kit import Kit
from generator.workings.moulding.melts import Fact, Melt, Running, tabled
from generator.workings.moulding.trials import Handling


@dataclass(frozen=True, slots=True)
class Cooling:
    """How long a part cools in the mould [s], the hottest plane and the mean of the thickest wall.

    ``soonest_s`` and ``latest_s`` are the hottest plane's for the ends of the ejection range.
    """

    middle_s: float
    mean_s: float
    soonest_s: float
    latest_s: float


@dataclass(frozen=True, slots=True)
class Cycle:
    """How long a shot takes from one to the next [s], and how that is known.

    From a ``trial``, or worked out from ``cooling_s``, ``hold_s`` and the machine's ``handling``;
    never less than melting takes.
    """

    seconds: float
    trial: Trial | None = None
    cooling_s: float = 0.0
    hold_s: float = 0.0
    handling: Handling | None = None
    melting_s: float = 0.0


@dataclass(frozen=True, slots=True)
class Length:
    """A length of a part and the cavity that makes it [mm], for the ends of the shrinkage."""

    part_mm: float
    least_mm: float
    most_mm: float


@dataclass(frozen=True)
class Run:
    """One mould on one machine with one melt. What cannot be worked out is None."""

    kit: Kit
    mould: Mould
    machine: Machine
    melt: Melt
    how: Running

    @property
    def is_press(self) -> bool:
        return self.machine.process == "press"

    # --- shot

    @property
    def shot_cold_cm3(self) -> float:
        """Parts, sprue and runner, cold [cm³]."""
        return self.mould.cavities * self.mould.part_volume_cm3 + self.mould.sprue_cm3

    @cached_property
    def part_g(self) -> float | None:
        """One part [g]."""
        rho = self.melt.density
        return shot.mass_g(self.mould.part_volume_cm3, rho.value) if rho else None

    @cached_property
    def shot_g(self) -> float | None:
        """A whole shot with sprue and runner, or a press charge with its flash [g]."""
        rho = self.melt.density
        if rho is None:
            return None
        if self.is_press and not self.mould.sprue_cm3:
            parts = shot.mass_g(self.shot_cold_cm3, rho.value)
            return press.charge_g(parts, self.kit.figure("press-charge-loss").value)
        return shot.mass_g(self.shot_cold_cm3, rho.value)

    @cached_property
    def melt_cm3(self) -> float | None:
        """A shot as melt [cm³]."""
        rho = self.melt.melt_density
        return shot.melt_cm3(self.shot_g, rho.value) if self.shot_g and rho else None

    @cached_property
    def needed_cm3(self) -> float | None:
        """Melt the barrel must hold for a shot, with its reserve [cm³]."""
        reserve = self.kit.figure("shot-reserve").value
        return shot.with_reserve(self.melt_cm3, reserve) if self.melt_cm3 else None

    # --- clamp

    @cached_property
    def pressure(self) -> Fact | None:
        """Pressure in the cavity [MPa]: by the class of machine, else by the polymer.

        Never more than the machine's own injection pressure.
        """
        key = self.machine.kind
        known = reference().cavity_pressure(key) or reference().cavity_pressure(self.melt.code)
        found = tabled(known)
        most = self.machine.capacity.injection_mpa
        if found is None or most is None or most >= found.high:
            return found
        low = min(found.low, most)
        place = self.machine.capacity.origin_of("injection_mpa")
        return Fact((low + most) / 2, "MPa", place, low, most)

    @cached_property
    def force_kn(self) -> tuple[float, float] | None:
        """Clamp force for the ends of the cavity pressure [kN]."""
        if self.pressure is None:
            return None
        factor = self.kit.figure("clamp-factor").value
        area = self.mould.projected_cm2
        low, high = (
            clamp.clamp_kn(area, p, factor) for p in (self.pressure.low, self.pressure.high)
        )
        return low, high

    @cached_property
    def press_mpa(self) -> float | None:
        """What a press can put on the mould at most [MPa]."""
        force = self.machine.capacity.clamp_kn
        return clamp.pressure_mpa(force, self.mould.projected_cm2) if force else None

    # --- cooling

    @cached_property
    def wall(self) -> Fact | None:
        """Temperature of the mould's wall [°C]."""
        return self.how.mould(self.mould, self.melt)

    @cached_property
    def disorder(self) -> str:
        """Why the temperatures cannot be cooled through, "" where they can or are not known."""
        facts = (self.how.melt, self.wall, self.melt.ejection)
        if self.is_press or any(fact is None for fact in facts):
            return ""
        try:
            share_left(*(fact.value for fact in facts if fact is not None))
        except UnworkableError as error:
            return str(error)
        return ""

    @cached_property
    def cooling(self) -> Cooling | None:
        """How long a part cools in the mould; None on a press, whose mould cools with it."""
        melt, wall, out = self.how.melt, self.wall, self.melt.ejection
        if self.is_press or not (melt and wall and out and self.melt.diffusivity):
            return None
        try:
            share = share_left(melt.value, wall.value, out.value)
            late = share_left(melt.value, wall.value, _above(out.low, wall.value))
            soon = share_left(melt.value, wall.value, min(out.high, melt.value - 0.1))
            return Cooling(
                self._settle(share), self._settle(share, "mean"),
                self._settle(soon), self._settle(late),
            )  # fmt: skip
        except UnworkableError:
            return None

    def _settle(self, share: float, where: Where = "middle") -> float:
        assert self.melt.diffusivity is not None
        through = rod_s if self.mould.form == "cylinder" else plate_s
        return through(self.mould.wall_mm, self.melt.diffusivity.value, share, where)

    # --- press

    @cached_property
    def fill_mm(self) -> float | None:
        """Height of the loose bed in a press mould [mm]."""
        flake = self.melt.flake
        if not (self.is_press and flake and self.shot_g):
            return None
        return press.fill_mm(self.shot_g, flake.value, self.mould.projected_cm2)

    @cached_property
    def heating_least_s(self) -> float | None:
        """What mould and charge alone take at full power [s]: no press heats them quicker."""
        power, plastic, metal = self.power_kw, self.plastic_kj, self.mould_kj
        if not (self.is_press and self.how.melt and power and plastic and metal):
            return None
        rise = self.how.melt.value - self.kit.room.value
        return warming.warm_up_s(1000 * (plastic + metal) / rise, 1000 * power, rise)

    @cached_property
    def mould_kj(self) -> float | None:
        """Heat that the mould itself takes up to the set point [kJ]."""
        if self.mould.material not in ("aluminium", "steel", "brass") or self.how.melt is None:
            return None
        capacity = self.kit.figure(f"mould-heat-{self.mould.material}").value
        rise = self.how.melt.value - self.kit.room.value
        return self.mould.mass_kg * capacity * rise / 1000

    # --- time

    @cached_property
    def trial(self) -> Trial | None:
        """The trial its cycle is known from."""
        return self.kit.book.timed(self.machine.id, self.mould.id, self.melt)

    @cached_property
    def cycle(self) -> Cycle | None:
        """From the shop's own trial; for an injector else worked out, for a press never."""
        if self.trial is not None and self.trial.cycle_s:
            return Cycle(self.trial.cycle_s, self.trial)
        return None if self.is_press else self._worked_out()

    def _worked_out(self) -> Cycle | None:
        held = self.mould.cooling_s or (self.cooling.middle_s if self.cooling else None)
        handling = self.kit.book.handling.get(self.machine.id)
        if held is None or handling is None:
            return None
        hold = self.how.hold.value if self.how.hold else 0.0
        total, melting = held + hold + handling.seconds, self.melting_s or 0.0
        return Cycle(max(total, melting), None, held, hold, handling, melting)

    @cached_property
    def melting_s(self) -> float | None:
        """What the machine needs to melt a shot [s]."""
        if not (self.shot_g and self.how.rate and self.how.rate.value):
            return None
        return self.shot_g / 1000 / self.how.rate.value * 3600

    @property
    def parts_per_h(self) -> float | None:
        """Parts an hour, one shot after another."""
        return 3600 / self.cycle.seconds * self.mould.cavities if self.cycle else None

    @cached_property
    def press_is_busy_s(self) -> float | None:
        """How long a press itself is taken; the mould then cools beside it [s]."""
        if not (self.is_press and self.cycle and self.mould.cooling_s):
            return None
        return max(0.0, self.cycle.seconds - self.mould.cooling_s)

    @cached_property
    def hot_min(self) -> float | None:
        """How long the plastic stays hot [min]: in the barrel, or between the platens."""
        if self.is_press:
            held = self.press_is_busy_s or (self.how.hold.value if self.how.hold else None)
            return held / 60 if held else None
        barrel = self.machine.capacity.barrel_cm3
        if not (barrel and self.melt_cm3 and self.cycle):
            return None
        return barrel / self.melt_cm3 * self.cycle.seconds / 60

    # --- energy

    @cached_property
    def heat_kjkg(self) -> float | None:
        """Heat the plastic takes up from the room to the melt [kJ/kg]."""
        return specific_heat(self.kit, self.machine, self.melt)

    @cached_property
    def plastic_kj(self) -> float | None:
        """Heat that a shot takes up [kJ]."""
        heat = self.heat_kjkg
        return self.shot_g / 1000 * heat if self.shot_g and heat else None

    @cached_property
    def power_kw(self) -> float | None:
        """What the machine draws at full power [kW]."""
        return drawn_kw(self.machine.electric)

    @cached_property
    def taken_s(self) -> float | None:
        """How long a shot takes the machine [s]: a press is free while a mould cools beside it."""
        return self.press_is_busy_s or (self.cycle.seconds if self.cycle else None)

    @cached_property
    def energy_kwh(self) -> float | None:
        """Electricity of a shot once the machine is hot, for as long as it takes it [kWh]."""
        electric, power = self.machine.electric, self.power_kw
        if not (electric and power and self.taken_s):
            return None
        return power * electric.duty_percent / 100 * self.taken_s / 3600

    @property
    def part_kwh(self) -> float | None:
        """Electricity of one part once the machine is hot [kWh]."""
        return self.energy_kwh / self.mould.cavities if self.energy_kwh else None

    @property
    def part_cost(self) -> Money | None:
        """What that electricity costs."""
        price = self.kit.shop.shop.prices.electricity
        if price is None or self.part_kwh is None:
            return None
        return Money(price.amount * self.part_kwh, price.currency)

    # --- mould

    @cached_property
    def lengths(self) -> tuple[Length, ...]:
        """The cavity that makes each of the part's lengths in this polymer."""
        shrinkage = self.melt.shrinkage
        if shrinkage is None:
            return ()
        return tuple(
            Length(
                mm, shot.cavity_mm(mm, shrinkage.low), shot.cavity_mm(mm, shrinkage.high)
            )
            for mm in self.mould.part_lengths_mm
        )  # fmt: skip


def drawn_kw(electric: Electric | None) -> float | None:
    """Electrical power at full load [kW]; of a shaft's power only where the efficiency is known."""
    if electric is None:
        return None
    if not electric.of_shaft:
        return electric.power_kw
    return electric.power_kw / electric.efficiency if electric.efficiency else None


def _above(ejection_c: float, wall_c: float) -> float:
    """The cool end of the ejection range, kept off a wall that is as warm."""
    return max(ejection_c, wall_c + 1.0)


def specific_heat(kit: Kit, machine: Machine, melt: Melt) -> float | None:
    """Heat a melt takes up from the room to a machine's set point [kJ/kg]."""
    known, change, end = melt.known, melt.change, kit.running(machine, melt).melt
    if not (known and change and end):
        return None
    return warming.heat_of(known, kit.room.value, change.value, end.value)
