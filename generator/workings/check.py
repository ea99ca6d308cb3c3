"""Every check over a whole shop, subject by subject, each worked out once when it is asked for."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from functools import cached_property

from generator.ground.finding import Finding, in_file_order
from generator.ground.survey import Survey
from generator.shop.shop import Shop
from generator.workings import (
    air,
    apart,
    bearing,
    faults_in_parts,
    floor,
    labelling,
    light,
    material,
    moulding,
    noise,
    power,
    purity,
    reading,
    routes,
    sessions,
    signage,
    stopping,
    touch,
)
from generator.workings.ahead import known_by
from generator.workings.air import AirStudy
from generator.workings.apart import ApartStudy
from generator.workings.bearing import BearingStudy
from generator.workings.bringing import Bringing
from generator.workings.faults_in_parts import FaultStudy
from generator.workings.floor import FloorStudy
from generator.workings.heat import Refusals
from generator.workings.labelling import Tag
from generator.workings.light import LightStudy
from generator.workings.material import MaterialStudy
from generator.workings.moulding import MouldingStudy
from generator.workings.noise import NoiseStudy
from generator.workings.power import PowerStudy
from generator.workings.purity import PurityStudy
from generator.workings.reading import ReadingStudy
from generator.workings.routes import RouteStudy
from generator.workings.running import Running
from generator.workings.sessions import SessionsStudy
from generator.workings.signage import SignageStudy
from generator.workings.stopping import StoppingStudy
from generator.workings.touch import TouchStudy

_MOST_SETS = 2000
"""With more sets of machines than this, noise is heard with all of them at once: louder, never
quieter, than any set."""


class Studies:
    """Everything worked out of one shop.

    Parameters
    ----------
    shop
        The shop, read without a data fault.
    as_of
        The day that whatever falls due is told against.
    """

    def __init__(self, shop: Shop, as_of: dt.date) -> None:
        self.shop = known_by(shop, as_of)
        self.running = Running(shop, as_of)

    @cached_property
    def refusals(self) -> Refusals:
        """What must not be heated, and what that stops."""
        return Refusals(self.shop)

    @cached_property
    def floor(self) -> FloorStudy:
        """Whether what stands on the floor leaves room to work."""
        return floor.study(self.shop)

    @cached_property
    def routes(self) -> RouteStudy:
        """Whether people can get about and out."""
        return routes.study(self.shop, self.floor.standing)

    @cached_property
    def power(self) -> PowerStudy:
        """Whether the supply carries the machines."""
        return power.study(self.shop)

    @cached_property
    def air(self) -> AirStudy:
        """Whether the air carries the fumes, and is enough for people."""
        return air.study(self.shop)

    @cached_property
    def noise(self) -> NoiseStudy:
        """Whether it is too loud with everything that may run together."""
        sets = self.power.sets
        few = sets.complete and sets.count <= _MOST_SETS
        return noise.study(self.shop, map(frozenset, sets.sets()) if few else None)

    @cached_property
    def light(self) -> LightStudy:
        """Whether there is light enough for each task."""
        return light.study(self.shop)

    @cached_property
    def signage(self) -> SignageStudy:
        """Which signs are needed and where, and what hangs."""
        return signage.study(self.shop, self.floor.standing, self.routes)

    @cached_property
    def touch(self) -> TouchStudy:
        """Which hot surfaces can burn whom."""
        return touch.study(self.shop)

    @cached_property
    def stopping(self) -> StoppingStudy:
        """Whether what stops a machine is in sight and in reach of whoever works at it."""
        return stopping.study(self.shop)

    @cached_property
    def bearing(self) -> BearingStudy:
        """What the floor bears, and what there is to burn."""
        return bearing.study(self.shop)

    @cached_property
    def moulding(self) -> MouldingStudy:
        """What runs in which mould on which machine, and what it takes."""
        return moulding.study(self.shop)

    @cached_property
    def faults(self) -> FaultStudy:
        """What was wrong with parts, and the first thing to change."""
        return faults_in_parts.study(self.shop, self.moulding)

    @cached_property
    def purity(self) -> PurityStudy:
        """Whether each polymer stays itself from the door to the part."""
        return purity.study(self.shop)

    @cached_property
    def apart(self) -> ApartStudy:
        """How polymers are told apart."""
        return apart.study(self.shop)

    @cached_property
    def material(self) -> MaterialStudy:
        """What comes in, where it waits, what is made of it and what leaves."""
        return material.study(
            self.shop, self.running.as_of, self.routes.walk_between, self.moulding.kit
        )

    @cached_property
    def sessions(self) -> SessionsStudy:
        """Whether each session's timetable holds, and what it needs."""
        return sessions.study(self.shop, self.power, self.moulding, self.routes, self.air)

    @cached_property
    def reading(self) -> ReadingStudy:
        """Whether learner pages can be read by those who come."""
        return reading.study(self.shop)

    @cached_property
    def bringing(self) -> Bringing:
        """What is taken at the door on that day."""
        return Bringing(self.shop, self.refusals, self.material.storage, self.running.as_of)

    @cached_property
    def labels(self) -> tuple[Tag, ...]:
        """Every label that an ordinary week needs."""
        return labelling.study(self.shop, self.material, self.moulding.kit)

    @cached_property
    def surveys(self) -> tuple[Survey, ...]:
        """Every subject, in the order a reader asks."""
        return (
            self.floor.survey,
            self.routes.survey,
            self.power.survey,
            self.air.survey,
            self.noise.survey,
            self.light.survey,
            self.touch.survey,
            self.stopping.survey,
            self.signage.survey,
            self.bearing.survey,
            self.refusals.survey(),
            self.apart.survey,
            self.purity.survey,
            self.moulding.survey,
            self.faults.survey,
            self.sessions.survey,
            self.reading.survey,
            *self.material.surveys,
            *self.running.surveys,
        )

    @cached_property
    def findings(self) -> tuple[Finding, ...]:
        """Everything found wrong, doubtful or unanswered, in file order."""
        return findings_of(self.surveys)


def findings_of(made: Iterable[Survey]) -> tuple[Finding, ...]:
    """Everything found by some surveys, in file order."""
    return in_file_order(finding for survey in made for finding in survey.findings)
