"""What the lead must know: data faults, which stop a build, and findings, which do not."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum

from generator.ground.origin import Origin


class Severity(StrEnum):
    """How bad it is. Only ``FAULT`` keeps the handbook from being built."""

    FAULT = "fault"  # the data cannot be read as meant
    STOP = "stop"  # do not open the doors like this
    FIX = "fix"  # wrong, and mendable by the shop
    ASK = "ask"  # only a licensed or competent person can answer
    NOTE = "note"


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing found, said so that it can be acted on without looking anything up.

    ``rule`` is a stable dotted id (``data.unknown-key``, ``heat.never-heated``).
    ``subject`` is the record it is about (``machines/platen-press``) or "".
    ``says`` is one sentence with the figures in it; ``mend`` says what would mend it;
    ``example`` is a right example to copy (for data faults, else "").
    ``working`` is the id of the Working behind it, ``asks`` the function of the person
    whose question sheet it prints on (``electrician``), each "" where there is none.
    """

    rule: str
    severity: Severity
    origin: Origin
    says: str
    mend: str = ""
    example: str = ""
    subject: str = ""
    working: str = ""
    asks: str = ""


def in_file_order(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Sort by file, line and column, so that a reader can mend a file from top to bottom."""
    return tuple(sorted(findings, key=lambda f: (f.origin, f.rule, f.says)))
