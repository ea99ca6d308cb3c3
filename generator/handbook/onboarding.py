"""A page for a phone for each role: its visits in order, with ticks that stay on the device."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from generator.ground.units import show
from generator.ground.wording import N_, _, ngettext
from generator.handbook.desk import Desk
from generator.handbook.page import Page
from generator.handbook.render import render
from generator.shop.records.people import Role
from generator.workings.onboarding import Step, path_to, roles_before

_PARTS = (
    ("read", N_("Read")),
    ("shown", N_("Be shown")),
    ("do", N_("Do, with somebody watching")),
)


def path_for(role: str) -> str:
    """Path of a role's page of visits."""
    return f"onboarding/{role}"


def pages(desk: Desk) -> Iterator[Page]:
    """A page for each role with visits on the way to it."""
    for number, role in enumerate(desk.shop.roles.values(), 1):
        steps = path_to(desk.shop, role)
        if steps:
            yield _page(desk, role, steps, number)


def _page(desk: Desk, role: Role, steps: Sequence[Step], number: int) -> Page:
    path = path_for(role.id)
    body = render(
        "onboarding",
        path,
        shop=desk.shop,
        role=role,
        before=roles_before(desk.shop, role)[:-1],
        steps=steps,
        parts_of=_parts_of,
        sentence=_sentence(role, steps),
        tasks=sum(len(step.tasks) for step in steps),
    )
    title = _("Becoming a {role}").format(role=str(role.name).lower())
    return Page(path, title, "onboarding", f"PE-{number:02d}.V", body, role.origin)


def _parts_of(step: Step) -> list[tuple[str, list[object]]]:
    """A visit's tasks under what is done with them."""
    groups = [(_(title), [t for t in step.tasks if t.kind == kind]) for kind, title in _PARTS]
    return [(title, list(tasks)) for title, tasks in groups if tasks]


def _sentence(role: Role, steps: Sequence[Step]) -> str:
    minutes = sum(step.visit.takes_min for step in steps)
    said = ngettext(
        "{n} visit, about {time} in all.", "{n} visits, about {time} in all.", len(steps)
    ).format(n=len(steps), time=show(minutes / 60, "h", 0))
    if role.least_age_years:
        said += " " + _("From {age} years.").format(age=f"{role.least_age_years:g}")
    return said
