"""Rules of air: flows that have a way to go. Whether they are enough is worked out later."""

from __future__ import annotations

from collections.abc import Iterator

from generator.ground.finding import Finding
from generator.ground.units import show
from generator.ground.wording import _
from generator.shop.draft import Draft
from generator.shop.records.room import Room


def ways_out(draft: Draft) -> Iterator[Finding]:
    """A flow to the outside is drawn through a hood or leaves by an extract point."""
    if draft.room is None:
        return
    drawn = {hood.fan for hood in draft.room.hoods.values()}
    for key, fan in draft.room.fans.items():
        if fan.discharge != "outside" or fan.extract_point or key in drawn or not fan.flow_m3h:
            continue
        says = _("It moves {flow} to the outside, with no hood at it and no extract point.").format(
            flow=show(fan.flow_m3h, "m3h")
        )
        mend = _("Name the `extract_point` it blows out by, or the fan of a hood.")
        points = list(draft.known.ids("room.extract_points"))
        right = f"extract_point: {points[0] if points else 'north-wall'}"
        path = ("fans", key, "flow")
        yield draft.place("room").finding("flow-without-hood", path, says, mend, right)


def ways_back(draft: Draft) -> Iterator[Finding]:
    """A fan that blows into the room has no extract point, where air leaves."""
    for key, fan in draft.room.fans.items() if draft.room else ():
        if fan.discharge == "outside" or fan.extract_point is None:
            continue
        says = _("Its air goes into the room, and an extract point is where air leaves.")
        mend = _("Correct `discharge`, or leave `extract_point` out.")
        path = ("fans", key, "discharge")
        yield draft.place("room").finding("air-way", path, says, mend, "discharge: outside")


def hoods_draw(draft: Draft) -> Iterator[Finding]:
    """A hood is drawn on by a fan that draws air out of it."""
    for key, hood in draft.room.hoods.items() if draft.room else ():
        fan = draft.room.fans.get(hood.fan) if draft.room else None
        if fan is None or fan.discharge != "supply":
            continue
        says = _("`{fan}` brings air into the room, so it draws nothing through a hood.").format(
            fan=hood.fan
        )
        fitting = _drawing(draft.room)
        right = f"fan: {fitting}" if fitting else ""
        path = ("hoods", key, "fan")
        mend = _("Name the fan it is connected to.")
        yield draft.place("room").finding("air-way", path, says, mend, right)


def _drawing(room: Room | None) -> str | None:
    fans = room.fans.items() if room else ()
    return next((key for key, fan in fans if fan.discharge != "supply"), None)


def measured_flows(draft: Draft) -> Iterator[Finding]:
    """A day of measurement stands with what was measured."""
    if draft.room is None:
        return
    for kind, things in (("fans", draft.room.fans), ("hoods", draft.room.hoods)):
        for key, thing in things.items():
            if thing.measured is None or thing.flow_m3h is not None:
                continue
            says = _("It was measured on a day, and no flow is written.")
            mend = _("Write the `flow` that was read, or leave `measured` out.")
            path = (kind, key, "measured")
            right = "flow: 850 m³/h"
            yield draft.place("room").finding("measured-nothing", path, says, mend, right)


RULES = (ways_out, ways_back, hoods_draw, measured_flows)
