"""What the lead reads: everything found, worst first."""

from __future__ import annotations

from collections.abc import Iterator

from generator.ground.finding import Severity
from generator.ground.wording import N_, _
from generator.handbook import costs, leaving, storage
from generator.handbook.desk import Desk
from generator.handbook.page import Page
from generator.handbook.render import render
from generator.handbook.week import WEEK

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
        ways=list(_ways(desk)),
        groups=[(title, rows) for title, rows in groups if rows],
    )
    return Page("findings", _("Findings"), "findings", "FI-01", body)


def _ways(desk: Desk) -> Iterator[tuple[str, str, str]]:
    """What the lead looks at in an ordinary week: title, the answer, and its page."""
    found, shop = desk.studies.material, desk.shop
    yield _("This week"), found.flow.says, WEEK
    yield _("Storage and labels"), storage.says(desk), storage.STORAGE
    yield _("Costs"), costs.says(shop, found.costs), costs.COSTS
    yield _("Out of the door"), leaving.says(shop, found.waste), leaving.LEAVING


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
