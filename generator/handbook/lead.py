"""What the lead reads: everything found, worst first."""

from __future__ import annotations

from generator.ground.finding import Finding, Severity
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
        sentence=verdict(desk.findings),
        groups=[(title, rows) for title, rows in groups if rows],
    )
    return Page("findings", _("Findings"), "findings", "FI-01", body)


def verdict(found: tuple[Finding, ...]) -> str:
    """What was found, in a sentence that never says "safe"."""
    stops = sum(f.severity is Severity.STOP for f in found)
    if stops:
        return _("Do not open the doors like this: {stops} of {found} findings say stop.").format(
            stops=stops, found=len(found)
        )
    if not found:
        return _("Nothing was found by the checks made so far.")
    return _("{found} findings, none of them a stop.").format(found=len(found))
