from __future__ import annotations

import json

import pytest

from generator.ground.finding import Finding, Severity
from generator.ground.origin import Origin
from generator.ground.report import as_json, as_terminal, severity_word, tally
from generator.ground.wording import use

UNIT = Finding(
    "data.unit", Severity.FAULT, Origin("stations.yml", 12, 10), "`750` has no unit.",
    "Write the unit behind the number.", "width: 750 mm", "stations/band-saw",
)  # fmt: skip
KEY = Finding("data.key", Severity.FAULT, Origin("machines.yml", 3, 1), "No key.", "", "a:\n  b: 1")
AIR = Finding(
    "air.extract", Severity.STOP, Origin("stations.yml", 2), "No air is drawn off.",
    working="air/extract", asks="ventilation engineer",
)  # fmt: skip


def test_findings_are_shown_in_file_order_with_what_mends_them() -> None:
    assert as_terminal([UNIT, AIR, KEY], colour=False) == (
        "machines.yml:3:1: fault: No key.\n"
        "    for instance:\n"
        "        a:\n"
        "          b: 1\n"
        "\n"
        "stations.yml:2: stop: No air is drawn off.\n"
        "stations.yml:12:10: fault: `750` has no unit.\n"
        "    Write the unit behind the number.\n"
        "    for instance: width: 750 mm"
    )


def test_nothing_found_shows_nothing() -> None:
    assert as_terminal([], colour=True) == ""
    assert as_json([]) == []
    assert tally([]) == ""


@pytest.mark.parametrize("severity", list(Severity))
@pytest.mark.parametrize("colour", [True, False])
def test_the_severity_is_always_a_word(severity: Severity, colour: bool) -> None:
    shown = as_terminal([Finding("a.b", severity, Origin("a.yml"), "Says.")], colour)
    assert severity_word(severity) in shown
    assert ("\x1b[" in shown) == colour


def test_a_long_sentence_of_advice_is_broken() -> None:
    finding = Finding("a.b", Severity.FIX, Origin("a.yml"), "Says.", "word " * 60)
    assert max(len(line) for line in as_terminal([finding], False).splitlines()) <= 100


def test_nothing_quoted_from_a_file_steers_the_terminal() -> None:
    finding = Finding(
        "a.b", Severity.FIX, Origin("a\x1b[2J.yml"), "\x1b]0;x\x07", "\x9b", "\x1b[31m"
    )
    assert not set(as_terminal([finding], False)) & {"\x1b", "\x07", "\x9b"}


def test_counts_go_from_worst_to_least() -> None:
    assert tally([AIR, UNIT, KEY]) == "2 faults, 1 stop"
    assert tally([UNIT]) == "1 fault"


def test_another_program_reads_the_same_facts() -> None:
    records = json.loads(json.dumps(as_json([UNIT, AIR])))
    assert records == [
        {
            "rule": "air.extract", "severity": "stop", "file": "stations.yml", "line": 2,
            "column": 0, "says": "No air is drawn off.", "mend": "", "example": "", "subject": "",
            "working": "air/extract", "asks": "ventilation engineer",
        },
        {
            "rule": "data.unit", "severity": "fault", "file": "stations.yml", "line": 12,
            "column": 10, "says": "`750` has no unit.",
            "mend": "Write the unit behind the number.", "example": "width: 750 mm",
            "subject": "stations/band-saw", "working": "", "asks": "",
        },
    ]  # fmt: skip


def test_the_severity_speaks_the_current_language() -> None:
    with use("pseudo"):
        assert severity_word(Severity.FAULT) != "fault"
