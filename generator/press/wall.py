"""Everything that hangs on the walls and sticks to the containers of one shop."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from generator.ground.wording import N_, use
from generator.press import escape, hanging, labels, plans, signs, stations
from generator.press.cards import (
    checks,
    donor,
    groups,
    jobs,
    machines,
    recipes,
    roles,
    tags,
)
from generator.press.order import Order
from generator.press.sheet import Sheet

KINDS: dict[str, tuple[str, Callable[[Order], Iterator[Sheet]]]] = {
    stations.KIND: (N_("Station sheets"), stations.sheets),
    jobs.BAD_DAY: (N_("Bad days"), jobs.bad_days),
    donor.KIND: (N_("For donors"), donor.sheets),
    checks.KIND: (N_("Check sheets"), checks.sheets),
    machines.KIND: (N_("Machine cards"), machines.sheets),
    jobs.PROCEDURE: (N_("Procedure cards"), jobs.procedures),
    roles.KIND: (N_("Sign-off sheets"), roles.sheets),
    groups.KIND: (N_("Group cards"), groups.sheets),
    recipes.KIND: (N_("Recipe cards"), recipes.sheets),
    tags.KIND: (N_("Price tags"), tags.sheets),
    labels.KIND: (N_("Labels"), labels.sheets),
    plans.KIND: (N_("Plans"), plans.sheets),
    hanging.KIND: (N_("Hang-list"), hanging.sheets),
    escape.KIND: (N_("Escape plans"), escape.sheets),
    signs.KIND: (N_("Safety signs"), signs.sheets),
}
"""Each kind of sheet in the order of the print room: the title of its pack, and who makes it."""

WITHOUT_LOGS = frozenset({
    stations.KIND, jobs.BAD_DAY, jobs.PROCEDURE, machines.KIND, roles.KIND, groups.KIND,
    recipes.KIND, tags.KIND, plans.KIND, hanging.KIND, escape.KIND, signs.KIND,
})  # fmt: skip
"""Kinds that show nothing of what is logged: a weigh-in changes none of their sheets.

A test empties the logs and holds them to it. A kind that is not named here is drawn anew after
every row."""


def sheets(order: Order) -> tuple[Sheet, ...]:
    """Every sheet of a shop, kind by kind."""
    with use(order.language):
        return tuple(sheet for _title, make in KINDS.values() for sheet in make(order))
