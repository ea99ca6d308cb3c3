"""Everything that hangs on the walls and sticks to the containers of one shop."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from itertools import groupby

from generator.ground.wording import N_, _, use
from generator.press import escape, labels, plans, signs, stations
from generator.press.order import Order
from generator.press.sheet import Sheet

KINDS: dict[str, tuple[str, Callable[[Order], Iterator[Sheet]]]] = {
    stations.KIND: (N_("Station sheets"), stations.sheets),
    labels.KIND: (N_("Labels"), labels.sheets),
    plans.KIND: (N_("Plans"), plans.sheets),
    escape.KIND: (N_("Escape plans"), escape.sheets),
    signs.KIND: (N_("Safety signs"), signs.sheets),
}
"""Each kind of sheet in the order of the print room: the title of its pack, and who makes it."""


def sheets(order: Order) -> tuple[Sheet, ...]:
    """Every sheet of a shop, kind by kind."""
    with use(order.language):
        return tuple(sheet for _title, make in KINDS.values() for sheet in make(order))


def packs(all_sheets: Sequence[Sheet]) -> dict[str, tuple[str, tuple[Sheet, ...]]]:
    """The bound packs: title and sheets of each kind."""
    return {
        kind: (_(KINDS[kind][0]), tuple(group))
        for kind, group in groupby(all_sheets, key=lambda sheet: sheet.kind)
    }
