"""How many people the floor and the air above it are counted for, against how many come."""

from __future__ import annotations

import math
from dataclasses import dataclass

from shapely import Polygon

from generator.ground.finding import Finding, Severity
from generator.ground.wording import _
from generator.ground.working import Input, Quantity, Verdict, Working
from generator.shop.records.people import Session
from generator.shop.shop import Shop
from generator.workings.figures import Figure, figure
from generator.workings.floor.lengths import square_metres
from generator.workings.floor.standing import Standing
from generator.workings.part import Part
from generator.workings.shown import given, own


@dataclass(frozen=True, slots=True)
class People:
    """How many people count.

    Parameters
    ----------
    most
        The largest number that may be in at once: the fullest session, or what is agreed for
        the room, whichever is more.
    fullest
        The session with the most people, None where there are no sessions.
    by_floor, by_air
        The number the floor's area and the air space give, rounded down.
    """

    most: int
    fullest: Session | None
    by_floor: int
    by_air: int
    part: Part


def in_session(session: Session) -> int:
    """Everybody in a session: learners, the adults with them, and the shop's own."""
    learners = session.learners
    return learners.count + learners.adults + sum(staff.count for staff in session.staff)


def most_people(shop: Shop) -> int:
    """The largest number of people in the room at once."""
    return max([shop.shop.most_people, *map(in_session, shop.sessions.values())])


def by_floor_area(area_m2: float, per_person_m2: float) -> int:
    """People for a floor: its area over the floor for each, rounded down."""
    return math.floor(area_m2 / per_person_m2 + 1e-9)


def by_air_space(area_m2: float, height_m: float, cap_m: float, per_person_m3: float) -> int:
    """People for the air: area times the height, up to a cap, over the space for each."""
    return math.floor(area_m2 * min(height_m, cap_m) / per_person_m3 + 1e-9)


def study(standing: Standing) -> People:
    """Count the people a room is for, and those who come."""
    shop = standing.shop
    most = most_people(shop)
    area_m2 = Polygon(shop.room.outline).area / 1e6
    each = figure(shop, "floor-space-per-person")
    space, cap = figure(shop, "air-space-per-person"), figure(shop, "air-space-height-cap")
    by_floor = by_floor_area(area_m2, each.value)
    by_air = by_air_space(area_m2, shop.room.ceiling_mm / 1000, cap.value, space.value)
    area = given(_("Floor area"), area_m2, "m²", shop.room.origin_of("outline"))
    workings = (
        _floor_working(area, by_floor, most, each),
        _air_working(shop, area, by_air, most, (space, cap)),
    )
    fullest = max(shop.sessions.values(), key=in_session, default=None)
    findings = tuple(
        f for f in (_floor_finding(shop, area_m2, by_floor, most, each),
                    _air_finding(shop, by_air, most, space)) if f
    )  # fmt: skip
    return People(most, fullest, by_floor, by_air, Part(workings, findings))


def _floor_working(area: Input, people: int, most: int, each: Figure) -> Working:
    return Working(
        "floor.people.area",
        "room",
        _("People by floor area"),
        _("floor area over the floor for each person, rounded down"),
        (area, each.as_input),
        Quantity(people, _("people")),
        each.verdict(people >= most),
        Quantity(most, _("people")),
        margin=Quantity(people - most, _("people")),
        caution=each.caution,
    )


def _air_working(
    shop: Shop, area: Input, people: int, most: int, figures: tuple[Figure, Figure]
) -> Working:
    space, cap = figures
    return Working(
        "floor.people.air",
        "room",
        _("People by air space"),
        _("floor area times the height, up to a cap, over the space for each, rounded down"),
        (area, own(_("Ceiling"), shop.room, "ceiling_mm"), cap.as_input, space.as_input),
        Quantity(people, _("people")),
        Verdict.UNANSWERED if space.lent_by else space.verdict(people >= most),
        Quantity(most, _("people")),
        margin=Quantity(people - most, _("people")),
        caution=space.caution or _("Not a fire capacity."),
    )


def _floor_finding(
    shop: Shop, area_m2: float, people: int, most: int, each: Figure
) -> Finding | None:
    origin = shop.shop.origin_of("most_people")
    says = _("Up to {most} people are in at once on {area}, which counts for {people}.").format(
        most=most, area=square_metres(area_m2 * 1e6), people=people
    )
    if each.lent_by:
        return each.question("floor.people.area", origin, says, "fire", "room")
    if people >= most:
        return None
    return Finding(
        "floor.people.area",
        Severity.FIX,
        origin,
        says,
        _("Let no more than {people} in at once, or have the number confirmed.").format(
            people=people
        ),
        subject="room",
        working="floor.people.area",
    )


def _air_finding(shop: Shop, people: int, most: int, space: Figure) -> Finding | None:
    if people >= most:
        return None
    origin = shop.shop.origin_of("most_people")
    says = _("The air space counts for {people} people; up to {most} are in at once.").format(
        people=people, most=most
    )
    if space.lent_by:
        return space.question("floor.people.air", origin, says, "ventilation", "room")
    return Finding(
        "floor.people.air",
        Severity.FIX,
        origin,
        says,
        _("Let no more than {people} in at once.").format(people=people),
        subject="room",
        working="floor.people.air",
    )
