"""The register of hazards as one risk assessment, to be printed for an insurer or an authority."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass

from generator.drawings import matrix
from generator.ground.wording import _, ngettext
from generator.handbook.desk import Desk
from generator.handbook.links import path_of, way_up
from generator.handbook.page import Page
from generator.handbook.render import render
from generator.handbook.running import chart
from generator.shop.records.people import Control, Hazard
from generator.workings import risk
from generator.workings.falling_due import next_due
from generator.workings.signage.names import sign_name
from generator.workings.stage import waits_for

PATH = "assessment"
_ON_THE_FLOOR = "room/floor.html"
_SIGNS = "room/signs.html"


@dataclass(frozen=True, slots=True)
class Where:
    """Where a control is: its name, and the page it stands on below the site's root or ""."""

    name: str
    address: str


def page(desk: Desk) -> Page:
    """Every hazard, highest first, with what holds it and what is still to be done."""
    ranked = risk.worst_first(desk.shop)
    review = {h.id: next_due(h.reviewed, h.review_every) for h in ranked}
    counts = Counter((h.after.likelihood, h.after.severity) for h in ranked)
    axes = (_("severity"), _("likelihood"))
    body = render(
        "assessment",
        PATH,
        shop=desk.shop,
        as_of=desk.as_of,
        sentence=_sentence(desk, ranked),
        picture=chart(matrix.draw(counts, _("Hazards as they are now"), axes), "matrix"),
        rows=ranked,
        score=risk.score,
        by_hierarchy=risk.by_hierarchy,
        where_of=lambda control: list(where(desk, control)),
        places=lambda hazard: _places(desk, hazard),
        review=review,
        changed=_changed(desk),
        findings=desk.of_survey(risk.survey_of(desk.shop, desk.as_of)),
        role=desk.shop.roles[desk.shop.shop.safety_role] if desk.shop.shop.safety_role else None,
        up=way_up(PATH),
    )
    return Page(PATH, _("Risk assessment"), "assessment", "HZ-01", body)


def _changed(desk: Desk) -> dict[str, list[str]]:
    """What happened to machines since a hazard was gone through, by the hazard's id."""
    told: dict[str, list[str]] = {}
    for finding in risk.survey_of(desk.shop, desk.as_of).findings:
        if finding.rule == "risk.changed-since":
            told.setdefault(finding.subject.rpartition("/")[2], []).append(finding.says)
    return told


def _sentence(desk: Desk, ranked: tuple[Hazard, ...]) -> str:
    if not ranked:
        return _("No hazards are written down yet.")
    found = risk.survey_of(desk.shop, desk.as_of).findings
    late = {f.subject for f in found if f.rule in risk.TO_REVIEW}
    high = sum(risk.band(h.after) in (risk.Band.HIGH, risk.Band.STOP) for h in ranked)
    return ngettext(
        "{n} hazard; {high} still high with its controls, {open} with something to be done, "
        "{late} to be reviewed.",
        "{n} hazards; {high} still high with their controls, {open} with something to be done, "
        "{late} to be reviewed.",
        len(ranked),
    ).format(
        n=len(ranked), high=high, open=sum(h.action is not None for h in ranked), late=len(late)
    )


def where(desk: Desk, control: Control) -> Iterator[Where]:
    """Where a control is met: the sheet, the equipment, the sign or the machine."""
    shop = desk.shop
    if control.procedure:
        procedure = shop.procedures[control.procedure]
        yield Where(str(procedure.name), f"{path_of(procedure)}.html")
    if control.machine:
        machine = shop.machines[control.machine]
        yield Where(str(machine.name), f"{path_of(machine)}.html")
    if control.hood:
        hood = shop.room.hoods[control.hood]
        yield Where(str(hood.name), f"{path_of(shop.stations[hood.station])}.html")
    if control.equipment:
        yield Where(str(shop.room.equipment[control.equipment].name), _ON_THE_FLOOR)
    if control.sign:
        yield Where(f"{control.sign} {sign_name(control.sign)}", _SIGNS)


def _places(desk: Desk, hazard: Hazard) -> str:
    """Machines and stations it is met at, in words; a machine that waits for a stage says so."""
    shop = desk.shop
    names = [f"{shop.stations[s].number} {shop.stations[s].name}" for s in hazard.stations]
    for machine in (shop.machines[m] for m in hazard.machines):
        stage = waits_for(shop, machine)
        later = _(" (stage {n})").format(n=stage.order) if stage else ""
        names.append(f"{machine.name}{later}")
    return ", ".join(names)
