"""The workings behind a mould's runs and a machine's settings, each figure with its source."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from generator.ground.origin import Origin
from generator.ground.wording import N_, _
from generator.ground.working import Input, Quantity, Source, Verdict, Working
from generator.reference import reference
from generator.shop.records.machines import Machine
from generator.shop.records.material import Mould
from generator.workings.moulding.kit import Kit
from generator.workings.moulding.melts import Fact, Melt, tabled
from generator.workings.moulding.runs import Cycle, Run, specific_heat
from generator.workings.moulding.shot import cavity_mm
from generator.workings.moulding.warming import heater_kw
from generator.workings.shown import given, own

CAUTION = N_("A place to begin. What the machine does with your flake stands in the trial book.")
_CONDUCTION = Source(
    "Carslaw and Jaeger, Conduction of Heat in Solids; Proc IMechE B 217 (2003) 709", "published"
)
_TEXTBOOK = Source("Textbook", "handbook")


def of_run(run: Run) -> Iterator[Working]:
    """Everything worked out of a mould on a machine in a polymer."""
    first = (_press if run.is_press else _injection)(run)
    then = (_cycle(run), _hot(run), _energy(run), _cost(run), _length(run))
    yield from (working for working in (*first, *then) if working)


def _injection(run: Run) -> Iterable[Working | None]:
    return (_shot(run), _clamp(run), _cooling(run))


def _press(run: Run) -> Iterable[Working | None]:
    return (_charge(run), _fill(run), _pressure(run), _heating(run))


def made(
    run: Run,
    key: str,
    title: str,
    formula: str,
    inputs: Iterable[Input | None],
    *,
    result: Quantity,
    limit: tuple[float, Origin | Source] | None = None,
    at_least: bool = False,
    source: Source | None = None,
) -> Working:
    """A working of a run, held against a limit of the result's unit if there is one."""
    bound = Quantity(limit[0], result.unit) if limit else None
    spare = (bound.value - result.value) * (-1 if at_least else 1) if bound else 0.0
    return Working(
        f"moulding.{run.mould.id}.{run.machine.id}.{run.melt.host.id}.{key}",
        f"moulds/{run.mould.id}",
        title.format(
            mould=run.mould.name, machine=run.machine.name, polymer=run.melt.host.name
        ),
        formula,
        tuple(i for i in inputs if i is not None),
        result,
        _verdict(spare) if bound else Verdict.INFORMS,
        bound,
        limit[1] if limit else None,
        Quantity(spare, result.unit) if bound else None,
        _(CAUTION),
        source,
    )  # fmt: skip


def _verdict(spare: float) -> Verdict:
    return Verdict.HOLDS if spare >= -1e-9 else Verdict.FAILS


def _worked_out() -> Source:
    return Source(_("Worked out from the figures here"), "")


def _known(name: str, fact: Fact | None) -> Input | None:
    return fact.named(name) if fact else None


# --- shot and clamp ----------------------------------------------------------------------------


def _volumes(mould: Mould) -> tuple[Input, ...]:
    return (
        given(_("Cavities"), mould.cavities, "", mould.origin_of("cavities")),
        own(_("Volume of one part, cold"), mould, "part_volume_cm3"),
        own(_("Sprue, runner and flash"), mould, "sprue_cm3"),
    )


def _shot(run: Run) -> Working | None:
    if run.needed_cm3 is None:
        return None
    capacity = run.machine.capacity
    most = capacity.shot_cm3
    return made(
        run, "shot", _("Melt for a shot of {mould} in {polymer} on {machine}"),
        _("melt = (cavities × part + sprue) × density cold / density as melt × (1 + reserve)"),
        (
            *_volumes(run.mould),
            _known(_("Density, cold"), run.melt.density),
            _known(_("Density as melt"), run.melt.melt_density),
            run.kit.figure("shot-reserve").named(_("Reserve")),
        ),
        result=Quantity(run.needed_cm3, "cm³"),
        limit=(most, capacity.origin_of("shot_cm3")) if most is not None else None,
        source=_TEXTBOOK,
    )  # fmt: skip


def _clamp(run: Run) -> Working | None:
    if run.force_kn is None or run.pressure is None:
        return None
    capacity = run.machine.capacity
    most = capacity.clamp_kn
    return made(
        run, "clamp", _("Force that keeps {mould} shut in {polymer} on {machine}"),
        _("force = projected area × pressure in the cavity at most × factor"),
        (
            own(_("Projected area"), run.mould, "projected_cm2"),
            given(_("Pressure at most"), run.pressure.high, "MPa", run.pressure.origin),
            given(_("Pressure at least"), run.pressure.low, "MPa", run.pressure.origin),
            run.kit.figure("clamp-factor").named(_("Factor")),
        ),
        result=Quantity(run.force_kn[1], "kN"),
        limit=(most, capacity.origin_of("clamp_kn")) if most is not None else None,
        source=_TEXTBOOK,
    )  # fmt: skip


# --- cooling -----------------------------------------------------------------------------------


def _cooling(run: Run) -> Working | None:
    if run.cooling is None:
        return None
    mould, most = run.mould, run.mould.cooling_s
    return made(
        run, "cooling", _("Cooling of {mould} in {polymer} on {machine}"),
        _("time until the hottest plane of the thickest wall has cooled from the melt to ejection,"
          " its faces at the mould's temperature; the series summed in full"),
        (
            own(_("Thickest wall"), mould, "wall_mm"),
            _known(_("Diffusivity"), run.melt.diffusivity),
            _known(_("Melt"), run.how.melt),
            _known(_("Mould"), run.wall),
            _known(_("Ejection"), run.melt.ejection),
            given(_("Until the mean is there"), run.cooling.mean_s, "s", _worked_out()),
        ),
        result=Quantity(run.cooling.middle_s, "s"),
        limit=(most, mould.origin_of("cooling_s")) if most is not None else None,
        source=_CONDUCTION,
    )  # fmt: skip


# --- press -------------------------------------------------------------------------------------


def _charge(run: Run) -> Working | None:
    if run.shot_g is None:
        return None
    capacity, written = run.machine.capacity, run.mould.sprue_cm3
    loss = None if written else run.kit.figure("press-charge-loss").named(_("Lost as flash"))
    most = capacity.batch_kg
    return made(
        run, "charge", _("Charge of {mould} in {polymer} on {machine}"),
        _("charge = (cavities × part + flash) × density")
        if written else _("charge = cavities × part × density / (1 - lost as flash)"),
        (*_volumes(run.mould), _known(_("Density"), run.melt.density), loss),
        result=Quantity(run.shot_g / 1000, "kg"),
        limit=(most, capacity.origin_of("batch_kg")) if most is not None else None,
        source=_TEXTBOOK,
    )  # fmt: skip


def _fill(run: Run) -> Working | None:
    if run.fill_mm is None or run.shot_g is None:
        return None
    return made(
        run, "fill", _("Height of the flake in {mould}, {polymer}"),
        _("height = charge / (bulk density × area)"),
        (
            given(_("Charge"), run.shot_g, "g", _worked_out()),
            _known(_("Bulk density of the flake"), run.melt.flake),
            own(_("Area"), run.mould, "projected_cm2"),
        ),
        result=Quantity(run.fill_mm, "mm"),
        source=_TEXTBOOK,
    )  # fmt: skip


def _pressure(run: Run) -> Working | None:
    if run.press_mpa is None or run.pressure is None:
        return None
    return made(
        run, "pressure", _("Pressure of {machine} on {mould} at most, {polymer}"),
        _("pressure = force / projected area"),
        (
            own(_("Force"), run.machine.capacity, "clamp_kn"),
            own(_("Projected area"), run.mould, "projected_cm2"),
        ),
        result=Quantity(run.press_mpa, "MPa"),
        limit=(run.pressure.low, run.pressure.origin),
        at_least=True,
        source=_TEXTBOOK,
    )  # fmt: skip


def _heating(run: Run) -> Working | None:
    """The least that heating takes; how long it does take only a trial says."""
    if run.heating_least_s is None or run.power_kw is None:
        return None
    mass = run.mould.origin_of("mass_kg")
    return made(
        run, "heating", _("Heating of {mould} in {polymer} on {machine}, at the very least"),
        _("time = (heat of the mould + heat of the charge) / power of the heaters; a bed of flake"
          " takes many times longer, and only a trial says how long"),
        (
            given(_("Heat of the mould"), run.mould_kj or 0.0, "kJ", mass),
            given(_("Heat of the charge"), run.plastic_kj or 0.0, "kJ", _worked_out()),
            own(_("Power"), run.machine.electric, "power_kw") if run.machine.electric else None,
        ),
        result=Quantity(run.heating_least_s, "s"),
        source=_TEXTBOOK,
    )  # fmt: skip


# --- time and energy ---------------------------------------------------------------------------


def _cycle(run: Run) -> Working | None:
    if run.cycle is None or run.parts_per_h is None:
        return None
    cavities = given(_("Cavities"), run.mould.cavities, "", run.mould.origin_of("cavities"))
    return made(
        run, "cycle", _("Parts an hour of {mould} in {polymer} on {machine}"),
        _("parts = 3600 / cycle × cavities; cycle = cooling + hold + handling, and no shorter than"
          " melting the shot takes, where none has been timed"),
        (*_cycle_inputs(run, run.cycle), cavities),
        result=Quantity(run.parts_per_h, "1/h"),
        source=_TEXTBOOK,
    )  # fmt: skip


def _cycle_inputs(run: Run, cycle: Cycle) -> tuple[Input, ...]:
    handling = cycle.handling
    if handling is None:
        return _by_trial(cycle)
    place = run.mould.origin_of("cooling_s") if run.mould.cooling_s else _worked_out()
    median = _("Handling, median of {n} good trials").format(n=handling.of)
    return (
        given(_("Cooling"), cycle.cooling_s, "s", place),
        given(_("Hold"), cycle.hold_s, "s", run.how.hold.origin if run.how.hold else place),
        given(median, handling.seconds, "s", handling.origin),
        given(_("Melting a shot takes"), cycle.melting_s, "s", _worked_out()),
    )


def _by_trial(cycle: Cycle) -> tuple[Input, ...]:
    if cycle.trial is None:
        return ()
    name = _("Cycle by trial {trial}").format(trial=cycle.trial.trial)
    return (given(name, cycle.seconds, "s", cycle.trial.origin),)


def _hot(run: Run) -> Working | None:
    if run.hot_min is None:
        return None
    held = run.how.hot_hold
    barrel = run.machine.capacity.barrel_cm3
    if run.is_press:
        formula = _("time between the platens = cycle - cooling beside the press, or the hold")
    else:
        formula = _("time = melt in the barrel / melt of a shot × cycle")
    return made(
        run, "hot", _("How long {polymer} stays hot with {mould} on {machine}"), formula,
        (
            own(_("Barrel"), run.machine.capacity, "barrel_cm3") if barrel else None,
            given(_("Melt of a shot"), run.melt_cm3, "cm³", _worked_out())
            if run.melt_cm3 and not run.is_press else None,
            given(_("Cycle"), run.cycle.seconds, "s", _worked_out()) if run.cycle else None,
            _known(_("Hold"), run.how.hold) if run.is_press else None,
        ),
        result=Quantity(run.hot_min, "min"),
        limit=(held.value, held.origin) if held else None,
        source=_TEXTBOOK,
    )  # fmt: skip


def _energy(run: Run) -> Working | None:
    electric = run.machine.electric
    if run.part_kwh is None or electric is None or run.taken_s is None:
        return None
    plastic = run.plastic_kj
    return made(
        run, "energy", _("Electricity of one part of {mould} in {polymer} on {machine}"),
        _("energy = power × share at full power × time the machine is taken / cavities"),
        (
            own(_("Power"), electric, "power_kw"),
            own(_("Share at full power, once hot"), electric, "duty_percent"),
            given(_("Time the machine is taken"), run.taken_s, "s", _worked_out()),
            given(_("Cavities"), run.mould.cavities, "", run.mould.origin_of("cavities")),
            given(_("Of which the plastic itself takes up"), plastic / 3600 / run.mould.cavities,
                  "kWh", _worked_out()) if plastic else None,
        ),
        result=Quantity(run.part_kwh, "kWh"),
        source=_TEXTBOOK,
    )  # fmt: skip


def _cost(run: Run) -> Working | None:
    prices, cost = run.kit.shop.shop.prices, run.part_cost
    if cost is None or run.part_kwh is None or prices.electricity is None:
        return None
    price = prices.electricity
    return made(
        run, "cost", _("Cost of the electricity of one part of {mould} in {polymer} on {machine}"),
        _("cost = energy × price"),
        (
            given(_("Energy"), run.part_kwh, "kWh", _worked_out()),
            given(_("Price"), price.amount, f"{price.currency}/kWh",
                  prices.origin_of("electricity")),
        ),
        result=Quantity(cost.amount, cost.currency),
        source=_TEXTBOOK,
    )  # fmt: skip


def _length(run: Run) -> Working | None:
    """The cavity for the longest of the part's lengths."""
    shrinkage, lengths = run.melt.shrinkage, run.mould.part_lengths_mm
    if shrinkage is None or not lengths:
        return None
    return made(
        run, "length", _("Length to cut for the longest of {mould} in {polymer}"),
        _("cavity = wanted length / (1 - shrinkage)"),
        (
            given(_("Wanted"), max(lengths), "mm", run.mould.origin_of("part_lengths_mm")),
            shrinkage.named(_("Shrinkage")),
            given(_("Shrinkage at least"), shrinkage.low, "%", shrinkage.origin),
            given(_("Shrinkage at most"), shrinkage.high, "%", shrinkage.origin),
        ),
        result=Quantity(cavity_mm(max(lengths), shrinkage.value), "mm"),
        source=_TEXTBOOK,
    )  # fmt: skip


# --- a machine and a polymer, whatever the mould -----------------------------------------------


def of_setting(kit: Kit, machine: Machine, melt: Melt) -> Iterator[Working]:
    """A machine's setting against the window, and its heaters against its throughput."""
    how = kit.running(machine, melt)
    setting = how.setting
    if setting is None or setting.melt_c is None or how.window is None:
        return
    place = how.window.source_record
    yield Working(
        f"moulding.{machine.id}.{melt.host.id}.melt", f"machines/{machine.id}",
        _("Set point of {machine} for {polymer}").format(
            machine=machine.name, polymer=melt.host.name
        ),
        _("set point against the top of the window of an open machine; fume starts far below"
          " decomposition, so the top is the alarm"),
        (
            own(_("Set point"), setting, "melt_c"),
            given(_("Bottom of the window"), how.window.low, "°C", place),
        ),
        Quantity(setting.melt_c, "°C"), _verdict(how.window.high - setting.melt_c),
        Quantity(how.window.high, "°C"), place,
        Quantity(how.window.high - setting.melt_c, "°C"), _(CAUTION), place,
    )  # fmt: skip
    yield from _heaters(kit, machine, melt)


def _heaters(kit: Kit, machine: Machine, melt: Melt) -> Iterator[Working]:
    electric, how = machine.electric, kit.running(machine, melt)
    heat = specific_heat(kit, machine, melt)
    if electric is None or heat is None or how.rate is None:
        return
    efficiency = kit.figure("heating-efficiency")
    needed = heater_kw(how.rate.value, heat, efficiency.value)
    yield Working(
        f"moulding.{machine.id}.{melt.host.id}.heaters", f"machines/{machine.id}",
        _("Heat for {polymer} at the rate of {machine}").format(
            polymer=melt.host.name, machine=machine.name
        ),
        _("power = rate × heat from the room to the melt / 3600 / efficiency"),
        (
            how.rate.named(_("Rate")),
            given(_("Heat it takes up"), heat, "kJ/kg", _worked_out()),
            kit.room.named(_("Room")),
            efficiency.named(_("Efficiency")),
        ),
        Quantity(needed, "kW"), _verdict(electric.power_kw - needed),
        Quantity(electric.power_kw, "kW"), electric.origin_of("power_kw"),
        Quantity(electric.power_kw - needed, "kW"), _(CAUTION), _TEXTBOOK,
    )  # fmt: skip


def of_ready(machine: Machine) -> Iterator[Working]:
    """When a machine is ready for the first shot."""
    heat, kind = machine.heat, reference().machine_classes.get(machine.kind)
    if heat is None:
        return
    usual = tabled(kind.heat_up) if kind else None
    yield Working(
        f"moulding.{machine.id}.ready", f"machines/{machine.id}",
        _("{machine} is ready for the first shot after").format(machine=machine.name),
        _("ready = heat-up + soak; reaching the set point is not readiness"),
        (
            own(_("Heat-up"), heat, "heat_up_min"), own(_("Soak"), heat, "soak_min"),
            *([usual.named(_("Usual heat-up of its kind"))] if usual else []),
        ),
        Quantity(heat.heat_up_min + heat.soak_min, "min"),
        caution=_("Pushing early throws out a cold plug."),
    )  # fmt: skip
