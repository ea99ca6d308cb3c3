"""How bad each hazard is, and whether anything controls it.

The matrix is likelihood 1 to 5 times severity 1 to 5; 1 to 4 is low, 5 to 9 medium, 10 to 16
high, 17 to 25 stop. A severity of 5 is always reviewed. The bands are a convention, not a law.
"""

from __future__ import annotations

from enum import StrEnum

from generator.ground.finding import Finding, Severity
from generator.ground.survey import Survey, survey
from generator.ground.wording import _
from generator.shop.records.people import Hazard, Risk
from generator.shop.shop import Shop


class Band(StrEnum):
    """What a score means."""

    STOP = "stop"
    HIGH = "high"
    MEDIUM = "medium"
    LOW = "low"


_LEAST_SCORE = {Band.STOP: 17, Band.HIGH: 10, Band.MEDIUM: 5, Band.LOW: 1}


def score(risk: Risk) -> int:
    """Likelihood times severity, 1 to 25."""
    return risk.likelihood * risk.severity


def band(risk: Risk) -> Band:
    """The band a risk falls into."""
    return next(b for b, least in _LEAST_SCORE.items() if score(risk) >= least)


def worst_first(shop: Shop) -> tuple[Hazard, ...]:
    """The hazards as they stand with their controls, highest first, ties in file order."""
    return tuple(sorted(shop.hazards.values(), key=lambda h: (-score(h.after), -h.after.severity)))


def survey_of(shop: Shop) -> Survey:
    """Hazards that nothing controls, that got worse, or that are too high to open with."""
    found = [f for h in shop.hazards.values() for f in (*_uncontrolled(h), *_too_high(h))]
    return survey("hazards", (), found, other_checks=2 * len(shop.hazards))


def _uncontrolled(hazard: Hazard) -> list[Finding]:
    if hazard.controls:
        return []
    return [
        Finding(
            "risk.uncontrolled",
            Severity.STOP if band(hazard.before) in (Band.STOP, Band.HIGH) else Severity.FIX,
            hazard.origin,
            _("Nothing controls “{hazard}”, scored {score} of 25.").format(
                hazard=hazard.name, score=score(hazard.before)
            ),
            _("Name what keeps it from hurting somebody under controls."),
            subject=f"hazards/{hazard.id}",
        )
    ]


def _too_high(hazard: Hazard) -> list[Finding]:
    if score(hazard.after) > score(hazard.before):
        says = _("“{hazard}” scores {after} with its controls and {before} without them.")
        severity = Severity.FIX
        mend = _("Check the figures under before and after.")
    elif band(hazard.after) is Band.STOP:
        says = _("“{hazard}” still scores {after} of 25 with its controls ({before} without).")
        severity = Severity.STOP
        mend = _("Do not do it until a stronger control brings the score below 17.")
    elif band(hazard.after) is Band.HIGH and hazard.action is None:
        says = _("“{hazard}” still scores {after} of 25 with its controls ({before} without).")
        severity = Severity.FIX
        mend = _("Say under action what is still to be done, by whom and when.")
    else:
        return []
    return [
        Finding(
            "risk.too-high",
            severity,
            hazard.origin_of("after"),
            says.format(hazard=hazard.name, after=score(hazard.after), before=score(hazard.before)),
            mend,
            subject=f"hazards/{hazard.id}",
        )
    ]
