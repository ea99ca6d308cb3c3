"""What limits an ordinary week and by how much, and what a little more of something would change.

Everything is taken to grow together: a week that is 10 % larger wants 10 % more of every hour but
heating up. What is wanted over what there is ranks the limits; the highest is the bottleneck,
whether or not it is over.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from generator.ground.units import show
from generator.ground.wording import _
from generator.shop.shop import Shop
from generator.workings.flow.hours import Crew, Hours, MachineHours, rate_kgh
from generator.workings.flow.making import Making
from generator.workings.flow.mass import CUTTERS, Balance
from generator.workings.flow.stock import Level
from generator.workings.intake import Stream

Kind = Literal["machine", "crew", "people"]


@dataclass(frozen=True, slots=True)
class Limit:
    """Hours of something that a week wants and has.

    ``subject`` is the record's path, "" for everybody. ``fixed_h`` of the wanted hours do not
    grow with the week.
    """

    kind: Kind
    subject: str
    name: str
    want_h: float
    have_h: float
    fixed_h: float = 0.0

    @property
    def share(self) -> float:
        """Wanted over had [-]."""
        return self.want_h / self.have_h if self.have_h else float("inf")

    @property
    def spare_h(self) -> float:
        """Hours left over; below 0 where there are too few."""
        return self.have_h - self.want_h

    @property
    def over(self) -> bool:
        return self.spare_h < -1e-9

    @property
    def growth(self) -> float:
        """How many times an ordinary week it could bear [-]."""
        moving = self.want_h - self.fixed_h
        return (self.have_h - self.fixed_h) / moving if moving > 0 else float("inf")


@dataclass(frozen=True, slots=True)
class OneMore:
    """What one more kilogram, hour or machine of something would change, in words and figures.

    ``kind`` is ``kilogram`` (a week, of a polymer), ``hour`` (a week, of a limit) or ``machine``;
    ``subject`` the record's path. ``products_kg`` is what more could be made of it a week,
    ``flake_kg`` what more would be flake; ``tightest`` how full the tightest limit would be [-].
    """

    kind: Literal["kilogram", "hour", "machine"]
    subject: str
    says: str
    products_kg: float
    flake_kg: float
    tightest: float


@dataclass(frozen=True, slots=True)
class Limits:
    """Every limit, the tightest first, and what more of each would change."""

    ranked: tuple[Limit, ...]
    more: tuple[OneMore, ...]

    @property
    def bottleneck(self) -> Limit | None:
        return self.ranked[0] if self.ranked else None

    @property
    def short(self) -> tuple[Limit, ...]:
        """Those of which the week wants more than there is."""
        return tuple(limit for limit in self.ranked if limit.over)


@dataclass(frozen=True, slots=True)
class Week:
    """All that is known of a week before its limits are looked for."""

    shop: Shop
    sources: tuple[Stream, ...]
    made: tuple[Making, ...]
    masses: Balance
    hours: Hours
    stores: tuple[Level, ...]


def limits_of(week: Week) -> Limits:
    """Rank what limits a week, and say what more would change."""
    ranked = tuple(sorted(_limits(week.shop, week.hours), key=lambda limit: -limit.share))
    more = (
        *_kilograms(week, ranked),
        *_hours(week.hours, week.made, ranked),
        *_machines(week.hours, ranked),
    )
    return Limits(ranked, tuple(more))


def _limits(shop: Shop, hours: Hours) -> Iterator[Limit]:
    for machine in hours.machines:
        yield _of_machine(machine)
    for crew in hours.crews:
        yield _of_crew(shop, crew, hours)
    if hours.people_have_h is not None:
        heating = sum(machine.heat_h for machine in hours.machines)
        name, have = _("Everybody together"), hours.people_have_h
        yield Limit("people", "", name, hours.people_want_h, have, heating)


def _of_machine(machine: MachineHours) -> Limit:
    record = machine.machine
    return Limit(
        "machine", f"machines/{record.id}", str(record.name), machine.want_h, machine.have_h,
        machine.heat_h,
    )  # fmt: skip


def _of_crew(shop: Shop, crew: Crew, hours: Hours) -> Limit:
    names = ", ".join(str(shop.roles[role].name) for role in crew.roles)
    heating = sum(m.heat_h for m in hours.machines if m.machine.id in crew.machines)
    return Limit("crew", f"roles/{crew.roles[0]}", names, crew.want_h, crew.have_h, heating)


def in_hours(hours: float) -> str:
    """Hours as a sentence has them: ``3.4 h``, and minutes under an hour."""
    if abs(hours) < 1:
        return show(round(60 * hours), "min")
    return show(hours, "h", 1)


def in_percent(share: float) -> str:
    """A share of hours as a sentence has it, where there may be none."""
    return show(100 * share, "percent", 0) if math.isfinite(share) else _("more than there are")


# --- one more kilogram -------------------------------------------------------------------------


def _kilograms(week: Week, ranked: tuple[Limit, ...]) -> Iterator[OneMore]:
    filling = {level.polymer: level for level in week.stores}
    masses = week.masses
    for polymer in week.shop.polymers:
        own = [s for s in week.sources if s.polymer == polymer and s.after("hand-in") > 0]
        come = sum(s.weekly_kg for s in own)
        if not come:
            continue
        flake = sum(s.after("granulating") for s in own) / come
        cut = _hours_a_kilogram(week.hours, masses, polymer) * sum(s.after("washing") for s in own)
        minutes = 60 * cut / come
        wanted = masses.out_of("drawn", polymer) > 0
        says = _("One more kilogram of {polymer} a week makes {flake} of flake and takes the "
                 "granulator {minutes}.").format(
            polymer=week.shop.polymers[polymer].name, flake=show(flake, "kg", 2),
            minutes=show(minutes, "min", 1),
        )  # fmt: skip
        says += " " + _where_it_goes(filling.get(polymer), wanted, flake)
        tightest = max((limit.share for limit in ranked), default=0.0)
        yield OneMore(
            "kilogram", f"polymers/{polymer}", says, flake if wanted else 0.0, flake, tightest
        )


def _hours_a_kilogram(hours: Hours, masses: Balance, polymer: str) -> float:
    """How long the granulator takes for a kilogram of a polymer [h]."""
    cutters = [m.machine for m in hours.machines if m.machine.kind in CUTTERS]
    rates = [rate for m in cutters if (rate := rate_kgh(m, polymer))]
    return 1 / rates[0] if rates and masses.into("granulating", polymer) else 0.0


def _where_it_goes(level: Level | None, wanted: bool, flake: float) -> str:
    if wanted:
        return _("All of it would be used: the products want more than comes in.")
    if level is None or level.limit_kg is None:
        return _("It would stay in the store: the products do not want it.")
    if level.is_full:
        return _("There is no room for it: the store is full.")
    now = level.full_in
    then = (level.limit_kg - level.now_kg) / (level.gain_kg + flake)
    if now is None:
        return _("It would stay in the store, which would be full in {weeks} weeks.").format(
            weeks=round(then)
        )
    return _("It would stay in the store, which would be full in {then} weeks, not {now}.").format(
        then=f"{then:.1f}", now=f"{now:.1f}"
    )


# --- one more hour -----------------------------------------------------------------------------


def _hours(
    hours: Hours, made: tuple[Making, ...], ranked: tuple[Limit, ...]
) -> Iterator[OneMore]:  # fmt: skip
    products: dict[str, float] = defaultdict(float)
    for making in made:
        if making.machine is not None:
            products[making.machine.id] += making.good_kg
    for limit in ranked:
        machines = _machines_of(limit, hours)
        moving = sum(m.run_h + m.change_h for m in machines)
        if not moving:
            continue
        kg = sum(m.kg for m in machines) / moving
        good = sum(products[m.machine.id] for m in machines) / moving
        share = limit.want_h / (limit.have_h + 1)
        says = _("One more hour a week of {name} is good for {kg}; {share} of its hours would then "
                 "be wanted.").format(
            name=limit.name, kg=_of_what(kg, good), share=in_percent(share),
        )  # fmt: skip
        cuts = any(m.machine.kind in CUTTERS for m in machines)
        other = _other(limit, ranked)
        tightest = max(share, other.share if other else 0.0)
        yield OneMore("hour", limit.subject, says, good, kg if cuts else 0.0, tightest)


def _other(limit: Limit, ranked: tuple[Limit, ...]) -> Limit | None:
    """The tightest limit beside one."""
    return next((other for other in ranked[:2] if other is not limit), None)


def _machines_of(limit: Limit, hours: Hours) -> list[MachineHours]:
    if limit.kind == "people":
        return []
    noun, _slash, id_ = limit.subject.partition("/")
    crews = [crew for crew in hours.crews if noun == "roles" and crew.roles[0] == id_]
    ids = [machine for crew in crews for machine in crew.machines] if crews else [id_]
    return [found for machine in ids if (found := hours.of(machine)) is not None]


def _of_what(kg: float, products: float) -> str:
    if products:
        return _("{kg} of products").format(kg=show(products, "kg", 2))
    return show(kg, "kg", 1)


# --- one more machine --------------------------------------------------------------------------


def _machines(hours: Hours, ranked: tuple[Limit, ...]) -> Iterator[OneMore]:
    """A second machine of each kind shares the work, but not the people who run it."""
    for limit in ranked:
        found = hours.of(limit.subject.removeprefix("machines/"))
        if limit.kind != "machine" or found is None:
            continue
        share = max(limit.share / 2, limit.want_h / found.crew_h if found.crew_h else 0.0)
        first = _other(limit, ranked)
        tightest = max(share, first.share if first else 0.0)
        says = _second(limit, share)
        if share < limit.share - 1e-9 and first is not None and first.share > share:
            says += " " + _("{name} would limit the week then, at {share}.").format(
                name=first.name, share=in_percent(first.share)
            )
        yield OneMore("machine", limit.subject, says, 0.0, 0.0, tightest)


def _second(limit: Limit, share: float) -> str:
    if share >= limit.share - 1e-9:
        return _("A second {machine} would change nothing: what it lacks is hours of those "
                 "who may run it.").format(machine=limit.name)  # fmt: skip
    return _("A second {machine} would leave {share} of the hours of the two wanted.").format(
        machine=limit.name, share=in_percent(share)
    )
