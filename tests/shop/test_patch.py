"""A timetable goes into a file and leaves every other line as it was."""

from __future__ import annotations

import pytest

from generator.shop.patch import NoPatchError, with_timetable

FILE = """\
# visits of the summer
morning:
  name: Morning        # by the door
  groups: 2
  activities:
    sort: {name: Sort}
  timetable:           # agreed with the school
    # the small ones first
    - {group: 1, activity: sort, start: 09:45}   # by the window
    - {group: 2, activity: sort, start: 10:05}

  # said on the telephone
  proof: by hand
evening:
  name: Evening
  groups: 1

# the end
"""


def test_only_the_timetable_and_the_proof_change() -> None:
    rows = [(1, "sort", "10:00"), (2, "sort", "10:20")]
    assert with_timetable(FILE, "morning", rows, "best; data 0123") == FILE.replace(
        "start: 09:45", "start: 10:00"
    ).replace("start: 10:05", "start: 10:20").replace("proof: by hand", "proof: best; data 0123")


def test_a_remark_goes_with_its_line() -> None:
    made = with_timetable(FILE, "morning", [(2, "sort", "09:45"), (1, "sort", "10:05")], "best")
    assert made.splitlines()[6:10] == [
        "  timetable:           # agreed with the school",
        "    - {group: 2, activity: sort, start: 09:45}",
        "    # the small ones first",
        "    - {group: 1, activity: sort, start: 10:05}   # by the window",
    ]


def test_a_session_without_a_timetable_gets_one_at_its_end() -> None:
    made = with_timetable(FILE, "evening", [(1, "sort", "19:00")], "best")
    assert made == FILE.replace(
        "  groups: 1\n",
        "  groups: 1\n  timetable:\n    - {group: 1, activity: sort, start: 19:00}\n"
        "  proof: best\n",
    )


def test_a_file_that_ends_without_a_line_break_is_taken() -> None:
    made = with_timetable("a:\n  name: A", "a", [(1, "sort", "19:00")], "best")
    assert made.endswith("  name: A\n  timetable:\n    - {group: 1, activity: sort, start: 19:00}\n"
                         "  proof: best\n")  # fmt: skip


def test_accepting_the_same_again_changes_nothing() -> None:
    rows = [(1, "sort", "10:00"), (2, "sort", "10:20")]
    once = with_timetable(FILE, "morning", rows, "best")
    assert with_timetable(once, "morning", rows, "best") == once


def test_a_session_on_one_line_is_left_to_the_lead() -> None:
    with pytest.raises(NoPatchError, match="`a` is not written with one key a line"):
        with_timetable("a: {name: A}\n", "a", [(1, "sort", "10:00")], "best")


def test_an_empty_timetable_is_not_put_in() -> None:
    with pytest.raises(NoPatchError, match="no activities"):
        with_timetable(FILE, "morning", [], "best")
