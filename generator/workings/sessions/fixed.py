"""What no timetable mends: ages, numbers of people, pieces against cycles, machines not to be used.

Reference figures are the trade's (their standing is told with them); the shop's own win.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from generator.ground.finding import Severity
from generator.ground.origin import Origin
from generator.ground.units import show_number
from generator.ground.wording import _, ngettext
from generator.reference import reference
from generator.shop.records.machines import Machine
from generator.shop.records.people import Activity, Session
from generator.shop.shop import Shop
from generator.workings import commissioning
from generator.workings.air import AirStudy
from generator.workings.floor.people import in_session
from generator.workings.moulding import MouldingStudy
from generator.workings.power.sessions import used_by
from generator.workings.routes import RouteStudy
from generator.workings.sessions.demands import group_sizes
from generator.workings.sessions.results import Clash, Mend
from generator.workings.stage import waits_for

ELSEWHERE = frozenset({"power", "unsigned", "waits", "exits", "air-space"})
"""Demands whose clash another subject's findings tell already."""

_CUTTERS = frozenset({"granulator", "shredder"})


@dataclass(frozen=True)
class Around:
    """What of other subjects a session is held to."""

    shop: Shop
    moulding: MouldingStudy
    routes: RouteStudy
    air: AirStudy


def clashes(around: Around, session: Session) -> tuple[Clash, ...]:
    """Everything about a session that no timetable mends."""
    found = [*_people(around, session), *_teachers(around.shop, session)]
    for activity in session.activities.values():
        found += _of_activity(around, session, activity)
    return tuple(found)


def _of_activity(around: Around, session: Session, activity: Activity) -> Iterator[Clash]:
    yield from _ages(around.shop, session, activity)
    yield from _watched(around.shop, session, activity)
    yield from _places(around.shop, session, activity)
    yield from _pieces(around, session, activity)
    yield from _out_of_use(around.shop, activity)


def _clash(  # noqa: PLR0917 - the fields of a clash, in their order
    demand: str, says: str, mend: str, origin: Origin, activity: Activity | None = None,
    severity: Severity = Severity.FIX,
) -> Clash:  # fmt: skip
    activities = (activity.id,) if activity else ()
    return Clash(demand, None, says, severity, origin, (), activities, Mend(mend))


# --- ages --------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class AgeLimit:
    """The least age at a machine or station, and what it is about."""

    years: float
    what: str


def age_limits(shop: Shop, activity: Activity) -> tuple[AgeLimit, ...]:
    """The ages below which nobody does an activity, the highest first."""
    station = shop.stations[activity.station]
    found = [AgeLimit(station.use.least_age_years, str(station.name))]
    for machine in used_by(activity, shop):
        found.append(AgeLimit(_machine_age(shop, machine), str(machine.name)))
    return tuple(sorted(found, key=lambda limit: -limit.years))


def _machine_age(shop: Shop, machine: Machine) -> float:
    own = machine.use.least_age_years if machine.use else 0.0
    limits, tabled = shop.shop.limits, reference().limit("age-hot-side").low
    if machine.kind in _CUTTERS:
        return max(own, _chosen(limits.granulator_age_years, tabled))
    return max(own, _chosen(limits.hot_side_age_years, tabled)) if machine.is_hot else own


def _chosen(own: float | None, tabled: float) -> float:
    return tabled if own is None else own


def _ages(shop: Shop, session: Session, activity: Activity) -> Iterator[Clash]:
    if activity.learners != "do":
        return
    limit, youngest = age_limits(shop, activity)[0], session.learners.age_from_years
    if youngest >= limit.years:
        return
    says = _("Learners of {age} do “{activity}”; at {what} nobody under {least} does.").format(
        age=show_number(youngest), activity=activity.name, what=limit.what,
        least=show_number(limit.years),
    )  # fmt: skip
    mend = _("Let them watch: write `learners: watch`.")
    yield _clash("age", says, mend, activity.origin_of("learners"), activity, Severity.STOP)


# --- how many are watched by one ---------------------------------------------------------------


def at_once(session: Session, activity: Activity) -> int:
    """The most learners that can be at an activity at once."""
    sizes = group_sizes(session.learners.count, session.groups)
    return sum(sizes[: activity.groups])


def most_watched(shop: Shop) -> int:
    """Learners one person in charge may watch at something hot or powered."""
    own = shop.shop.limits.learners_per_adult
    return own if own else int(reference().limit("people-per-helper-hot").high)


def _watched(shop: Shop, session: Session, activity: Activity) -> Iterator[Clash]:
    if not any(m.is_hot or m.run_down_s for m in used_by(activity, shop)):
        return
    most, count = most_watched(shop), at_once(session, activity)
    if not most or count <= most * activity.supervisors:
        return
    says = _(
        "{n} learners are at “{activity}” at once with {adults} in charge; one watches {most}."
    )
    says = says.format(n=count, activity=activity.name, adults=activity.supervisors, most=most)
    needed = -(-count // most)
    mend = _("Put {n} in charge of it (`supervisors: {n}`), or make smaller groups.")
    yield _clash("ratio", says, mend.format(n=needed), activity.origin, activity)


def _places(shop: Shop, session: Session, activity: Activity) -> Iterator[Clash]:
    """Where no machine is named, all learners of a group work at once."""
    station, count = shop.stations[activity.station], at_once(session, activity)
    if activity.learners != "do" or activity.machines or count <= station.use.people:
        return
    says = ngettext(
        "{n} learners do “{activity}” at once at {station}, which has {places} place.",
        "{n} learners do “{activity}” at once at {station}, which has {places} places.",
        station.use.people,
    ).format(n=count, activity=activity.name, station=station.name, places=station.use.people)
    mend = _("Let fewer groups in at once, or make more and smaller groups.")
    yield _clash("places", says, mend, activity.origin, activity)


def _teachers(shop: Shop, session: Session) -> Iterator[Clash]:
    row = reference().find_limit("learners-per-teacher", shop.shop.jurisdiction)
    if row is None:
        return
    leaders = sum(member.count for member in session.staff)
    if session.learners.count <= row.low * leaders:
        return
    says = _("{n} learners come with {leaders} of the shop's own; {most} for each is the figure.")
    says = says.format(n=session.learners.count, leaders=leaders, most=int(row.low))
    mend = _("Put on more staff, or take {n} at a time.").format(n=int(row.low * leaders))
    yield _clash("class", says, mend, session.origin_of("learners"))


# --- people in the room ------------------------------------------------------------------------


def _people(around: Around, session: Session) -> Iterator[Clash]:
    shop, count = around.shop, in_session(session)
    origin = session.origin_of("learners")
    limits = [("people", shop.shop.most_people, _("may be in the room at once"))]
    exits = around.routes.exits
    if exits.people is not None and not exits.lent_by:
        limits.append(("exits", exits.people, _("is what the exits count for")))
    if reference().find_limit("air-space-per-person", shop.shop.jurisdiction):
        enough = around.air.people.air_space_people
        limits.append(("air-space", enough, _("is what the air space is enough for")))
    for demand, most, words in limits:
        if count > most:
            says = _("{n} people are in the session; {most} {words}.")
            over = count - most
            mend = ngettext("Take {n} learner fewer.", "Take {n} learners fewer.", over)
            mend = mend.format(n=over)
            yield _clash(demand, says.format(n=count, most=most, words=words), mend, origin,
                         severity=Severity.STOP)  # fmt: skip


# --- pieces ------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Batch:
    """The pieces of one group in one activity: ``takes_min`` is None where no cycle is known."""

    pieces: int
    shots: int
    takes_min: float | None


def batch_of(around: Around, session: Session, activity: Activity) -> Batch | None:
    """What one group makes, the largest group; None where it makes nothing."""
    if activity.makes is None:
        return None
    shop = around.shop
    product = shop.products[activity.makes.product]
    mould = shop.moulds[product.mould]
    size = group_sizes(session.learners.count, session.groups)[0]
    pieces = size * activity.makes.each
    shots = -(-pieces * product.parts // mould.cavities)
    host = around.moulding.kit.melts.of_blend(shop.blends[activity.makes.blend]).host.id
    machines = [m.id for m in used_by(activity, shop) if m.id in mould.machines]
    cycles = (around.moulding.cycles.get((mould.id, m, host)) for m in machines)
    seconds = [cycle.seconds for cycle in cycles if cycle]
    return Batch(pieces, shots, shots * min(seconds) / 60 if seconds else None)


def _pieces(around: Around, session: Session, activity: Activity) -> Iterator[Clash]:
    batch = batch_of(around, session, activity)
    if batch is None or batch.takes_min is None or batch.takes_min <= activity.takes_min + 1e-9:
        return
    says = ngettext(
        "{n} piece for a group takes {needs} min in “{activity}”, which lasts {takes} min.",
        "{n} pieces for a group take {needs} min in “{activity}”, which lasts {takes} min.",
        batch.pieces,
    ).format(
        n=batch.pieces, needs=show_number(batch.takes_min, 1), activity=activity.name,
        takes=show_number(activity.takes_min),
    )  # fmt: skip
    mend = _("Give it {n} min, or make fewer pieces.").format(n=-int(-batch.takes_min // 1))
    yield _clash("pieces", says, mend, activity.origin_of("takes_min"), activity)


# --- machines that must not be used ------------------------------------------------------------


def _out_of_use(shop: Shop, activity: Activity) -> Iterator[Clash]:
    for machine in used_by(activity, shop):
        sheet, stage = commissioning.sheet_of(machine), waits_for(shop, machine)
        says = ""
        if stage is not None:
            says = _("“{activity}” uses {machine}, which waits for stage “{stage}”.")
            says = says.format(activity=activity.name, machine=machine.name, stage=stage.name)
        elif sheet.is_open:
            says = _("“{activity}” uses {machine}, which is not signed off before first use.")
            says = says.format(activity=activity.name, machine=machine.name)
        if says:
            demand = "waits" if stage else "unsigned"
            mend = _("Leave the activity out until it is.")
            yield _clash(demand, says, mend, activity.origin, activity, Severity.STOP)


def without_mend(clash: Clash) -> Clash:
    """A clash before anything was tried."""
    return replace(clash, mend=None)
