"""Which signs the shop needs, where each hangs, how large it is, and what hangs already."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import cached_property

from generator.ground.survey import Survey
from generator.shop.records.room import HungSign
from generator.shop.shop import Shop
from generator.workings.floor.standing import Standing
from generator.workings.routes import RouteStudy
from generator.workings.signage import escape_plans
from generator.workings.signage.ahead import ahead
from generator.workings.signage.escape_plans import EscapePlanPlace
from generator.workings.signage.faces import Faces, Spot
from generator.workings.signage.hanging import SAME_PLACE_MM, Hanger, Hanging
from generator.workings.signage.matching import Matching
from generator.workings.signage.needs import Need, needs, outside
from generator.workings.signage.places import Place, Posted, Wanted
from generator.workings.signage.rounds import in_walking_order
from generator.workings.signage.sizes import Size, Sizes, least_paper
from generator.workings.signage.told import surveyed
from generator.workings.signage.viewing import Viewing, apart_mm

__all__ = [
    "EscapePlanPlace",
    "Hanging",
    "Need",
    "Place",
    "Posted",
    "SignageStudy",
    "Size",
    "Spot",
    "Wanted",
    "study",
]


class SignageStudy:
    """Everything worked out of a shop's signs.

    ``places`` are in the order of the records; :attr:`walk` has them as one walks the room.
    ``plans`` are the places of escape plans, none where the ways out are not worked out.
    """

    def __init__(
        self,
        shop: Shop,
        *,
        needs: tuple[Need, ...],
        answers: Mapping[Need, tuple[str, ...]],
        places: tuple[Place, ...],
        plans: tuple[EscapePlanPlace, ...],
        routes: RouteStudy | None,
    ) -> None:
        self.shop, self.needs, self.answers, self.places = shop, needs, answers, places
        self.plans = plans
        self._routes = routes

    @property
    def outside(self) -> Need:
        """The sign at the assembly point, which is not on the plan."""
        return outside(self.shop)

    @cached_property
    def walk(self) -> tuple[Place, ...]:
        """The places as one walks the room from the door, always to the nearest next."""
        ordered = in_walking_order(self.shop, self._routes, [p.spot.before for p in self.places])
        return tuple(self.places[number] for number in ordered)

    @property
    def wanted(self) -> tuple[Wanted, ...]:
        """Every sign that is missing."""
        return tuple(w for place in self.places for w in place.wanted)

    @property
    def posted(self) -> tuple[Posted, ...]:
        """Every sign that hangs."""
        return tuple(p for place in self.places for p in place.posted)

    @cached_property
    def survey(self) -> Survey:
        """Workings and findings."""
        told = escape_plans.told(self.shop, self.plans)
        return surveyed(self.shop, self.needs, self.places, told)


def study(
    shop: Shop, standing: Standing | None = None, routes: RouteStudy | None = None
) -> SignageStudy:
    """Work out the signs of a shop.

    Parameters
    ----------
    shop
        The shop, read without a data fault; a stage's shop as well as the whole one.
    standing
        The same shop's room as polygons, where it is already there.
    routes
        How people get about the same room; without it the walk round it and the way into a zone
        go straight.
    """
    room = _Room(shop, standing or Standing(shop), routes)
    asked = (*needs(room.standing), *ahead(room.standing, room.viewing, routes))
    answers = room.matching.answered(asked)
    places = _places(room.missing(answers), room.posted(answers))
    return SignageStudy(
        shop,
        needs=asked,
        answers=answers,
        places=places,
        plans=room.plans(routes, [place.spot for place in places]),
        routes=routes,
    )


class _Room:
    """What every step of the study asks."""

    def __init__(self, shop: Shop, standing: Standing, routes: RouteStudy | None) -> None:
        self.shop, self.standing = shop, standing
        self.viewing, self.faces = Viewing(standing), Faces(standing)
        self.matching = Matching(shop, self.faces, self.viewing)
        self.sizes = Sizes(shop, self.viewing)
        self.hanger = Hanger(standing, self.viewing, self.faces, routes)

    def plans(
        self, routes: RouteStudy | None, taken: Sequence[Spot]
    ) -> tuple[EscapePlanPlace, ...]:
        """Where escape plans hang, clear of all else that does."""
        if routes is None:
            return ()
        things = [self.faces.spot_of(e.at) for e in self.shop.room.equipment.values()]
        return escape_plans.places(self.standing, self.faces, routes, [*taken, *things])

    def posted(self, answers: Mapping[Need, tuple[str, ...]]) -> list[tuple[Spot, Posted]]:
        """What hangs, each with the needs it answers and the largest size they ask for.

        A need is read off the nearest sign that answers it; a sign that is nearest to none
        stands for all it answers.
        """
        nearest: dict[str, list[Need]] = defaultdict(list)
        answered: dict[str, list[Need]] = defaultdict(list)
        for need, ids in answers.items():
            for id_ in ids:
                answered[id_].append(need)
            if ids:
                nearest[min(ids, key=lambda id_: self._apart(need, id_))].append(need)
        asked = tuple(answers)
        return [
            self._posted(id_, hung, nearest[id_] or answered[id_], asked)
            for id_, hung in self.shop.room.signs.items()
        ]

    def _apart(self, need: Need, id_: str) -> tuple[float, str]:
        """How far a hung sign is from what needs it [mm], told apart by its id."""
        at = need.at or self.shop.stations[need.stations[0]].at
        return round(apart_mm(at, self.shop.room.signs[id_].at), 1), id_

    def _posted(
        self, id_: str, hung: HungSign, served: Sequence[Need], asked: tuple[Need, ...]
    ) -> tuple[Spot, Posted]:
        spot = self.faces.spot_of(hung.at)
        sizes = [
            self.sizes.of(need, hung.sign, spot, hung.height_mm, lit=hung.lit) for need in served
        ]
        against = self.matching.against(asked, hung)
        return spot, Posted(id_, hung, tuple(served), _largest(sizes), against)

    def missing(
        self, answers: Mapping[Need, tuple[str, ...]]
    ) -> list[tuple[str, Hanging, list[Wanted]]]:
        """What is missing for each subject, and where it hangs."""
        by_subject: dict[str, list[Need]] = defaultdict(list)
        beside: dict[str, list[HungSign]] = defaultdict(list)
        for need, ids in answers.items():
            beside[need.subject] += [self.shop.room.signs[id_] for id_ in ids]
            if not ids:
                by_subject[need.subject].append(need)
        return [
            self._hung_up(subject, wanted, beside[subject])
            for subject, wanted in by_subject.items()
        ]

    def _hung_up(
        self, subject: str, missing: Sequence[Need], beside: Sequence[HungSign]
    ) -> tuple[str, Hanging, list[Wanted]]:
        found = self.hanger.hang(missing, beside)
        return subject, found, [self._wanted(need, found) for need in missing]

    def _wanted(self, need: Need, found: Hanging) -> Wanted:
        size = self.sizes.of(need, need.code, found.spot, found.lower_mm)
        return Wanted(need, size, least_paper(self.shop, size))


def _largest(sizes: Iterable[Size]) -> Size | None:
    """The size of whoever reads it from farthest."""
    return max(sizes, key=lambda size: size.distance_m or 0.0, default=None)


def _places(
    missing: Sequence[tuple[str, Hanging, list[Wanted]]], posted: Sequence[tuple[Spot, Posted]]
) -> tuple[Place, ...]:
    """Places of what is missing, each with what hangs beside it; then of what hangs alone."""
    made = [_Making(s, h.spot, h.lower_mm, wanted=list(w)) for s, h, w in missing]
    for spot, sign in posted:
        near = [m for m in made if m.takes(spot)]
        if near:
            min(near, key=lambda m: apart_mm(m.spot.at, spot.at)).posted.append(sign)
        else:
            subject = sign.needs[0].subject if sign.needs else f"room/signs/{sign.id}"
            made.append(_Making(subject, spot, sign.hung.height_mm, posted=[sign]))
    return tuple(_numbered(made))


class _Making:
    """A place that is being put together."""

    def __init__(
        self,
        subject: str,
        spot: Spot,
        lower_mm: float,
        *,
        wanted: list[Wanted] | None = None,
        posted: list[Posted] | None = None,
    ) -> None:
        self.subject, self.spot, self.lower_mm = subject, spot, lower_mm
        self.wanted, self.posted = wanted or [], posted or []

    def takes(self, spot: Spot) -> bool:
        """Whether what hangs at a spot belongs to this place: near, and on the same face."""
        return (
            apart_mm(self.spot.at, spot.at) <= SAME_PLACE_MM
            and math.dist(self.spot.into, spot.into) < 0.5
        )


_NOUN = {"room": 2}
"""How many steps of a record's path are its noun, where that is not one."""


def _numbered(made: Iterable[_Making]) -> Iterator[Place]:
    """Places with ids of their own: the subject's, and a count where it has several."""
    count: dict[str, int] = defaultdict(int)
    for each in made:
        id_ = "-".join(each.subject.split("/")[_NOUN.get(each.subject.split("/")[0], 1) :])
        count[id_] += 1
        name = id_ if count[id_] == 1 else f"{id_}-{count[id_]}"
        yield Place(
            name, each.subject, each.spot, each.lower_mm, tuple(each.wanted), tuple(each.posted)
        )
