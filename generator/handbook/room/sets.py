"""Which machines may run together, as a table with a column for each machine."""

from __future__ import annotations

from collections.abc import Iterator

from markupsafe import Markup, escape

from generator.ground.units import show, show_number
from generator.ground.wording import _, ngettext
from generator.handbook.subjects import Section
from generator.shop.shop import Shop
from generator.workings.power.telling import named
from generator.workings.power.together import Group, Together

_MOST_ROWS = 40
"""So many choices are listed: nobody looks through more."""


def may_run(shop: Shop, sets: Together) -> Section:
    """Every largest choice of machines that no limit forbids."""
    lead = " ".join(_lead(shop, sets))
    tables = [_matrix(shop, sets, group) for group in sets.groups]
    return Section(_("What may run together"), lead, extra=Markup("").join(tables))


def _lead(shop: Shop, sets: Together) -> Iterator[str]:
    if not sets.groups and not sets.never:
        yield _("Everything may run at once.")
        return
    yield ngettext(
        "There is {n} largest choice: nothing can be added to it.",
        "There are {n} largest choices: to none of them can anything be added.",
        sets.count,
    ).format(n=sets.count)
    if not sets.complete:
        yield _("There are more than these.")
    free = [*sets.always, *(m for group in sets.groups for m in _in_all(group))]
    if free:
        yield _("Beside any of them: {names}.").format(names=_names(shop, free))
    if sets.never:
        yield _("In none, by what is known: {names}.").format(names=_names(shop, sets.never))


def _names(shop: Shop, machines: list[str] | tuple[str, ...]) -> str:
    return named([str(shop.machines[m].name) for m in machines])


def _in_all(group: Group) -> list[str]:
    return [m for m in group.machines if all(m in one for one in group.sets)]


def _matrix(shop: Shop, sets: Together, group: Group) -> Markup:
    """A row for each choice, a dot for each machine in it, and what it fills most."""
    everywhere = set(_in_all(group))
    machines = [m for m in group.machines if m not in everywhere]
    rows = sorted(group.sets, key=lambda one: (-len(one), [m not in one for m in machines]))
    head = Markup("").join(
        Markup('<th scope="col"><span>{}</span></th>').format(shop.machines[m].name)
        for m in machines
    )
    body = Markup("").join(_row(sets, one, machines) for one in rows[:_MOST_ROWS])
    return Markup(
        '<div class="scroll"><table class="sets"><thead><tr>{}<th scope="col" class="fill">{}</th>'
        "</tr></thead><tbody>{}</tbody></table></div>{}"
    ).format(head, _("Fullest"), body, _more(len(rows) - _MOST_ROWS))


def _more(count: int) -> Markup:
    if count <= 0:
        return Markup("")
    words = ngettext("{n} smaller choice is left out.", "{n} smaller choices are left out.", count)
    return Markup('<p class="small soft">{}</p>').format(words.format(n=count))


def _row(sets: Together, one: tuple[str, ...], machines: list[str]) -> Markup:
    cells = Markup("").join(_dot(m in one) for m in machines)
    fullest = sets.allowance.busiest((*one, *sets.always))
    words = ""
    if fullest:
        words = _("{limit} {has} of {most}").format(
            limit=fullest.limit.name,
            has=show_number(fullest.load_a, 1),
            most=show(fullest.limit.most_a, "a"),
        )
    return Markup('<tr>{}<td class="fill">{}</td></tr>').format(cells, escape(words))


def _dot(runs: bool) -> Markup:
    if runs:
        return Markup('<td><i class="dot" role="img" aria-label="{}"></i></td>').format(_("runs"))
    return Markup("<td></td>")
