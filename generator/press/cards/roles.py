"""Sign-off sheets: what somebody reads, is shown and does on the way into a role, to be signed."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from generator.drawings.words import word
from generator.ground.units import show
from generator.ground.wording import _
from generator.press.cards import blocks
from generator.press.cards.blocks import Block, Card, Pictures, as_sheet
from generator.press.order import Order
from generator.press.sheet import Sheet
from generator.shop.records.people import Role
from generator.shop.shop import Shop
from generator.workings.onboarding import Step, Task, path_to

KIND = "sign-off"


def sheets(order: Order) -> Iterator[Sheet]:
    """A sheet for each role that somebody is led into."""
    for number, role in enumerate(order.shop.roles.values(), 1):
        steps = [step for step in path_to(order.shop, role) if step.role.id == role.id]
        if steps:
            yield as_sheet(order, _card(order.shop, role, steps, number))


def _card(shop: Shop, role: Role, steps: Sequence[Step], number: int) -> Card:
    return Card(
        id=f"sign-off-{role.id}",
        kind=KIND,
        number=f"SO-{number:02d}",
        label=_("Sign-off sheet"),
        title=str(role.name),
        says=str(role.does),
        blocks=[_may(shop, role), *(block for step in steps for block in _visit(step))],
        pictures=Pictures(),
        about=(f"roles/{role.id}",),
        hangs=_("with the lead, in a closed folder: it bears a name once it is signed"),
    )


def _may(shop: Shop, role: Role) -> Block:
    needs = ", ".join(
        _("{machine}: {level}").format(machine=shop.machines[n.machine].name, level=word(n.level))
        for n in role.needs
    )
    age = show(role.least_age_years, "years") if role.least_age_years else ""
    renew = str(role.renew) if role.renew else ""
    before = ", ".join(str(shop.roles[id_].name) for id_ in role.after)
    return blocks.facts(
        (_("From"), age),
        (_("Signed off before as"), before),
        (_("Renewed every"), renew),
        (_("Signed off on"), needs),
    )


def _visit(step: Step) -> Iterator[Block]:
    """One visit: its tasks, its questions with their answers, and who signs."""
    title = _("Visit {n}: {title}").format(n=step.of_role, title=step.visit.title)
    yield blocks.ticks(title, ((_task(task), "") for task in step.tasks))
    if step.questions:
        yield blocks.ticks(_("Asked afterwards"), ((q.ask, q.answer) for q in step.questions))
    yield blocks.blanks(
        _("signed off as {level}, by (function)").format(level=word(step.visit.signs_off)),
        _("date"),
        _("initials of both"),
    )


def _task(task: Task) -> str:
    says = {"read": _("Read: {what}"), "shown": _("Was shown: {what}"), "do": _("Did: {what}")}
    return says[task.kind].format(what=task.what)
