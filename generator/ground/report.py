"""Findings as a terminal shows them and as another program reads them."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence
from itertools import groupby

from generator.ground.finding import Finding, Severity, in_file_order
from generator.ground.wording import N_, _, ngettext

SEVERITY_WORDS = {
    Severity.FAULT: N_("fault"),
    Severity.STOP: N_("stop"),
    Severity.FIX: N_("fix"),
    Severity.ASK: N_("ask"),
    Severity.NOTE: N_("note"),
}
_INK = {
    Severity.FAULT: "1;31",
    Severity.STOP: "1;31",
    Severity.FIX: "1;33",
    Severity.ASK: "1;35",
    Severity.NOTE: "1;36",
}
_WIDTH = 100


def severity_word(severity: Severity) -> str:
    """The severity in the current language: never told by colour alone."""
    return _(SEVERITY_WORDS[severity])


def as_terminal(findings: Sequence[Finding], colour: bool) -> str:
    """Findings in file order, a blank line between files; "" where there are none.

    Each reads ``file:line:column: word: sentence``, then what would mend it and a right
    example, indented.
    """
    by_file = groupby(in_file_order(findings), key=lambda finding: finding.origin.file)
    return "\n\n".join("\n".join(_block(f, colour) for f in found) for _file, found in by_file)


def tally(findings: Sequence[Finding]) -> str:
    """How many of each severity, worst first: ``2 faults, 1 note``; "" where there are none."""
    counts = {s: sum(f.severity is s for f in findings) for s in Severity}
    return ", ".join(_counted(severity, n) for severity, n in counts.items() if n)


def _counted(severity: Severity, n: int) -> str:
    forms = {
        Severity.FAULT: ngettext("{n} fault", "{n} faults", n),
        Severity.STOP: ngettext("{n} stop", "{n} stops", n),
        Severity.FIX: ngettext("{n} to fix", "{n} to fix", n),
        Severity.ASK: ngettext("{n} to ask", "{n} to ask", n),
        Severity.NOTE: ngettext("{n} note", "{n} notes", n),
    }
    return forms[severity].format(n=n)


def _block(finding: Finding, colour: bool) -> str:
    word = severity_word(finding.severity)
    shown = f"\x1b[{_INK[finding.severity]}m{word}\x1b[0m" if colour else word
    head = f"{_plain(str(finding.origin))}: {shown}: {_plain(finding.says)}"
    return "\n".join([head, *_mend(finding.mend), *_example(finding.example)])


def _mend(mend: str) -> list[str]:
    return textwrap.wrap(_plain(mend), _WIDTH, initial_indent="    ", subsequent_indent="    ")


def _example(example: str) -> list[str]:
    """The example keeps its lines, because in YAML the indentation is part of what is right."""
    lines = [_plain(line) for line in example.splitlines()]
    if len(lines) == 1:
        return [f"    {_('for instance:')} {lines[0]}"]
    return [f"    {_('for instance:')}", *(f"        {line}" for line in lines)] if lines else []


def _plain(text: str) -> str:
    """Nothing quoted from a file may steer the terminal."""
    return "".join(c if _is_harmless(c) else "\ufffd" for c in text.replace("\n", " "))


def _is_harmless(character: str) -> bool:
    """Narrow and unbroken spaces count as not printable, and stand in every figure we show."""
    return character.isprintable() or character in "\t\u00a0\u202f"


def as_json(findings: Sequence[Finding]) -> list[dict[str, str | int]]:
    """Findings in file order as plain records; ``line`` and ``column`` are 0 for a whole file."""
    return [_record(finding) for finding in in_file_order(findings)]


def _record(finding: Finding) -> dict[str, str | int]:
    return {
        "rule": finding.rule,
        "severity": finding.severity.value,
        "file": finding.origin.file,
        "line": finding.origin.line,
        "column": finding.origin.column,
        "says": finding.says,
        "mend": finding.mend,
        "example": finding.example,
        "subject": finding.subject,
        "working": finding.working,
        "asks": finding.asks,
    }
