"""How the shop is fed, and which country's rule its circuits are held to."""

from __future__ import annotations

from dataclasses import dataclass

from generator.reference import Supply as SupplyRow
from generator.reference import Value, reference
from generator.shop.records.room import Phase
from generator.shop.records.room import Supply as OwnSupply
from generator.shop.shop import Shop

_LINES: tuple[Phase, ...] = ("L1", "L2", "L3")
_COUNT = {"one": 1, "two": 2, "three": 3}


@dataclass(frozen=True, slots=True)
class Mains:
    """The supply as the shop wrote it, beside its row of the supply table.

    ``lines`` are its phases, or the legs of a split phase. ``place`` is whose limits apply.
    """

    own: OwnSupply
    row: SupplyRow
    place: str
    lines: tuple[Phase, ...]

    @property
    def to_neutral_v(self) -> float:
        return self.row.to_neutral.middle

    @property
    def across_v(self) -> float:
        return self.row.across.middle

    @property
    def fuse_a(self) -> float:
        return self.own.main_fuse_a

    @property
    def continuous(self) -> Value | None:
        """The factor on loads that run for hours, None where the rule has none."""
        return self.rule_figure("continuous-load-factor") if self.row.rule == "nec" else None

    @property
    def continuous_factor(self) -> float:
        return self.continuous.middle if self.continuous else 1.0

    @property
    def diverse(self) -> bool:
        """Whether the trade's diversity may be used at the main fuse: only where the table's
        rule is the country's own, since its factors are those of the IEC's family."""
        return self.row.rule == "iec" and self.row.rule_status != "assumption"

    def rule_figure(self, key: str) -> Value:
        """A figure of the rule its circuits are held to, which is that of the supply's country."""
        return reference().limit(key, self.row.region)

    def limit(self, key: str) -> Value | None:
        """A limit for the shop's place, None where the tables have none for it."""
        return reference().find_limit(key, self.place)


def mains_of(shop: Shop) -> Mains:
    """How a shop is fed."""
    own, row = shop.room.supply, reference().supply(shop.room.supply.profile)
    return Mains(own, row, shop.shop.jurisdiction, _lines(shop))


def _lines(shop: Shop) -> tuple[Phase, ...]:
    """The lines the circuits use, filled up to as many as the supply has."""
    used = {phase for circuit in shop.room.circuits.values() for phase in circuit.phases}
    spare = [line for line in _LINES if line not in used]
    missing = max(0, _COUNT[shop.room.supply.phases] - len(used))
    return tuple(line for line in _LINES if line in used or line in spare[:missing])
