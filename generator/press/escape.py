"""Escape plans: one for each place, a draft until a competent person has signed it off."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from generator.drawings import escape_plan
from generator.drawings.escape_plan import Brief
from generator.ground.paper import A3, Paper
from generator.ground.wording import _
from generator.press.choosing import Choosing
from generator.press.order import Order
from generator.press.sheet import Drawn, Sheet
from generator.press.signs import copy_shop
from generator.shop.records.room import EscapePlan
from generator.workings.routes import Journey
from generator.workings.signage import EscapePlanPlace

KIND = "escape-plan"

_LEAST_SHOWN = 8
"""Letters of a content hash that must be written for it to be held against."""


def sheets(order: Order) -> Iterator[Sheet]:
    """The escape plan of every place."""
    choosing = Choosing(order)
    everybody = tuple(_everybody(order))
    for plan in order.studies.signage.plans:
        yield _sheet(order, choosing, plan, everybody)


def _everybody(order: Order) -> Iterator[Journey]:
    """The way out of every side that is worked at."""
    for way in order.studies.routes.escape.ways:
        if way.nearest:
            yield way.nearest


def _sheet(
    order: Order, choosing: Choosing, plan: EscapePlanPlace, everybody: tuple[Journey, ...]
) -> Sheet:
    """The sheet, hashed without its standing: signing it off changes nothing it was signed for."""
    number = f"EP-{plan.id}"
    brief = Brief(plan, everybody, _paper(order, plan), draft=False, state="")
    plain = Drawn((escape_plan.draw(order.atlas, brief, order.foot(number)),))
    sheet = Sheet(
        id=f"escape-plan-{plan.id}",
        kind=KIND,
        number=number,
        title=_("Escape plan {place}").format(place=plan.name),
        paper=brief.paper.landscape,
        body=plain,
        language=order.language,
        about=("room", f"walls/{choosing.wall_key(plan.spot.at)}"),
        hangs=_("{place}, middle at eye level").format(place=plan.name),
        note=copy_shop(order.shop, brief.paper),
        shows=plain.content,
    )
    said = replace(brief, draft=is_draft(plan, sheet.content), state=_state(plan, sheet.content))
    return replace(sheet, body=Drawn((escape_plan.draw(order.atlas, said, order.foot(number)),)))


def _paper(order: Order, plan: EscapePlanPlace) -> Paper:
    """The least sheet of the family, A3 or larger, on which the scale is large enough."""
    large = [sheet for sheet in order.family if sheet.holds(A3)]
    fit = (s for s in large if escape_plan.scale_of(order.atlas, plan, s) is not None)
    return next(fit, large[-1])


def is_draft(plan: EscapePlanPlace, content: str) -> bool:
    """Whether nobody has signed it, or it has changed since somebody did."""
    return not plan.signed or _has_changed(plan.record, content)


def _has_changed(record: EscapePlan | None, content: str) -> bool:
    written = "".join((record.content or "").split()).lower() if record else ""
    return len(written) >= _LEAST_SHOWN and not content.startswith(written)


def _state(plan: EscapePlanPlace, content: str) -> str:
    """What the sheet says of its standing."""
    record = plan.record
    if record is None or not plan.signed or record.signed is None:
        return _("Not signed off. A competent person checks it on the spot before it is hung.")
    named = {"day": record.signed.isoformat(), "who": record.signed_by}
    if _has_changed(record, content):
        return _("Changed since {day}, when it was signed off: to be checked again.").format(
            **named
        )
    return _("On {day}, by: {who}. Inspect it whenever something is moved.").format(**named)
