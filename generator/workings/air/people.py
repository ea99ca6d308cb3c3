"""Air for people: outdoor air in each full session, and how carbon dioxide rises while it runs.

Carbon dioxide tells how much outdoor air people have. It never proves that fume is caught.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Iterator
from dataclasses import dataclass

from generator.ground.finding import Finding, Severity
from generator.ground.origin import Origin
from generator.ground.units import show
from generator.ground.wording import _
from generator.ground.working import Input, Quantity, Verdict, Working
from generator.reference import Value, reference
from generator.shop.records.people import Session
from generator.shop.shop import Shop
from generator.workings.air import laws
from generator.workings.air.curves import Curve, curve
from generator.workings.air.room import RoomAir
from generator.workings.shown import given, own, tabled

_CHILDREN_UP_TO = 11.0
"""Learners all of this age or younger [years] count as children; older ones breathe out like
adults, which errs on the side of more carbon dioxide."""

_HOUSE_FULL = "house-full"


@dataclass(frozen=True, slots=True)
class Crowd:
    """People in the room for a time: a full session, or as many as the shop lets in.

    ``need_m3h`` is the outdoor air they should have, ``counted_m3h`` what measured flows bring.
    ``steady_ppm`` is where carbon dioxide would settle, None without outdoor air; ``end_ppm``
    is what it has reached when they leave; ``carbon_dioxide`` is the way there, and
    ``fans_off`` the way it would go with no fan running.
    """

    key: str
    name: str
    subject: str
    origin: Origin
    children: int
    adults: int
    minutes: float
    need_m3h: float
    counted_m3h: float
    steady_ppm: float | None
    end_ppm: float
    carbon_dioxide: Curve
    fans_off: Curve
    verdict: Verdict

    @property
    def people(self) -> int:
        return self.children + self.adults


@dataclass(frozen=True, slots=True)
class PeopleStudy:
    """Every crowd, with what was found."""

    crowds: tuple[Crowd, ...]
    air_space_people: int
    workings: tuple[Working, ...]
    findings: tuple[Finding, ...]
    checks: int = 0
    unanswered: int = 0


@dataclass(frozen=True, slots=True)
class _Group:
    """Who comes and for how long, before anything is worked out."""

    key: str
    name: str
    subject: str
    origin: Origin
    children: int
    adults: int
    minutes: float


def study(shop: Shop, air: RoomAir) -> PeopleStudy:
    """Work out the air for people.

    Parameters
    ----------
    shop
        The shop, read without a data fault.
    air
        Its room's air.
    """
    crowds = tuple(_crowd(shop, air, group) for group in _groups(shop))
    enough_for = _air_space_people(shop, air)
    workings = [w for c in crowds for w in _crowd_workings(shop, air, c)]
    workings.append(_air_space(shop, air, enough_for))
    findings = [*_short_of_air(shop, crowds), *_too_many(shop, enough_for)]
    return PeopleStudy(crowds, enough_for, tuple(workings), tuple(findings))


# --- who comes ---------------------------------------------------------------------------------


def _groups(shop: Shop) -> Iterator[_Group]:
    for session in shop.sessions.values():
        yield _session_group(session)
    yield _house_full(shop)


def people_in(session: Session) -> int:
    """How many are in the room in a full session, learners, their adults and staff."""
    staff = sum(member.count for member in session.staff)
    return session.learners.count + session.learners.adults + staff


def _session_group(session: Session) -> _Group:
    young = session.learners.age_to_years <= _CHILDREN_UP_TO
    children = session.learners.count if young else 0
    return _Group(
        key=session.id,
        name=str(session.name),
        subject=f"sessions/{session.id}",
        origin=session.origin_of("learners"),
        children=children,
        adults=people_in(session) - children,
        minutes=minutes_between(session.start, session.end),
    )


def _house_full(shop: Shop) -> _Group:
    opening = [minutes_between(o.from_, o.to) for o in shop.hours.weekly]
    return _Group(
        key=_HOUSE_FULL,
        name=_("As many as the shop lets in, all adults, for its longest opening"),
        subject="shop",
        origin=shop.shop.origin_of("most_people"),
        children=0,
        adults=shop.shop.most_people,
        minutes=max(opening, default=60.0),
    )


def minutes_between(start: dt.time, end: dt.time) -> float:
    """Minutes from one time of a day to a later one."""
    return (end.hour - start.hour) * 60.0 + (end.minute - start.minute)


# --- what they breathe -------------------------------------------------------------------------


def _crowd(shop: Shop, air: RoomAir, group: _Group) -> Crowd:
    breathed = _breathed_ls(group.children, group.adults)
    outdoor = reference().limit("carbon-dioxide-outdoor").low
    need = _need_m3h(group.children + group.adults, air)
    law, closed = (_rising(outdoor, breathed, q, air.volume_m3) for q in (air.counted_m3h, 0.0))
    steady = laws.carbon_dioxide_steady_ppm(outdoor, breathed, air.counted_m3h)
    return Crowd(
        key=group.key,
        name=group.name,
        subject=group.subject,
        origin=group.origin,
        children=group.children,
        adults=group.adults,
        minutes=group.minutes,
        need_m3h=need,
        counted_m3h=air.counted_m3h,
        steady_ppm=steady if air.counted_m3h > 0 else None,
        end_ppm=law(group.minutes),
        carbon_dioxide=curve(group.key, group.name, "ppm", group.minutes, law),
        fans_off=curve(f"{group.key}-off", _("with the fans off"), "ppm", group.minutes, closed),
        verdict=_judged(shop, need, air),
    )


def _breathed_ls(children: int, adults: int) -> float:
    """Carbon dioxide breathed out together [l/s]."""
    child, adult = (reference().limit(f"carbon-dioxide-{who}").low for who in ("child", "adult"))
    return children * child + adults * adult


def _rising(
    outdoor_ppm: float, breathed_ls: float, flow_m3h: float, volume_m3: float
) -> Callable[[float], float]:
    return lambda minutes: laws.carbon_dioxide_ppm(
        minutes,
        outdoor_ppm,
        outdoor_ppm=outdoor_ppm,
        breathed_ls=breathed_ls,
        flow_m3h=flow_m3h,
        volume_m3=volume_m3,
    )


def _rates() -> tuple[Value, Value]:
    """Outdoor air for each person and for each square metre: the only figures on record."""
    return reference().limit("outdoor-air-per-person"), reference().limit("outdoor-air-per-area")


def _need_m3h(people: int, air: RoomAir) -> float:
    person, area = _rates()
    return laws.outdoor_air_m3h(people, air.area_m2, person.low, area.low)


def _has_own_rate(shop: Shop) -> bool:
    """Whether the figures on record are those of the place the shop stands in."""
    return reference().find_limit("outdoor-air-per-person", shop.shop.jurisdiction) is not None


def _judged(shop: Shop, need_m3h: float, air: RoomAir) -> Verdict:
    if not _has_own_rate(shop):
        return Verdict.UNANSWERED
    return Verdict.HOLDS if need_m3h <= air.counted_m3h else Verdict.FAILS


# --- workings ----------------------------------------------------------------------------------


def _crowd_workings(shop: Shop, air: RoomAir, crowd: Crowd) -> Iterator[Working]:
    yield _outdoor_air(shop, air, crowd)
    yield _carbon_dioxide(shop, air, crowd)


def _outdoor_air(shop: Shop, air: RoomAir, crowd: Crowd) -> Working:
    person, area = _rates()
    return Working(
        id=f"air.people.{crowd.key}.outdoor-air",
        subject=crowd.subject,
        title=_("Outdoor air for people: {who}").format(who=crowd.name),
        formula=_("outdoor air for each person × people + outdoor air for each m² × floor area"),
        inputs=(
            given(_("people"), crowd.people, "", crowd.origin),
            tabled(_("for each person"), person, person.low),
            given(_("floor area"), air.area_m2, "m²", shop.room.origin_of("outline")),
            tabled(_("for each m²"), area, area.low),
        ),
        result=Quantity(crowd.need_m3h, "m³/h"),
        verdict=crowd.verdict,
        limit=Quantity(crowd.counted_m3h, "m³/h"),
        limit_source=air.counted_origin,
        margin=Quantity(crowd.counted_m3h - crowd.need_m3h, "m³/h"),
        caution=_whose_rate(shop) + _("It holds only while the fans that bring it run."),
        source=person.source_record,
    )


def _whose_rate(shop: Shop) -> str:
    if _has_own_rate(shop):
        return ""
    says = _("The figure for {place}, for want of one for the place the shop stands in.")
    return says.format(place=_rates()[0].jurisdiction) + " "


def _carbon_dioxide(shop: Shop, air: RoomAir, crowd: Crowd) -> Working:
    outdoor = reference().limit("carbon-dioxide-outdoor")
    return Working(
        id=f"air.people.{crowd.key}.carbon-dioxide",
        subject=crowd.subject,
        title=_("Carbon dioxide at the end: {who}").format(who=crowd.name),
        formula=_(
            "Css + (outdoors − Css) × e^(−flow × time ÷ volume), Css = outdoors + out ÷ flow"
        ),
        inputs=tuple(_carbon_dioxide_inputs(shop, air, crowd)),
        result=Quantity(crowd.end_ppm, "ppm"),
        caution=_settling(crowd) + " " + _("It never proves that fume is caught."),
        source=outdoor.source_record,
    )


def _carbon_dioxide_inputs(shop: Shop, air: RoomAir, crowd: Crowd) -> Iterator[Input]:
    outdoor = reference().limit("carbon-dioxide-outdoor")
    for count, who, key in (
        (crowd.children, _("children"), "carbon-dioxide-child"),
        (crowd.adults, _("adults"), "carbon-dioxide-adult"),
    ):
        if count:
            yield given(who, count, "", crowd.origin)
            yield tabled(_("out of each of them"), reference().limit(key))
    yield tabled(_("outdoors"), outdoor)
    yield given(_("outdoor air that counts"), air.counted_m3h, "m³/h", air.counted_origin)
    yield given(_("volume"), air.volume_m3, "m³", shop.room.origin_of("outline"))
    yield given(_("time"), crowd.minutes, "min", crowd.origin)


def _settling(crowd: Crowd) -> str:
    if crowd.steady_ppm is None:
        return _("No outdoor air counts, so it goes on rising.")
    says = _("It would settle at {steady}; with the fans off it would reach {off} by then.")
    off = crowd.fans_off.points[-1][1]
    return says.format(steady=show(crowd.steady_ppm, "ppm", 0), off=show(off, "ppm", 0))


def _air_space_people(shop: Shop, air: RoomAir) -> int:
    cap = reference().limit("air-space-height-cap").low
    height = min(cap, shop.room.ceiling_mm / 1000)
    return laws.people_for(air.area_m2 * height, reference().limit("air-space-per-person").low)


def _air_space(shop: Shop, air: RoomAir, enough_for: int) -> Working:
    each = reference().limit("air-space-per-person")
    cap = reference().limit("air-space-height-cap")
    holds_here = reference().find_limit("air-space-per-person", shop.shop.jurisdiction) is not None
    short = enough_for < shop.shop.most_people
    return Working(
        id="air.people.space",
        subject="room",
        title=_("People the room's air space is enough for"),
        formula=_("floor area × height, counted up to {cap} ÷ air space for each, down").format(
            cap=show(cap.low, "m")
        ),
        inputs=(
            given(_("floor area"), air.area_m2, "m²", shop.room.origin_of("outline")),
            own(_("ceiling"), shop.room, "ceiling_mm"),
            tabled(_("air space for each person"), each),
        ),
        result=Quantity(enough_for, ""),
        verdict=_space_verdict(holds_here, short),
        limit=Quantity(shop.shop.most_people, ""),
        limit_source=shop.shop.origin_of("most_people"),
        margin=Quantity(enough_for - shop.shop.most_people, ""),
        caution=_("Not a fire capacity."),
        source=each.source_record,
    )


def _space_verdict(holds_here: bool, short: bool) -> Verdict:
    if not holds_here:
        return Verdict.INFORMS
    return Verdict.FAILS if short else Verdict.HOLDS


# --- findings ----------------------------------------------------------------------------------


def _short_of_air(shop: Shop, crowds: tuple[Crowd, ...]) -> Iterator[Finding]:
    if _has_own_rate(shop):
        for crowd in crowds:
            if crowd.verdict is Verdict.FAILS:
                yield _too_little(crowd)
    else:
        yield _which_rate(max(crowds, key=lambda c: c.need_m3h))


def _too_little(crowd: Crowd) -> Finding:
    says = _("{who}: {people} people need {need} of outdoor air, and {counted} counts.").format(
        who=crowd.name,
        people=crowd.people,
        need=show(crowd.need_m3h, "m3h", 0),
        counted=show(crowd.counted_m3h, "m3h", 0),
    )
    mend = _("Let fewer in at once, or have {more} more brought in and measured.").format(
        more=show(crowd.need_m3h - crowd.counted_m3h, "m3h", 0)
    )
    return Finding(
        "air.people-short",
        Severity.FIX,
        crowd.origin,
        says,
        mend,
        subject=crowd.subject,
        working=f"air.people.{crowd.key}.outdoor-air",
    )


def _which_rate(crowd: Crowd) -> Finding:
    person, _area = _rates()
    says = _(
        "How much outdoor air {people} people need here is not on record; by the figure for "
        "{place} it is {need}, and {counted} counts."
    ).format(
        people=crowd.people,
        place=person.jurisdiction,
        need=show(crowd.need_m3h, "m3h", 0),
        counted=show(crowd.counted_m3h, "m3h", 0),
    )
    return Finding(
        "air.people-rate",
        Severity.ASK,
        crowd.origin,
        says,
        _("Ask which figure holds where the shop stands."),
        subject="room",
        working=f"air.people.{crowd.key}.outdoor-air",
        asks="ventilation",
    )


def _too_many(shop: Shop, enough_for: int) -> Iterator[Finding]:
    holds_here = reference().find_limit("air-space-per-person", shop.shop.jurisdiction)
    if holds_here is None or enough_for >= shop.shop.most_people:
        return
    says = _("The room's air space is enough for {n} people, and {most} are let in.")
    yield Finding(
        "air.space-short",
        Severity.FIX,
        shop.shop.origin_of("most_people"),
        says.format(n=enough_for, most=shop.shop.most_people),
        _("Let in {n} at once.").format(n=enough_for),
        subject="room",
        working="air.people.space",
    )
