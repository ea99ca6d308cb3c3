"""Sessions as files: the same minutes for other programs, with a schema, and for calendars."""

from __future__ import annotations

import dataclasses
import json
from collections.abc import Iterator, Mapping
from typing import Any

from generator.ground.wording import current_language
from generator.handbook import session_dates, sessions
from generator.handbook.desk import Desk
from generator.handbook.page import Asset
from generator.shop.shop import Shop
from generator.workings.sessions import SessionStudy, Span, clock
from generator.workings.sessions.runsheet import RunLine, run_sheet

PATH = "data/sessions.json"
SCHEMA_PATH = "data/sessions.schema.json"
_VERSION = 1
"""Raised when a reader of the file would have to change."""


def assets(desk: Desk) -> Iterator[Asset]:
    """The data and their schema, calendars, rotations for the wall, and boards."""
    studies = desk.studies.sessions.sessions.values()
    data = {
        "format": _VERSION,
        "as_of": desk.as_of.isoformat(),
        "language": current_language(),
        "sessions": {s.session.id: told(desk.shop, s) for s in studies},
    }
    yield _file(PATH, data)
    yield _file(SCHEMA_PATH, schema())
    for study in studies:
        if study.slots:
            yield session_dates.asset(desk, study)
    yield from sessions.assets(desk)


def _file(path: str, content: object) -> Asset:
    text = json.dumps(content, ensure_ascii=False, separators=(",", ":"))
    return Asset(path, (text + "\n").encode())


# --- the data ----------------------------------------------------------------------------------


def told(shop: Shop, study: SessionStudy) -> dict[str, Any]:
    """A session as plain data. Times are minutes after midnight of its day, and may be below 0."""
    session = study.session
    return {
        "name": str(session.name),
        "for": str(session.for_),
        "day": session.day.isoformat() if session.day else None,
        "weekday": session.weekday,
        "hash": study.hash,
        "arrival": _span(study.arrival),
        "tidy": _span(study.tidy),
        "breaks": [_span(b) for b in study.breaks],
        "finish": study.finish_min,
        "groups": [
            {"group": g.number, "learners": g.size, "waits": g.wait_min} for g in study.groups
        ],
        "activities": {
            id_: {"name": str(a.name), "station": a.station, "learners": a.learners}
            for id_, a in session.activities.items()
        },
        "timetable": [
            {
                "group": slot.group,
                "activity": slot.activity_id,
                "start": slot.start_min,
                "end": slot.end_min,
                "walk": slot.walk_min,
                "after": [list(wait) for wait in study.follows[place]],
            }
            for place, slot in enumerate(study.slots)
        ],
        "switching": [_plain(s) for s in study.switching],
        "hot": [_plain(s) for s in study.hot_stands],
        "run_sheet": [_line(line) for line in run_sheet(study, shop)],
        "checks": [_plain(check) for check in study.checks],
        "needs": _plain(study.needs),
        "made": [_plain(part) for part in study.made],
        "energy_kwh": study.energy_kwh,
        "clashes": [
            {"demand": c.demand, "minute": c.minute, "severity": str(c.severity), "says": c.says,
             "mend": c.mend.says if c.mend else ""}
            for c in study.clashes
        ],
        "proof": _plain(study.proof) if study.proof else None,
    }  # fmt: skip


def _span(span: Span) -> list[int]:
    return [span.start_min, span.end_min]


def _line(line: RunLine) -> dict[str, Any]:
    return {
        "minute": line.minute,
        "time": clock(line.minute),
        "kind": line.kind,
        "says": line.says,
        "machine": line.machine or None,
        "groups": [slot.group for slot in line.moves],
    }


def _plain(value: Any) -> Any:
    """A result as JSON holds it: a field's unit stays in its name."""
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        return {f.name: _plain(getattr(value, f.name)) for f in dataclasses.fields(value)}
    return [_plain(entry) for entry in value] if isinstance(value, tuple) else value


# --- its schema --------------------------------------------------------------------------------

_TEXT = {"type": "string"}
_COUNT = {"type": "integer", "minimum": 0}
_MINUTE = {"type": "integer", "description": "Minutes after midnight; below 0 on the day before."}
_MAYBE_MINUTE = {**_MINUTE, "type": ["integer", "null"]}
_SPAN = {
    "type": "array",
    "items": _MINUTE,
    "minItems": 2,
    "maxItems": 2,
    "description": "From when to when.",
}


def _object(says: str, fields: Mapping[str, object]) -> dict[str, Any]:
    return {
        "type": "object",
        "description": says,
        "properties": dict(fields),
        "required": list(fields),
        "additionalProperties": False,
    }


def _list(items: object) -> dict[str, Any]:
    return {"type": "array", "items": items}


def _maybe(kind: str, says: str = "") -> dict[str, Any]:
    return {"type": [kind, "null"], **({"description": says} if says else {})}


def schema() -> dict[str, Any]:
    """The JSON Schema of the file of sessions."""
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "Sessions",
        **_object(
            "Every session of the shop, minute by minute.",
            {
                "format": {"const": _VERSION, "description": "Raised when a reader must change."},
                "as_of": {**_TEXT, "description": "The date the data were told against."},
                "language": _TEXT,
                "sessions": {"type": "object", "additionalProperties": _session_schema()},
            },
        ),
    }


def _session_schema() -> dict[str, Any]:
    return _object(
        "One session, by its id in sessions.yml.",
        {
            "name": _TEXT,
            "for": _TEXT,
            "day": _maybe("string", "The day it is held on, where it is held once."),
            "weekday": _maybe("string"),
            "hash": {**_TEXT, "description": "Of what the timetable depends on, itself included."},
            "arrival": _SPAN,
            "tidy": _SPAN,
            "breaks": _list(_SPAN),
            "finish": {**_MAYBE_MINUTE, "description": "When the last activity ends."},
            "groups": _list(_GROUP),
            "activities": {"type": "object", "additionalProperties": _ACTIVITY},
            "timetable": _list(_SLOT),
            "switching": _list(_SWITCHING),
            "hot": _list(_HOT),
            "run_sheet": _list(_RUN_LINE),
            "checks": _list(_CHECK),
            "needs": {"type": "object", "description": "What to have ready, with counts and kg."},
            "made": _list({"type": "object", "description": "Pieces of a product, in shots."}),
            "energy_kwh": _maybe("number", "Electricity the session's machines take [kWh]."),
            "clashes": _list(_CLASH),
            "proof": _maybe("object", "What a proposal said of itself."),
        },
    )


_GROUP = _object("A group.", {"group": _COUNT, "learners": _COUNT, "waits": _COUNT})
_ACTIVITY = _object(
    "An activity.", {"name": _TEXT, "station": _TEXT, "learners": {"enum": ["do", "watch"]}}
)
_SLOT = _object(
    "A group at an activity.",
    {
        "group": _COUNT,
        "activity": _TEXT,
        "start": _MINUTE,
        "end": _MINUTE,
        "walk": {**_COUNT, "description": "Minutes its walk there takes."},
        "after": {
            **_list({"type": "array", "items": _COUNT, "minItems": 2, "maxItems": 2}),
            "description": "Places in this list that must be over first, with minutes between.",
        },
    },
)
_SWITCHING = _object(
    "When a machine that warms plastic is switched.",
    {
        "machine": _TEXT,
        "on_min": _MINUTE,
        "hot_min": _MINUTE,
        "ready_min": _MINUTE,
        "last_use_min": _MINUTE,
        "off_min": _MINUTE,
        "cool_min": _MINUTE,
    },
)
_HOT = _object(
    "A time in which plastic stands hot between two uses.",
    {
        "machine": _TEXT,
        "polymer": _maybe("string"),
        "span": _object("From when to when.", {"start_min": _MINUTE, "end_min": _MINUTE}),
        "longest_min": _maybe("integer", "How long it may; null where nobody knows [min]."),
    },
)
_RUN_LINE = _object(
    "A line of the run sheet.",
    {
        "minute": _MINUTE,
        "time": {**_TEXT, "pattern": "^[0-2][0-9]:[0-5][0-9]$"},
        "kind": {
            "enum": [
                "on", "hot", "doors", "ready", "move", "break", "purge", "off", "tidy", "end",
                "cold",
            ]
        },
        "says": _TEXT,
        "machine": _maybe("string"),
        "groups": _list(_COUNT),
    },
)  # fmt: skip
_CHECK = _object(
    "Something ticked before the doors open or a machine heats up.",
    {
        "id": _TEXT,
        "before": {"enum": ["doors", "heat"]},
        "says": _TEXT,
        "by_min": _MINUTE,
        "machine": _TEXT,
    },
)
_CLASH = _object(
    "Two things that cannot both be.",
    {"demand": _TEXT, "minute": _MAYBE_MINUTE, "severity": _TEXT, "says": _TEXT, "mend": _TEXT},
)
