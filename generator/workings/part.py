"""What one part of a subject's checks came to, before they are put together."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from generator.ground.finding import Finding
from generator.ground.survey import Survey, survey
from generator.ground.working import Working


@dataclass(frozen=True, slots=True)
class Part:
    """Workings and findings, with how many checks left no working and how many no answer."""

    workings: tuple[Working, ...] = ()
    findings: tuple[Finding, ...] = ()
    checks: int = 0
    unanswered: int = 0


def together(subject: str, parts: Iterable[Part]) -> Survey:
    """One survey of some parts."""
    every = tuple(parts)
    return survey(
        subject,
        [working for part in every for working in part.workings],
        [finding for part in every for finding in part.findings],
        other_checks=sum(part.checks for part in every),
        other_unanswered=sum(part.unanswered for part in every),
    )
