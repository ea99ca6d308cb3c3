"""A station that stands where it cannot keeps the doors shut; touching is fine."""

import pytest

from generator.ground.finding import Severity
from generator.workings import floor
from tests.workings.rooms import rectangle, room, side, station

HALL = rectangle(8000, 5000)
FRONT = [side("front", 900)]


def severities(x_mm: float) -> list[tuple[str, Severity]]:
    """Of one station 800 wide at 2000 and another so far along."""
    pair = [
        station("one", 1, (2000, 2500), (800, 600), 0, FRONT),
        station("two", 2, (x_mm, 2500), (800, 600), 0, FRONT),
    ]
    found = floor.study(room(HALL, [], pair)).survey.findings
    return [(f.rule, f.severity) for f in found if f.rule in ("floor.overlap", "floor.outside")]


@pytest.mark.parametrize(
    ("x_mm", "expected"),
    [
        (2800, []),
        (2797, [("floor.overlap", Severity.FIX)]),
        (2700, [("floor.overlap", Severity.STOP)]),
        (7700, [("floor.outside", Severity.STOP)]),
        (7603, [("floor.outside", Severity.FIX)]),
    ],
)
def test_more_than_a_tape_measure_is_out_by_stops_the_shop(
    x_mm: float, expected: list[tuple[str, Severity]]
) -> None:
    assert severities(x_mm) == expected
