"""Does the room hold? Floor and walks, power, air, what is met there, loads and signs."""

from __future__ import annotations

from collections.abc import Iterator

from generator.handbook.desk import Desk
from generator.handbook.page import Page
from generator.handbook.room import air, floor, loads, met, power, signs


def pages(desk: Desk) -> Iterator[Page]:
    """A page for each subject of the room, in the order a reader asks."""
    yield floor.page(desk)
    yield power.page(desk)
    yield air.page(desk)
    yield met.page(desk)
    yield loads.page(desk)
    yield signs.page(desk)
