"""What the lead reads: everything found, worst first."""

from __future__ import annotations

from generator.ground.finding import Severity
from generator.ground.wording import N_, _
from generator.handbook.desk import Desk
from generator.handbook.page import Page
from generator.handbook.render import render

_GROUPS = (
    (Severity.STOP, N_("Stop: do not open the doors like this")),
    (Severity.FIX, N_("Fix: the shop can mend it")),
    (Severity.ASK, N_("Ask: only a licensed or competent person can answer")),
    (Severity.NOTE, N_("Note")),
)


def findings(desk: Desk) -> Page:
    """Every finding, grouped by severity."""
    groups = [
        (_(title), [f for f in desk.findings if f.severity is severity])
        for severity, title in _GROUPS
    ]
    body = render(
        "findings",
        "findings",
        shop=desk.shop,
        as_of=desk.as_of,
        sentence=verdict(desk),
        groups=[(title, rows) for title, rows in groups if rows],
    )
    return Page("findings", _("Findings"), "findings", "FI-01", body)


def verdict(desk: Desk) -> str:
    """What was found in how many checks, in a sentence that never says "safe"."""
    checks = sum(survey.checks for survey in desk.surveys)
    silent = sum(survey.unanswered for survey in desk.surveys)
    stops = sum(f.severity is Severity.STOP for f in desk.findings)
    counts = _("{checks} checks made, {silent} not answered").format(checks=checks, silent=silent)
    if stops:
        says = _(
            "Do not open the doors like this: {stops} of {found} findings say stop ({counts})."
        )
    elif desk.findings:
        says = _("{found} findings, none of them a stop ({counts}).")
    else:
        says = _("Nothing found ({counts}).")
    return says.format(stops=stops, found=len(desk.findings), counts=counts)
