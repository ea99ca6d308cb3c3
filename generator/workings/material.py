"""Material from the door to the shelf: its trail, flow, storage, blends, waste and costs at once.

Each can be worked out by itself; together they share what the steps lose and what is made, so
that nothing is worked out twice.
"""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass

from generator.ground.survey import Survey
from generator.shop.shop import Shop
from generator.workings import blends, costs, flow, storage, trail, waste
from generator.workings.flow.making import Makings
from generator.workings.losses import Losses
from generator.workings.moulding.kit import Kit


@dataclass(frozen=True, slots=True)
class MaterialStudy:
    """Everything worked out of material."""

    trail: trail.TrailStudy
    flow: flow.FlowStudy
    storage: storage.StorageStudy
    blends: blends.BlendStudy
    waste: waste.WasteStudy
    costs: costs.CostStudy

    @property
    def surveys(self) -> tuple[Survey, ...]:
        """The survey of each, in the order in which the material goes."""
        return (
            self.trail.survey, self.flow.survey, self.storage.survey, self.blends.survey,
            self.waste.survey, self.costs.survey,
        )  # fmt: skip


def study(
    shop: Shop,
    day: dt.date | None = None,
    walk: flow.Walk | None = None,
    kit: Kit | None = None,
) -> MaterialStudy:
    """Work out everything of material.

    Parameters
    ----------
    shop
        The shop, read without a data fault.
    day
        The day against which a stay in quarantine is told; the last day of the log where it is
        left out.
    walk
        The walk between two stations by id, such as a route study's ``walk_between``; straight
        lines, marked so, where it is left out.
    kit
        What runs are worked out from, where moulding has made it before.
    """
    losses, makings = Losses(shop), Makings(shop, kit)
    week = flow.study(shop, walk, losses, makings)
    left = waste.study(shop, week)
    return MaterialStudy(
        trail.study(shop, losses), week, storage.study(shop, day, losses, makings),
        blends.study(shop, losses, makings), left, costs.study(shop, week, left),
    )  # fmt: skip
