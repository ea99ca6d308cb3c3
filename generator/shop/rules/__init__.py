"""What cannot be meant, though every record by itself can be read: one rule a function.

A rule takes the draft of a shop and yields faults; its docstring says what it holds the shop
to. The id of its faults is stable (``data.station-number``).
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from generator.ground.finding import Finding
from generator.shop.draft import Draft
from generator.shop.rules import air, material, people, power, room, stations, trail

Rule = Callable[[Draft], Iterator[Finding]]

RULES: tuple[Rule, ...] = (
    *room.RULES,
    *power.RULES,
    *air.RULES,
    *stations.RULES,
    *material.RULES,
    *people.RULES,
    *trail.RULES,
)

__all__ = ["RULES", "Rule"]
