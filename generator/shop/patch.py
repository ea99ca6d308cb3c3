"""A timetable put into a session's YAML, with everything else left as it stands.

Only whole lines of ``timetable`` and ``proof`` are changed. A remark behind a line of the old
timetable, or above it, goes with its group and activity to the new one.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

import yaml

from generator.ground.wording import _

Row = tuple[int, str, str]
"""Group, activity and start as a clock shows it."""


class NoPatchError(ValueError):
    """The file is written in a way that lines cannot be put into; the message says which."""


@dataclass(frozen=True, slots=True)
class _Entry:
    """A key of the session: its line, and the last line of its value (both from 0)."""

    first: int
    last: int


def with_timetable(text: str, session: str, rows: Sequence[Row], proof: str) -> str:
    """The text of a file with a session's timetable and proof replaced, or put in.

    Parameters
    ----------
    text
        The file as it stands: a mapping of sessions by id.
    session
        Whose timetable it is.
    rows
        The new timetable, in the order it is to stand.
    proof
        What the proposal says of itself, on one line.

    Raises
    ------
    NoPatchError
        If the session is not written as one key a line, or there are no rows.
    """
    if not rows:
        raise NoPatchError(_("There are no activities to put in a timetable."))
    record = _record(text, session)
    lines = text.splitlines(keepends=True)
    if lines and not lines[-1].endswith("\n"):
        lines[-1] += "\n"
    entries = {key.value: _Entry(key.start_mark.line, _last(value)) for key, value in record.value}
    indent = " " * record.value[0][0].start_mark.column
    new = {
        "timetable": _timetable(lines, entries.get("timetable"), rows, indent),
        "proof": [f"{indent}proof: {proof}\n"],
    }
    return "".join(_put(lines, entries, new))


def _record(text: str, session: str) -> yaml.MappingNode:
    root = yaml.compose(text, Loader=yaml.SafeLoader)
    pairs = root.value if isinstance(root, yaml.MappingNode) else []
    for key, value in pairs:
        if key.value == session and isinstance(value, yaml.MappingNode):
            if value.flow_style or not value.value:
                break
            return value
    says = _("`{session}` is not written with one key a line; put the timetable in by hand.")
    raise NoPatchError(says.format(session=session))


def _last(node: yaml.Node) -> int:
    """The last line that something of a value stands on; a block's own end is past its remarks."""
    if isinstance(node, yaml.MappingNode) and not node.flow_style:
        return max((_last(value) for _key, value in node.value), default=node.start_mark.line)
    if isinstance(node, yaml.SequenceNode) and not node.flow_style:
        return max((_last(value) for value in node.value), default=node.start_mark.line)
    ends_before = node.end_mark.column == 0 and node.end_mark.line > node.start_mark.line
    return node.end_mark.line - ends_before


def _put(
    lines: list[str], entries: Mapping[str, _Entry], new: Mapping[str, list[str]]
) -> Iterable[str]:
    """The lines with each new block in the place of its old, else at the record's end."""
    put = list(lines)
    end = max(entry.last for entry in entries.values()) + 1
    missing = [line for key, block in new.items() if key not in entries for line in block]
    put[end:end] = missing
    present = sorted((key for key in new if key in entries), key=lambda k: -entries[k].first)
    for key in present:
        entry = entries[key]
        put[entry.first : entry.last + 1] = new[key]
    return put


_ROW = re.compile(
    r"\s*- \{group: *(?P<group>\d+), *activity: *(?P<activity>[a-z0-9-]+),[^}]*\}(?P<remark>.*)"
)


def _timetable(
    lines: Sequence[str], old: _Entry | None, rows: Sequence[Row], indent: str
) -> list[str]:
    heading = f"{indent}timetable:\n"
    above: _Remarks = {}
    behind: dict[tuple[int, str], str] = {}
    if old is not None:
        remark = re.match(r"\s*timetable:(\s+#.*)?$", lines[old.first])
        heading = f"{indent}timetable:{(remark and remark[1]) or ''}".rstrip() + "\n"
        above, behind = _remarks(lines[old.first + 1 : old.last + 1])
    made = [heading]
    for group, activity, start in rows:
        made += above.get((group, activity), [])
        row = f"{{group: {group}, activity: {activity}, start: {start}}}"
        made.append(f"{indent}  - {row}{behind.get((group, activity), '')}\n")
    return made


_Remarks = dict[tuple[int, str], list[str]]


def _remarks(old: Iterable[str]) -> tuple[_Remarks, dict[tuple[int, str], str]]:
    """The remarks above and behind each line of a timetable, by its group and activity."""
    above: _Remarks = {}
    behind: dict[tuple[int, str], str] = {}
    waiting: list[str] = []
    for line in old:
        row = _ROW.match(line)
        if row:
            key = (int(row["group"]), row["activity"])
            above[key], waiting = waiting, []
            behind[key] = row["remark"].rstrip()
        elif line.lstrip().startswith("#"):
            waiting.append(line)
    return above, behind
