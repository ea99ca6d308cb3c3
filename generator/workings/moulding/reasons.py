"""Why a mould cannot be run on a machine in a material: every reason, with the figures in it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from generator.ground.origin import Origin
from generator.ground.units import show, show_number
from generator.ground.wording import _
from generator.reference import reference
from generator.shop.records.machines import Machine
from generator.shop.records.material import Blend, Mould, Polymer
from generator.workings.moulding.kit import Kit
from generator.workings.moulding.melts import Melt, believed
from generator.workings.moulding.runs import Run

Kind = Literal["refused", "no", "ask", "note"]


@dataclass(frozen=True, slots=True)
class Reason:
    """Why not, or what is not known, or what to mind.

    ``kind`` is ``refused`` (must never be), ``no`` (does not work), ``ask`` (nobody has written
    it) or ``note``. ``key`` is stable; ``origin`` is where the figure at fault was written.
    """

    kind: Kind
    key: str
    says: str
    origin: Origin


# --- does the mould go on the machine ----------------------------------------------------------


def of_fit(kit: Kit, mould: Mould, machine: Machine) -> Iterator[Reason]:
    """Whether a mould goes on a machine, whatever is run in it."""
    if machine.id not in mould.machines:
        yield Reason("no", "not-for-machine", _not_for(kit, mould, machine), mould.origin)
    yield from _between(mould, machine)
    if mould.lasts_shots and mould.shots >= mould.lasts_shots:
        says = _("It has made {shots} shots and was to last {lasts}.").format(
            shots=show_number(mould.shots), lasts=show_number(mould.lasts_shots)
        )
        yield Reason("note", "worn", says, mould.origin_of("shots"))


def _not_for(kit: Kit, mould: Mould, machine: Machine) -> str:
    names = ", ".join(str(kit.shop.machines[id_].name) for id_ in mould.machines)
    return _("{mould} is not made for {machine}: it fits {names}.").format(
        mould=mould.name, machine=machine.name, names=names
    )


def _between(mould: Mould, machine: Machine) -> Iterator[Reason]:
    """Whether it fits between the platens, turned either way."""
    capacity, (long, wide, high) = machine.capacity, mould.outer
    if capacity.platen and not _fits((long, wide), capacity.platen):
        says = _("It measures {mould} mm over the platens, which are {platen} mm.").format(
            mould=f"{long:g} x {wide:g}", platen=" x ".join(f"{s:g}" for s in capacity.platen)
        )
        yield Reason("no", "platen", says, mould.origin_of("outer"))
    if capacity.daylight_mm is not None and high > capacity.daylight_mm:
        says = _("It stands {high} high and the platens open by {daylight}.").format(
            high=show(high, "mm"), daylight=show(capacity.daylight_mm, "mm")
        )
        yield Reason("no", "daylight", says, mould.origin_of("outer"))


def _fits(one: tuple[float, float], other: tuple[float, float]) -> bool:
    return all(a <= b for a, b in zip(sorted(one), sorted(other), strict=True))


# --- can the machine run the material ----------------------------------------------------------


def of_material(
    kit: Kit, machine: Machine | None, melt: Melt, blend: Blend | None
) -> Iterator[Reason]:
    """Whether a machine runs a material, whatever the mould; or any machine, without one."""
    refused = tuple(_refused(kit, machine, melt, blend))
    yield from refused
    if refused:
        return
    yield from (r for polymer, _share in melt.parts for r in of_status(polymer))
    if machine is not None:
        if blend is not None and machine.id not in blend.machines:
            yield _not_written_for(kit, machine, blend)
        yield from _window(kit, machine, melt)
    yield from (r for polymer in melt.thirsty for r in of_thirst(kit, polymer))
    yield from _mixture(melt)
    yield from of_shrinkage(melt.host)


def _refused(
    kit: Kit, machine: Machine | None, melt: Melt, blend: Blend | None
) -> Iterator[Reason]:
    if blend is not None:
        for says in kit.refusals.blend(blend):
            yield Reason("refused", "never-heated", says, blend.origin)
    elif says := kit.refusals.polymer(melt.host.id):
        yield Reason("refused", "never-heated", says, melt.host.origin_of("code"))
    if machine is not None:
        yield from of_sharing(kit, machine)


def of_sharing(kit: Kit, machine: Machine) -> Iterator[Reason]:
    """Pairs a machine is set for that must never meet in it."""
    for pair in kit.refusals.shared(machine):
        says = _("{machine} is set for two materials that must never meet. {pair}").format(
            machine=machine.name, pair=pair
        )
        yield Reason("refused", "never-together", says, machine.origin)


def of_status(polymer: Polymer) -> Iterator[Reason]:
    """What the shop itself does not take, or does not take now."""
    if polymer.status != "taken":
        paused = polymer.status == "paused"
        says = _("{polymer} is paused here.") if paused else _("{polymer} is refused here.")
        says = says.format(polymer=polymer.name)
        why = f" {polymer.why}" if polymer.why else ""
        yield Reason("no", polymer.status, says + why, polymer.origin_of("status"))


def _not_written_for(kit: Kit, machine: Machine, blend: Blend) -> Reason:
    names = ", ".join(str(kit.shop.machines[id_].name) for id_ in blend.machines)
    says = _("The recipe is not written for {machine}, but for {names}.").format(
        machine=machine.name, names=names or _("no machine")
    )
    return Reason("no", "not-for-blend", says, blend.origin_of("machines"))


def _window(kit: Kit, machine: Machine, melt: Melt) -> Iterator[Reason]:
    """Whether the machine melts it inside the window of an open machine."""
    if machine.process not in ("injection", "press"):
        says = _("{machine} forms no parts in a mould.").format(machine=machine.name)
        yield Reason("no", "no-process", says, machine.origin)
        return
    window = melt.window(machine.process)
    if window.temperature is None:
        kind: Kind = "ask" if window.stance == "no-figures" else "no"
        yield Reason(kind, "window", _(window.reason), melt.host.origin_of("code"))
        return
    yield from _heights(kit, machine, melt)


def _heights(kit: Kit, machine: Machine, melt: Melt) -> Iterator[Reason]:
    how, name = kit.running(machine, melt), machine.name
    window, highest = how.window, machine.heat.highest_c if machine.heat else None
    if window is None or how.melt is None:
        return
    wants = _("{low} to {high}").format(low=f"{window.low:g}", high=show(window.high, "c"))
    if highest is not None and max(window.low, how.melt.low) > highest:
        says = _("{machine} ends at {highest}, and it wants {wants}.").format(
            machine=name, highest=show(highest, "c"), wants=wants
        )
        yield Reason("no", "too-cold", says, machine.origin)
    if how.setting is None or how.setting.melt_c is None:
        says = _("{machine} has no setting for it. The tables give {wants}: begin at the bottom.")
        yield Reason("note", "no-setting", says.format(machine=name, wants=wants), machine.origin)
    elif how.setting.melt_c > window.high:
        says = _("{machine} is set to {set}, above the {high} at which an open machine alarms.")
        says = says.format(
            machine=name, set=show(how.setting.melt_c, "c"), high=show(window.high, "c")
        )
        yield Reason("no", "above-window", says, how.setting.origin_of("melt_c"))
    elif how.setting.melt_c < window.low:
        says = _("{machine} is set to {set}, under its window of {wants}.").format(
            machine=name, set=show(how.setting.melt_c, "c"), wants=wants
        )
        yield Reason("note", "below-window", says, how.setting.origin_of("melt_c"))


def of_thirst(kit: Kit, polymer: Polymer) -> Iterator[Reason]:
    """A polymer that drinks water and cannot be dried spits steam: it is not run."""
    found = kit.dryness(polymer)
    if found.standing == "dries":
        return
    kind: Kind = "no" if found.standing == "cannot" else "ask"
    says = _("{polymer} takes up water and spits in the machine unless it is dried. {why}")
    place = kit.shop.machines[found.dryer].origin if found.dryer else polymer.origin
    yield Reason(kind, "wet", says.format(polymer=polymer.name, why=found.says), place)


def _mixture(melt: Melt) -> Iterator[Reason]:
    """Whether the minor polymers of a blend are few enough for the one there is most of."""
    for polymer, share in melt.parts[1:]:
        match = reference().compatible(melt.code, polymer.code)
        limit = tolerated_percent(melt.code, polymer.code)
        if match.worst in (None, "G"):
            continue
        if limit is None or 100 * share > limit:
            yield Reason("no", "mixture", _too_much(melt, polymer, share, limit), polymer.origin)


def _too_much(melt: Melt, minor: Polymer, share: float, limit: float | None) -> str:
    says = _("{share} {minor} in {host} comes off in layers: no share is known to hold.")
    if limit is not None:
        says = _("{share} {minor} in {host} comes off in layers: it takes {limit} at most.")
    return says.format(
        share=show(100 * share, "percent", 2),
        minor=minor.name,
        host=melt.host.name,
        limit=show(limit or 0.0, "percent", 2),
    )


def tolerated_percent(host: str, minor: str) -> float | None:
    """How much of a stranger a polymer takes in its least demanding use [%], None if unknown."""
    minors = set(reference().identify(minor).bases)
    rows = [row for row in reference().contaminants(host) if minors & set(row.minor)]
    percents = [row.most.high * (1e-4 if row.most.unit == "ppm" else 1) for row in rows]
    return max(percents, default=None)


def of_shrinkage(host: Polymer) -> Iterator[Reason]:
    """A shrinkage of the shop's own that cannot be meant."""
    own = host.own
    if own.shrinkage_percent is not None and not believed(own.shrinkage_percent):
        says = _("Its shrinkage is written as {shown}, which no thermoplastic has.").format(
            shown=show(own.shrinkage_percent, "percent")
        )
        yield Reason("ask", "shrinkage", says, own.origin_of("shrinkage_percent"))


# --- is the machine large enough ---------------------------------------------------------------


def of_load(run: Run) -> Iterator[Reason]:
    """Whether shot, clamp and temperatures of a run are within the machine."""
    if run.disorder:
        place = run.melt.ejection.origin if run.melt.ejection else None
        origin = place if isinstance(place, Origin) else run.mould.origin
        yield Reason("no", "ejection", run.disorder, origin)
    yield from _press_load(run) if run.is_press else _shot_load(run)
    yield from _hot_time(run)


def _shot_load(run: Run) -> Iterator[Reason]:
    capacity, name, needed = run.machine.capacity, run.machine.name, run.needed_cm3
    if needed is None:
        says = _("What a shot weighs is not known: its density is not written.")
        yield Reason("ask", "density", says, run.melt.host.origin)
    elif capacity.shot_cm3 is None:
        says = _("How large a shot {machine} gives is not written.").format(machine=name)
        yield Reason("ask", "shot", says, run.machine.origin)
    elif needed > capacity.shot_cm3:
        says = _("A shot needs {needed} of melt with its reserve, and {machine} gives {most}.")
        shown = {"needed": show(needed, "cm3", 1), "most": show(capacity.shot_cm3, "cm3", 1)}
        place = capacity.origin_of("shot_cm3")
        yield Reason("no", "shot", says.format(machine=name, **shown), place)
    yield from _clamp_load(run)


def _clamp_load(run: Run) -> Iterator[Reason]:
    force, clamp = run.force_kn, run.machine.capacity.clamp_kn
    if force is None or run.pressure is None:
        says = _("What pressure {code} needs in the cavity is not known.").format(
            code=run.melt.code
        )
        yield Reason("ask", "pressure", says, run.melt.host.origin)
    elif clamp is None:
        says = _("How hard {machine} clamps is not written.").format(machine=run.machine.name)
        yield Reason("ask", "clamp", says, run.machine.origin)
    elif force[0] > clamp:
        says = _("At least {force} keep it shut, and {machine} clamps with {clamp}.").format(
            force=show(force[0], "kn", 1), machine=run.machine.name, clamp=show(clamp, "kn", 1)
        )
        yield Reason("no", "clamp", says, run.machine.capacity.origin_of("clamp_kn"))
    elif force[1] > clamp:
        says = _("At {high} in the cavity {force} keep it shut, and it has {clamp}: flash is near.")
        says = says.format(
            high=show(run.pressure.high, "mpa", 1), force=show(force[1], "kn", 1),
            clamp=show(clamp, "kn", 1),
        )  # fmt: skip
        yield Reason("note", "clamp", says, run.machine.capacity.origin_of("clamp_kn"))


def _press_load(run: Run) -> Iterator[Reason]:
    capacity, name = run.machine.capacity, run.machine.name
    if run.shot_g is None:
        says = _("What a charge weighs is not known: its density is not written.")
        yield Reason("ask", "density", says, run.melt.host.origin)
    elif capacity.batch_kg is not None and run.shot_g > 1000 * capacity.batch_kg:
        says = _("A charge is {charge}, and {machine} takes {most}.").format(
            charge=show(run.shot_g / 1000, "kg", 2),
            machine=name,
            most=show(capacity.batch_kg, "kg", 2),
        )
        yield Reason("no", "charge", says, capacity.origin_of("batch_kg"))
    if run.press_mpa is None:
        says = _("How hard {machine} presses is not written.").format(machine=name)
        yield Reason("ask", "clamp", says, run.machine.origin)
    elif run.pressure is not None and run.press_mpa < run.pressure.low:
        says = _("{machine} puts {has} on it, and a bed of flake closes from {needs}.").format(
            machine=name, has=show(run.press_mpa, "mpa", 2), needs=show(run.pressure.low, "mpa", 2)
        )
        yield Reason("no", "clamp", says, capacity.origin_of("clamp_kn"))
    if run.cycle is None:
        says = _("How long a bed of flake heats follows from no formula: time a trial and log it.")
        yield Reason("note", "not-timed", says, run.mould.origin)


def _hot_time(run: Run) -> Iterator[Reason]:
    held = run.how.hot_hold
    if run.hot_min is None or held is None or run.hot_min <= held.value:
        return
    says = _("It stays hot for {hot} and may for {most}: purge or cool down between.").format(
        hot=show(run.hot_min, "min", 1), most=show(held.value, "min", 1)
    )
    origin = held.origin if isinstance(held.origin, Origin) else run.machine.origin
    yield Reason("note", "hot-hold", says, origin)
