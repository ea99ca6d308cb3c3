"""Noise over a day: by role, for learners in a session, and for whoever supervises an activity.

Sound energy adds up the same whether machines run at once or one after the other, so a day is
the sum of what each machine gives in the hours it runs. A role's day is its worst one: the
machines run as long as in a whole week, as far as that fits into the longest shift.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Literal

from generator.ground.origin import Origin
from generator.ground.wording import _
from generator.shop.records.people import Activity, Role, Session
from generator.shop.shop import Shop
from generator.workings.noise import laws
from generator.workings.noise.field import Heard, Source, together_db

Kind = Literal["role", "learners", "supervisor"]


@dataclass(frozen=True, slots=True)
class Part:
    """A stretch of a day: what is heard, where, for how long, least and most level [dB(A)].

    ``time_origin`` is where its length is written, ``level_origin`` where its level comes from.
    """

    what: str
    station: str
    minutes: float
    low_db: float
    high_db: float
    time_origin: Origin
    level_origin: Origin


@dataclass(frozen=True, slots=True)
class Day:
    """Somebody's noise over a day, without ear protection.

    ``low_db`` and ``high_db`` are the daily exposure by least and most levels.
    ``not_counted`` names machines whose running hours nobody wrote: ``high_db`` has them running
    all day, ``low_db`` not at all.
    """

    key: str
    kind: Kind
    name: str
    subject: str
    origin: Origin
    parts: tuple[Part, ...]
    low_db: float
    high_db: float
    not_counted: tuple[str, ...] = ()

    @property
    def loudest(self) -> Part | None:
        """The part that gives the most energy."""
        return max(self.parts, key=lambda p: p.minutes * laws.energy(p.low_db), default=None)


@dataclass(frozen=True, slots=True)
class Ear:
    """What is needed to follow somebody through a day."""

    shop: Shop
    sources: tuple[Source, ...]
    heard: Mapping[str, Mapping[str, Heard]]
    """By station, then by machine."""
    exchange_db: float

    @classmethod
    def of(
        cls,
        shop: Shop,
        all_sources: tuple[Source, ...],
        heard: Mapping[str, tuple[Heard, ...]],
        exchange_db: float,
    ) -> Ear:
        """An ear that looks levels up by station and machine."""
        by = {station: {h.machine: h for h in at} for station, at in heard.items()}
        return cls(shop, all_sources, by, exchange_db)


def days(ear: Ear) -> Iterator[Day]:
    """Every role's day, then each session's learners and supervisors."""
    for role in ear.shop.roles.values():
        yield _role_day(ear, role)
    for session in ear.shop.sessions.values():
        yield _learners_day(ear, session)
        for key, activity in session.activities.items():
            yield _supervisor_day(ear, session, key, activity)


def _exposed(ear: Ear, parts: Iterable[Part]) -> tuple[float, float]:
    known = list(parts)
    low = laws.daily_exposure_db(((p.minutes / 60, p.low_db) for p in known), ear.exchange_db)
    return low, _most(ear, known)


def _most(ear: Ear, parts: Iterable[Part]) -> float:
    return laws.daily_exposure_db(((p.minutes / 60, p.high_db) for p in parts), ear.exchange_db)


# --- roles -------------------------------------------------------------------------------------


def _role_day(ear: Ear, role: Role) -> Day:
    minutes, places = _shift_minutes(ear.shop, role), _places(ear.shop, role)
    runs = {competence.machine for competence in role.needs}
    parts = [part for s in ear.sources if (part := _machine_part(ear, s, runs, places, minutes))]
    known = [*parts, *_background(ear.shop, minutes)]
    low, _high = _exposed(ear, known)
    silent = [s for s in ear.sources if s.machine.runs_per_week_h is None]
    all_day = [_all_day(ear, s, places, minutes) for s in silent]
    return Day(
        key=f"role.{role.id}",
        kind="role",
        name=str(role.name),
        subject=f"roles/{role.id}",
        origin=role.origin,
        parts=tuple(parts),
        low_db=low,
        high_db=_most(ear, [*known, *all_day]),
        not_counted=tuple(str(s.machine.name) for s in silent),
    )


def _all_day(ear: Ear, source: Source, places: tuple[str, ...], minutes: float) -> Part:
    most = max(ear.heard[place][source.id].high_db for place in places)
    name, origin = str(source.machine.name), source.machine.origin
    return Part(name, "", minutes, laws.SILENCE_DB, most, origin, origin)


def _machine_part(
    ear: Ear, source: Source, runs: set[str], places: tuple[str, ...], minutes: float
) -> Part | None:
    """A machine in a role's day: heard at its own station by who runs it, else where they are."""
    hours = source.machine.runs_per_week_h
    if not hours:
        return None
    own = source.id in runs
    choice = (source.machine.station,) if own else places
    station = max(choice, key=lambda s: ear.heard[s][source.id].low_db)
    heard = ear.heard[station][source.id]
    return Part(
        str(source.machine.name),
        station,
        min(60 * hours, minutes),
        heard.low_db,
        heard.high_db,
        source.machine.origin_of("runs_per_week_h"),
        source.noise.origin_of("level_db"),
    )


def _background(shop: Shop, minutes: float) -> Iterator[Part]:
    if shop.room.background_db is not None:
        quiet = shop.room.background_db
        origin = shop.room.origin_of("background_db")
        yield Part(_("background"), "", minutes, quiet, quiet, origin, origin)


def _shift_minutes(shop: Shop, role: Role) -> float:
    """The longest shift of the role on the rota, else the longest opening."""
    spans = [(s.start, s.end) for s in shop.logs.rota if s.role == role.id]
    spans = spans or [(o.from_, o.to) for o in shop.hours.weekly]
    lengths = [60.0 * (e.hour - s.hour) + e.minute - s.minute for s, e in spans]
    return max(lengths, default=0.0)


def _places(shop: Shop, role: Role) -> tuple[str, ...]:
    """Where somebody in the role mostly is: at its machines, else where visitors are."""
    at = tuple(dict.fromkeys(shop.machines[c.machine].station for c in role.needs))
    return at or visited(shop) or tuple(shop.stations)


def visited(shop: Shop) -> tuple[str, ...]:
    """Stations that visitors come to: in a zone open to them, or open to them itself."""
    return tuple(
        station.id
        for station in shop.stations.values()
        if shop.room.zones[station.zone].visitors
        or "visitor" in (station.use.alone, station.use.beside)
    )


# --- sessions ----------------------------------------------------------------------------------


def session_machines(shop: Shop, session: Session) -> frozenset[str]:
    """What runs in a session: its activities' machines, and the extractors of their zones."""
    used = {machine for a in session.activities.values() for machine in a.machines}
    zones = {shop.stations[shop.machines[m].station].zone for m in used}
    extractors = {
        m.id
        for m in shop.machines.values()
        if m.kind == "extractor" and shop.stations[m.station].zone in zones
    }
    return frozenset(used | extractors)


def _activity_part(ear: Ear, session: Session, activity: Activity, minutes: float) -> Part:
    """An activity with all of the session's machines running at once."""
    running = session_machines(ear.shop, session) & {s.id for s in ear.sources}
    heard = ear.heard[activity.station].values()
    low, high = together_db(heard, frozenset(running), ear.shop.room.background_db)
    return Part(
        str(activity.name),
        activity.station,
        minutes,
        low,
        high,
        activity.origin_of("takes_min"),
        ear.shop.stations[activity.station].origin,
    )


def _learners_day(ear: Ear, session: Session) -> Day:
    """A learner's: every activity once, each at its own place."""
    parts = tuple(_activity_part(ear, session, a, a.takes_min) for a in session.activities.values())
    low, high = _exposed(ear, parts)
    name = _("Learners in {session}").format(session=session.name)
    return Day(
        f"session.{session.id}", "learners", name,
        f"sessions/{session.id}", session.origin, parts, low, high,
    )  # fmt: skip


def _supervisor_day(ear: Ear, session: Session, key: str, activity: Activity) -> Day:
    """Whoever stays at one activity while group after group comes."""
    turns = -(-session.groups // activity.groups)
    part = _activity_part(ear, session, activity, activity.takes_min * turns)
    low, high = _exposed(ear, [part])
    return Day(
        f"session.{session.id}.{key}", "supervisor",
        _("Supervisor of {activity} in {session}").format(
            activity=activity.name, session=session.name
        ),
        f"sessions/{session.id}", activity.origin, (part,), low, high,
    )  # fmt: skip
