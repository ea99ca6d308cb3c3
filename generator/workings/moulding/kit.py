"""What every run is worked out from: the shop's melts, trials, dryers, prices and trade figures."""

from __future__ import annotations

from functools import cached_property

from generator.reference import reference
from generator.shop.records.machines import Machine
from generator.shop.records.material import Polymer
from generator.shop.shop import Shop
from generator.workings.heat import Refusals
from generator.workings.moulding.dryers import Dryness, dryness
from generator.workings.moulding.melts import Fact, Melt, Melts, Running, running, tabled, written
from generator.workings.moulding.trials import Book


class Kit:
    """What every run of a shop is worked out from, each made once.

    Parameters
    ----------
    shop
        The shop, with every id resolved.
    """

    def __init__(self, shop: Shop) -> None:
        self.shop = shop
        self.refusals = Refusals(shop)
        self.melts = Melts(shop)
        self.book = Book(shop, self.melts)
        self._figures: dict[str, Fact] = {}
        self._dryness: dict[str, Dryness] = {}
        self._running: dict[tuple[str, int], Running] = {}

    def figure(self, key: str) -> Fact:
        """A figure of the trade by its key in the tables."""
        if key not in self._figures:
            found = tabled(reference().limit(key, self.shop.shop.jurisdiction))
            assert found is not None
            self._figures[key] = found
        return self._figures[key]

    @cached_property
    def room(self) -> Fact:
        """Temperature of the room, which all plastic starts from [°C]."""
        climate = self.shop.room.climate
        own = written(climate, "indoor_c", "°C") if climate else None
        return own or self.figure("room-temperature")

    def dryness(self, polymer: Polymer) -> Dryness:
        """Whether the shop can dry a polymer."""
        if polymer.id not in self._dryness:
            self._dryness[polymer.id] = dryness(self.shop, polymer)
        return self._dryness[polymer.id]

    def running(self, machine: Machine, melt: Melt) -> Running:
        """How a machine runs a melt."""
        key = (machine.id, id(melt))
        if key not in self._running:
            self._running[key] = running(machine, melt)
        return self._running[key]
