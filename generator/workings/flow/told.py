"""What is shown of an ordinary week: workings with their inputs, findings, and the short answer."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator

from generator.ground.finding import Finding, Severity
from generator.ground.origin import Origin
from generator.ground.units import show
from generator.ground.wording import _, ngettext
from generator.ground.working import Input, Quantity, Source, Verdict, Working
from generator.shop.shop import Shop
from generator.workings.flow.carrying import Leg
from generator.workings.flow.hours import MachineHours, Task
from generator.workings.flow.limits import Limit, Limits, Week, in_hours
from generator.workings.flow.mass import PLACE_WORDS, SINKS, SOURCES, Purge
from generator.workings.flow.stock import Level, whole_weeks
from generator.workings.intake import Stream
from generator.workings.losses import chain
from generator.workings.shown import given, worked_out

_SOON_WEEKS = 8
"""A store that fills or empties within so many weeks is worth saying."""


# --- the short answer --------------------------------------------------------------------------


def in_words(week: Week, limits: Limits) -> str:
    """What limits the week and by how much, in a few sentences."""
    return " ".join((*_of_hours(limits), *_of_stores(week)))


def _of_hours(limits: Limits) -> Iterator[str]:
    first = limits.bottleneck
    if first is None:
        yield _("Nothing is logged or planned yet from which a week could be worked out.")
        return
    if not limits.short:
        yield _("Nothing is over its hours. {name} is nearest: {want} of {have} wanted, {spare} "
                "left.").format(
            name=first.name, want=in_hours(first.want_h), have=in_hours(first.have_h),
            spare=in_hours(first.spare_h),
        )  # fmt: skip
        return
    for number, limit in enumerate(limits.short):
        says = _("{name} limits the week: {want} wanted, {have} there, {short} short.")
        if number:
            says = _("{name} comes next: {want} wanted, {have} there, {short} short.")
        yield _filled(says, limit)


def _filled(says: str, limit: Limit) -> str:
    return says.format(
        name=limit.name, want=in_hours(limit.want_h), have=in_hours(limit.have_h),
        short=in_hours(-limit.spare_h),
    )  # fmt: skip


def _of_stores(week: Week) -> Iterator[str]:
    for level in week.stores:
        name = week.shop.polymers[level.polymer].name
        if level.is_full:
            yield _("{polymer} is full.").format(polymer=name)
        elif level.full_in is not None and level.full_in < _SOON_WEEKS:
            yield ngettext(
                "{polymer} will be full in {n} week.",
                "{polymer} will be full in {n} weeks.",
                whole_weeks(level.full_in),
            ).format(polymer=name, n=whole_weeks(level.full_in))
        elif level.empty_in is not None and level.empty_in < _SOON_WEEKS:
            yield ngettext(
                "{polymer} will be used up in {n} week.",
                "{polymer} will be used up in {n} weeks.",
                whole_weeks(level.empty_in),
            ).format(polymer=name, n=whole_weeks(level.empty_in))


# --- workings ----------------------------------------------------------------------------------


def workings(
    week: Week, limits: Limits, purge: Purge, legs: tuple[Leg, ...]
) -> Iterator[Working]:  # fmt: skip
    """Every figure of the week with what it was worked out from."""
    yield _balance(week)
    for polymer in week.masses.polymers:
        yield from _of_polymer(week, polymer)
    by_machine = {limit.subject: limit for limit in limits.ranked}
    for machine in week.hours.machines:
        yield _of_machine(machine, by_machine[f"machines/{machine.machine.id}"])
    for limit in limits.ranked:
        if limit.kind != "machine":
            yield _of_people(week, limit)
    for level in week.stores:
        yield _of_level(week.shop, level)
    if purge.by_polymer:
        yield _of_purge(week.shop, purge)
    if legs:
        yield _of_legs(week.shop, legs)


def _balance(week: Week) -> Working:
    masses = week.masses
    places = [(p, masses.out_of(p)) for p in PLACE_WORDS if p in SOURCES]
    places += [(p, masses.into(p)) for p in PLACE_WORDS if p in SINKS]
    return Working(
        "flow.balance", "shop", _("Mass balance of a week"),
        _("what comes in + what is drawn from stock - what goes out - what is laid in stock"),
        tuple(given(_(PLACE_WORDS[p]), round(kg, 3), "kg", worked_out()) for p, kg in places if kg),
        Quantity(round(masses.open_kg, 6) + 0.0, "kg"),
        caution=_unknown_losses(week),
    )  # fmt: skip


def _unknown_losses(week: Week) -> str:
    names = [str(week.shop.polymers[p].name) for p in week.masses.polymers]
    names = [
        n for p, n in zip(week.masses.polymers, names, strict=True) if p in week.masses.at_most
    ]
    if not names:
        return ""
    return _(
        "Not every loss of {polymers} is known: the figures are the most there can be."
    ).format(polymers=", ".join(names))


def _of_polymer(week: Week, polymer: str) -> Iterator[Working]:
    own = [s for s in week.sources if s.polymer == polymer and s.after("hand-in") > 0]
    if not own:
        return
    name = week.shop.polymers[polymer].name
    come = sum(stream.weekly_kg for stream in own)
    yield Working(
        f"flow.intake.{polymer}", f"polymers/{polymer}",
        _("{polymer} put on the scale in a week").format(polymer=name),
        _("sum over the sources"),
        tuple(_source(week.shop, stream) for stream in own), Quantity(round(come, 2), "kg"),
    )  # fmt: skip
    flake = sum(stream.after("granulating") for stream in own)
    yield Working(
        f"flow.flake.{polymer}", f"polymers/{polymer}",
        _("{polymer} that becomes flake in a week").format(polymer=name),
        _("mass from each source × (1 - loss of each step)"),
        tuple(_losses_of(week.shop, own)), Quantity(round(flake, 2), "kg"),
        caution=_unknown_losses(week) if polymer in week.masses.at_most else "",
    )  # fmt: skip


def _source(shop: Shop, stream: Stream) -> Input:
    name = str(shop.donors[stream.donor].name)
    how = _("measured") if stream.basis == "measured" else _("as written")
    return given(f"{name} ({how})", round(stream.weekly_kg, 2), "kg", stream.origin)


def _losses_of(shop: Shop, own: Iterable[Stream]) -> Iterator[Input]:
    for stream in own:
        yield _source(shop, stream)
        yield from (loss.as_input for loss in stream.losses)
        left = given(_("Left of it"), round(100 * chain(stream.losses), 1), "%", stream.origin)
        yield left


def _of_machine(hours: MachineHours, limit: Limit) -> Working:
    record, place = hours.machine, hours.machine.origin
    return Working(
        f"flow.hours.{record.id}", f"machines/{record.id}",
        _("Hours a week wants of it"),
        _("running + changes + heating up and soaking"),
        (
            given(_("Goes through it"), round(hours.kg, 2), "kg", worked_out()),
            given(_("Running"), round(hours.run_h, 2), "h", place),
            given(_("Changes"), round(hours.change_h, 2), "h", place),
            given(_("Heating up on {n} days").format(n=hours.days), round(hours.heat_h, 2), "h",
                  place),
        ),
        Quantity(round(hours.want_h, 2), "h"),
        _verdict(limit, bool(hours.unknown)),
        Quantity(round(hours.have_h, 2), "h"), _there(hours.basis),
        Quantity(round(limit.spare_h, 2), "h"),
        _not_counted(hours),
    )  # fmt: skip


def _verdict(limit: Limit, unknown: bool) -> Verdict:
    if limit.over:
        return Verdict.FAILS
    return Verdict.UNANSWERED if unknown else Verdict.HOLDS


def _there(basis: str) -> Origin:
    return Origin("rota.csv") if basis == "rota" else Origin("hours.yml")


def _not_counted(hours: MachineHours) -> str:
    if not hours.unknown:
        return ""
    return _("Not counted, because no time is known for it: {names}.").format(
        names=", ".join(hours.unknown)
    )


def _of_people(week: Week, limit: Limit) -> Working:
    key = "everybody" if limit.kind == "people" else limit.subject.partition("/")[2]
    caution = _("Each machine counts as if somebody stood by it for as long as it is wanted; "
                "whoever may mind two at once has more.")  # fmt: skip
    return Working(
        f"flow.people.{key}", limit.subject or "shop",
        _("Hours a week wants of {name}").format(name=limit.name),
        _("runs × minutes × people, and hours at each machine"),
        tuple(_of_tasks(week, limit)),
        Quantity(round(limit.want_h, 2), "h"), _verdict(limit, False),
        Quantity(round(limit.have_h, 2), "h"), Origin("rota.csv"),
        Quantity(round(limit.spare_h, 2), "h"), caution,
    )  # fmt: skip


def _of_tasks(week: Week, limit: Limit) -> Iterator[Input]:
    crews = [c for c in week.hours.crews if f"roles/{c.roles[0]}" == limit.subject]
    if limit.kind == "crew":
        for id_ in crews[0].machines:
            found = week.hours.of(id_)
            if found is not None:
                want = round(found.want_h, 2)
                yield given(str(found.machine.name), want, "h", found.machine.origin)
        return
    for task in week.hours.tasks:
        yield given(_task_name(task), round(task.person_h, 2), "h", _task_place(week, task))


def _task_name(task: Task) -> str:
    if task.procedure is None:
        return task.name
    return _("{name}: {runs} × {minutes} × {people}").format(
        name=task.name, runs=f"{task.runs:.1f}", minutes=show(task.minutes, "min"),
        people=task.people,
    )  # fmt: skip


def _task_place(week: Week, task: Task) -> Origin | Source:
    if task.procedure is not None:
        return task.procedure.origin_of("takes_min")
    return week.shop.machines[task.machine].origin if task.machine else Origin("products.yml")


def _of_level(shop: Shop, level: Level) -> Working:
    record = shop.polymers[level.polymer]
    inputs = (
        given(_("Flake at the last count"), round(level.flake_kg, 1), "kg", level.origin),
        given(_("Not cut yet"), round(level.waiting_kg, 1), "kg", level.origin),
        given(_("Gained in a week"), round(level.gain_kg, 2), "kg", worked_out()),
    )
    full = level.limit_kg is not None and level.now_kg > level.limit_kg
    bounded = level.limit_kg is not None
    verdict = (Verdict.FAILS if full else Verdict.HOLDS) if bounded else Verdict.INFORMS
    limit = Quantity(level.limit_kg, "kg") if level.limit_kg is not None else None
    left = None if level.limit_kg is None else level.limit_kg - level.now_kg
    return Working(
        f"flow.stock.{level.polymer}", f"polymers/{level.polymer}",
        _("{polymer} that stands in the shop").format(polymer=record.name),
        _("flake + not cut yet; each week to come adds what it gains"),
        inputs, Quantity(round(level.now_kg, 1), "kg"), verdict, limit,
        record.origin_of("store_limit_kg") if bounded else None,
        Quantity(round(left, 1), "kg") if left is not None else None, _when(level),
    )  # fmt: skip


def _when(level: Level) -> str:
    if level.full_in is not None and not level.is_full:
        return _("Full in {weeks} weeks if every week is like this one.").format(
            weeks=f"{level.full_in:.1f}"
        )
    if level.empty_in is not None:
        return _("Used up in {weeks} weeks if every week is like this one.").format(
            weeks=f"{level.empty_in:.1f}"
        )
    return ""


def _of_purge(shop: Shop, purge: Purge) -> Working:
    how = _("Measured, {rows} rows of the log.").format(rows=purge.rows)
    if not purge.measured:
        how = _("From the machines' settings, each blend set up once a week on each machine.")
    place = Origin("batches.csv") if purge.measured else Origin("machines.yml")
    return Working(
        "flow.purge", "shop", _("Purgings of a week"), _("sum over the polymers"),
        tuple(
            given(str(shop.polymers[p].name), round(kg, 3), "kg", place)
            for p, kg in purge.by_polymer.items()
        ),
        Quantity(round(sum(purge.by_polymer.values()), 3), "kg"), caution=how,
    )  # fmt: skip


def _of_legs(shop: Shop, legs: tuple[Leg, ...]) -> Working:
    known = [leg for leg in legs if leg.kgm is not None]
    straight = any(leg.basis == "straight" for leg in known)
    says = _("Straight lines from the middle of one station to the middle of the next, not walks.")
    caution = says if straight else ""
    return Working(
        "flow.carrying", "shop", _("Carried in a week, without containers"), _("Σ mass × way"),
        tuple(
            given(
                _("{mass} from {start} to {end}").format(
                    mass=show(leg.kg or 0.0, "kg", 1), start=shop.stations[leg.start].name,
                    end=shop.stations[leg.end].name,
                ),
                round(leg.way_mm / 1000, 1), "m", shop.stations[leg.start].origin,
            )
            for leg in known
        ),
        Quantity(round(sum(leg.kgm or 0.0 for leg in known)), "kg·m"), caution=caution,
    )  # fmt: skip


# --- findings ----------------------------------------------------------------------------------


def findings(week: Week, limits: Limits, legs: Iterable[Leg]) -> Iterator[Finding]:
    """What the lead must know of the week."""
    for limit in limits.short:
        yield _short(week, limit)
    yield from _stores(week)
    yield from _not_timed(week)
    yield from _nobody_for(week)
    yield from _unanswered(week, legs)


def _short(week: Week, limit: Limit) -> Finding:
    place, working = Origin("rota.csv"), f"flow.people.{limit.subject.partition('/')[2]}"
    mend = _("Put {short} more of them on the rota, or make less.").format(
        short=in_hours(-limit.spare_h)
    )
    if limit.kind == "people":
        working = "flow.people.everybody"
    found = week.hours.of(limit.subject.removeprefix("machines/"))
    if limit.kind == "machine" and found is not None:
        place, working = found.machine.origin, f"flow.hours.{found.machine.id}"
        mend = " ".join(_mends(week, limit, found))
    says = _filled(_("{name}: {want} a week wanted, {have} there, {short} short."), limit)
    return Finding(
        "flow.short", Severity.FIX, place, says, mend, subject=limit.subject, working=working
    )  # fmt: skip


def _mends(week: Week, limit: Limit, found: MachineHours) -> Iterator[str]:
    """What would mend a machine's lack: more hours, or fewer changes where those are enough."""
    short = -limit.spare_h
    if found.basis == "rota":
        names = ", ".join(str(week.shop.roles[role].name) for role in found.roles)
        yield _("Put {names} on the rota for {short} more.").format(
            names=names, short=in_hours(short)
        )
    else:
        yield _("Open {short} longer, or make less.").format(short=in_hours(short))
    if found.change_h > short:
        larger = 100 * (found.change_h / (found.change_h - short) - 1)
        yield _("Or change it less often: with lots {percent} larger the changes fit.").format(
            percent=show(math.ceil(larger), "percent")
        )


def _stores(week: Week) -> Iterator[Finding]:
    for level in week.stores:
        record = week.shop.polymers[level.polymer]
        says = _of_store(week.shop, level)
        if says:
            mend = _("Pause it at the door, make more of it, or hand some on.")
            if level.full_in is None:
                mend = _("Take in more of it, or make less.")
            yield Finding(
                "flow.store", Severity.FIX if level.is_full else Severity.NOTE,
                record.origin_of("store_limit_kg"), says, mend,
                subject=f"polymers/{level.polymer}", working=f"flow.stock.{level.polymer}",
            )  # fmt: skip


def _of_store(shop: Shop, level: Level) -> str:
    name, now = shop.polymers[level.polymer].name, show(level.now_kg, "kg", 1)
    limit = show(level.limit_kg or 0.0, "kg", 1)
    if level.is_full:
        return _("{polymer} is full: {now} of {limit}.").format(polymer=name, now=now, limit=limit)
    weekly = show(abs(level.gain_kg), "kg", 1)
    if level.full_in is not None and level.full_in < _SOON_WEEKS:
        return _("{polymer} gains {weekly} a week and stands at {now} of {limit}: it is full in "
                 "{weeks} weeks.").format(
            polymer=name, weekly=weekly, now=now, limit=limit, weeks=f"{level.full_in:.1f}",
        )  # fmt: skip
    if level.empty_in is not None and level.empty_in < _SOON_WEEKS:
        return _("{polymer} loses {weekly} a week and stands at {now}: it is used up in {weeks} "
                 "weeks.").format(
            polymer=name, weekly=weekly, now=now, weeks=f"{level.empty_in:.1f}",
        )  # fmt: skip
    return ""


def _not_timed(week: Week) -> Iterator[Finding]:
    for hours in week.hours.machines:
        if hours.unknown:
            says = _("How long {machine} takes for {names} is not known.").format(
                machine=hours.machine.name, names=", ".join(hours.unknown)
            )
            yield Finding(
                "flow.not-timed", Severity.NOTE, hours.machine.origin, says,
                _("Time one and log it as a trial, or write the rate of its setting."),
                subject=f"machines/{hours.machine.id}", working=f"flow.hours.{hours.machine.id}",
            )  # fmt: skip
    for made in week.made:
        if made.machine is None:
            says = _("{product} is wanted in {blend}, and no machine takes both its mould and that "
                     "blend.").format(product=made.product.name, blend=made.blend.name)  # fmt: skip
            yield Finding(
                "flow.no-machine", Severity.FIX, made.product.origin_of("blends"), says,
                _("Take the blend off the product, or write the machine under the blend."),
                subject=f"products/{made.product.id}",
            )  # fmt: skip


def _nobody_for(week: Week) -> Iterator[Finding]:
    if week.hours.people_have_h is None:
        return
    for hours in week.hours.machines:
        if not hours.roles:
            says = _("No role is written as allowed to run {machine} alone, so its hours were held "
                     "against the opening hours.").format(machine=hours.machine.name)  # fmt: skip
            yield Finding(
                "flow.nobody-for", Severity.NOTE, hours.machine.origin, says,
                _("Write the level under `needs` of the role that runs it."),
                subject=f"machines/{hours.machine.id}", working=f"flow.hours.{hours.machine.id}",
            )  # fmt: skip


def _unanswered(week: Week, legs: Iterable[Leg]) -> Iterator[Finding]:
    for polymer in week.masses.polymers:
        if polymer in week.masses.at_most:
            record = week.shop.polymers[polymer]
            says = _("Not every loss of {polymer} between the counter and the flake is known, so "
                     "its flake is the most there can be.").format(polymer=record.name)  # fmt: skip
            yield Finding(
                "flow.loss-unknown", Severity.NOTE, record.origin, says,
                _("Log each crate's label and mass after sorting, washing and granulating."),
                subject=f"polymers/{polymer}", working=f"flow.flake.{polymer}",
            )  # fmt: skip
    for names in (week.hours.not_timed,) if week.hours.not_timed else ():
        says = _("What people spend on it is not counted: {names}.").format(names=", ".join(names))
        mend = _("Write a procedure for it with the time it takes.")
        place = Origin("procedures.yml")
        yield Finding("flow.no-time", Severity.NOTE, place, says, mend, working="")
    for leg in legs:
        if leg.kg is None:
            station = week.shop.stations[leg.start]
            says = _("What goes from {start} to {end} a week cannot be told: {what}.").format(
                start=station.name, end=week.shop.stations[leg.end].name, what=leg.what
            )
            mend = _("Write the container and the polymers of that handover.")
            subject = f"stations/{leg.start}"
            yield Finding("flow.leg", Severity.NOTE, station.origin, says, mend, subject=subject)
