"""Does the air carry the fumes away, and is there enough of it for people?

Hoods and ducts, make-up air and its heat, how the room clears, what hot plastic gives off, and
outdoor air for people. A recirculating filter and an open window count as nothing.
"""

from __future__ import annotations

from dataclasses import dataclass

from generator.ground.survey import Survey, survey
from generator.shop.shop import Shop
from generator.workings.air import fume, hoods, people, room
from generator.workings.air.curves import Curve
from generator.workings.air.drawn import Duct, FanAir, HoodAir
from generator.workings.air.fume import Dilution, FumeStudy, WhatIf
from generator.workings.air.hoods import HoodStudy
from generator.workings.air.people import Crowd, PeopleStudy
from generator.workings.air.room import RoomAir

__all__ = [
    "AirStudy", "Crowd", "Curve", "Dilution", "Duct", "FanAir", "FumeStudy", "HoodAir",
    "HoodStudy", "PeopleStudy", "RoomAir", "WhatIf", "study",
]  # fmt: skip


@dataclass(frozen=True, slots=True)
class AirStudy:
    """Everything worked out of a shop's air.

    Parameters
    ----------
    room
        Make-up air, its heat, air changes and the curves by which the room clears.
    hoods
        Each hood and fan with its ducts.
    fume
        Dilution of what is known to be given off, and the what-if of what is not.
    people
        Outdoor air and carbon dioxide of each full session.
    survey
        Its workings and findings, with how many checks were answered.
    """

    room: RoomAir
    hoods: HoodStudy
    fume: FumeStudy
    people: PeopleStudy
    survey: Survey


def study(shop: Shop) -> AirStudy:
    """Work out the air of a shop.

    Parameters
    ----------
    shop
        The shop, read without a data fault.
    """
    its_room = room.study(shop)
    parts = (hoods.study(shop), its_room, fume.study(shop, its_room), people.study(shop, its_room))
    workings = [working for part in parts for working in part.workings]
    findings = [finding for part in parts for finding in part.findings]
    its_hoods, _room, its_fume, its_people = parts
    made = survey(
        "air",
        workings,
        findings,
        other_checks=sum(part.checks for part in parts),
        other_unanswered=sum(part.unanswered for part in parts),
    )
    return AirStudy(its_room, its_hoods, its_fume, its_people, made)
