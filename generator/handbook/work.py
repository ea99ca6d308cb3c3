"""Procedures, roles and hazards: how work is done, by whom, and what it can do to them."""

from __future__ import annotations

from collections.abc import Iterator

from generator.ground.wording import N_, _, ngettext
from generator.handbook.assessment import where
from generator.handbook.desk import Desk
from generator.handbook.links import path_of
from generator.handbook.page import Page
from generator.handbook.render import render
from generator.handbook.words import word
from generator.shop.records.people import Hazard, Procedure, Role
from generator.shop.records.refs import LADDER
from generator.shop.records.stations import Station
from generator.workings import risk
from generator.workings.onboarding import roles_before

_KINDS = (
    ("opening", N_("Opening")),
    ("run", N_("Running")),
    ("changeover", N_("Changing over")),
    ("closing", N_("Closing")),
    ("upkeep", N_("Upkeep")),
    ("bad-day", N_("Bad days")),
)


def procedures(desk: Desk) -> Iterator[Page]:
    """The list of procedures, then a page for each."""
    yield _procedure_list(desk)
    for number, procedure in enumerate(desk.shop.procedures.values(), 1):
        yield _procedure(desk, procedure, number)


def _procedure_list(desk: Desk) -> Page:
    every = list(desk.shop.procedures.values())
    groups = [(_(title), [p for p in every if p.kind == kind]) for kind, title in _KINDS]
    holds = sum(bool(step.hold) for p in every for step in p.steps)
    path = "procedures/index"
    body = render(
        "procedures",
        path,
        shop=desk.shop,
        groups=[(title, members) for title, members in groups if members],
        sentence=_("{count} procedures with {holds} hold points between them.").format(
            count=len(every), holds=holds
        ),
    )
    return Page(path, _("Procedures"), "procedures", "PR-00", body)


def _procedure(desk: Desk, procedure: Procedure, number: int) -> Page:
    shop, path = desk.shop, path_of(procedure)
    station = shop.stations[procedure.station] if procedure.station else None
    body = render(
        "procedure",
        path,
        shop=shop,
        procedure=procedure,
        station=station,
        refused=desk.refusals.procedure(procedure),
        ppe=procedure.ppe or (station.ppe if station else ()),
        needs=_needs(desk, procedure),
        machines=[shop.machines[m] for m in procedure.machines],
        polymers=[(shop.polymers[p], desk.refusals.polymer(p)) for p in procedure.polymers],
        findings=desk.findings_on(f"procedures/{procedure.id}"),
    )
    title = str(procedure.name)
    return Page(path, title, "procedure", f"PR-{number:02d}", body, procedure.origin)


def _needs(desk: Desk, procedure: Procedure) -> list[object]:
    shop = desk.shop
    return [
        *(shop.tools[t].name for t in procedure.tools),
        *(shop.consumables[c].name for c in procedure.consumables),
        *(shop.moulds[m].name for m in procedure.moulds),
    ]


def people(desk: Desk) -> Iterator[Page]:
    """The list of roles, then a page for each."""
    yield _people_list(desk)
    for number, role in enumerate(desk.shop.roles.values(), 1):
        yield _role(desk, role, number)


def _people_list(desk: Desk) -> Page:
    shop, path = desk.shop, "people/index"
    levels = [(word(level), _alone_from(desk, level)) for level in (*LADDER, "maintainer")]
    roles = list(shop.roles.values())
    body = render(
        "people",
        path,
        roles=roles,
        onboarding=[role for role in roles if _has_visits(desk, role)],
        by_level=[(title, stations) for title, stations in levels if stations],
        sentence=ngettext("{n} role.", "{n} roles.", len(roles)).format(n=len(roles))
        + " "
        + _("Competence runs from visitor to trainer; maintainer is one of its own."),
    )
    return Page(path, _("People"), "people", "PE-00", body)


def _alone_from(desk: Desk, level: str) -> list[Station]:
    return [s for s in desk.shop.stations_by_number if s.use.alone == level]


def _role(desk: Desk, role: Role, number: int) -> Page:
    shop, path = desk.shop, path_of(role)
    body = render(
        "role",
        path,
        shop=shop,
        role=role,
        after=[shop.roles[r] for r in role.after],
        onboarding=f"onboarding/{role.id}.html" if _has_visits(desk, role) else "",
        needs=[(shop.machines[c.machine], c.level) for c in role.needs],
        actions=[h for h in shop.hazards.values() if h.action and h.action.by == role.id],
        findings=desk.findings_on(f"roles/{role.id}"),
    )
    return Page(path, str(role.name), "role", f"PE-{number:02d}", body, role.origin)


def _has_visits(desk: Desk, role: Role) -> bool:
    return any(before.visits for before in roles_before(desk.shop, role))


_BANDS = (
    (risk.Band.STOP, N_("Stop")),
    (risk.Band.HIGH, N_("High")),
    (risk.Band.MEDIUM, N_("Medium")),
    (risk.Band.LOW, N_("Low")),
)


def hazards(desk: Desk) -> Page:
    """The hazard register, as the risks stand with their controls, highest first."""
    ranked = risk.worst_first(desk.shop)
    bands = [
        (_(title), [_scored(h) for h in ranked if risk.band(h.after) is band])
        for band, title in _BANDS
    ]
    body = render(
        "hazards",
        "hazards",
        shop=desk.shop,
        bands=[(title, rows) for title, rows in bands if rows],
        places=lambda h: _places(desk, h),
        where_of=lambda control: list(where(desk, control)),
        sentence=_hazard_sentence(ranked),
        findings=desk.findings_on(*(f"hazards/{h.id}" for h in ranked)),
    )
    return Page("hazards", _("Hazards"), "hazards", "HZ-00", body)


def _scored(hazard: Hazard) -> tuple[Hazard, int, int]:
    return hazard, risk.score(hazard.after), risk.score(hazard.before)


def _places(desk: Desk, hazard: Hazard) -> list[Station]:
    shop = desk.shop
    ids = {*hazard.stations, *(shop.machines[m].station for m in hazard.machines)}
    return [s for s in shop.stations_by_number if s.id in ids]


def _hazard_sentence(ranked: tuple[Hazard, ...]) -> str:
    if not ranked:
        return _("No hazards are written down yet.")
    worst = ranked[0]
    open_actions = sum(h.action is not None for h in ranked)
    return _(
        "{count} hazards; the highest now is “{worst}” at {score} of 25. {actions} have something "
        "still to be done."
    ).format(
        count=len(ranked), worst=worst.name, score=risk.score(worst.after), actions=open_actions
    )
