"""The same facts for other programs: the shop, what was found, and the schema of both."""

from __future__ import annotations

import dataclasses
import datetime as dt
import json
from collections.abc import Iterator
from typing import Any

from generator.ground import units
from generator.ground.origin import Origin
from generator.ground.report import as_json
from generator.ground.wording import Text, current_language
from generator.handbook.desk import Desk
from generator.handbook.page import Asset
from generator.shop.fields import Record
from generator.shop.records.machines import Machine
from generator.shop.records.material import Blend, Polymer
from generator.shop.records.people import Procedure
from generator.shop.schema import data_schema

_VERSION = 1
"""Raised when a reader of the files would have to change."""


def assets(desk: Desk) -> Iterator[Asset]:
    """``data/shop.json``, ``data/findings.json`` and the schema of the first."""
    head = {"format": _VERSION, "as_of": desk.as_of.isoformat(), "language": current_language()}
    yield _file("data/shop.json", {**head, "shop": _with_refusals(desk)})
    yield _file("data/findings.json", {**head, "findings": as_json(desk.findings)})
    yield _file("data/shop.schema.json", {**head, "shop": data_schema()})


def _file(path: str, content: object) -> Asset:
    text = json.dumps(content, ensure_ascii=False, separators=(",", ":"))
    return Asset(path, (text + "\n").encode())


def _with_refusals(desk: Desk) -> Any:
    """The shop as plain data, in which nothing that is never heated has a setting."""
    return _plain(desk.shop, desk)


def _plain(value: Any, desk: Desk) -> Any:
    if isinstance(value, Record):
        return _record(value, desk)
    if isinstance(value, dict):
        return {key: _plain(item, desk) for key, item in value.items()}
    if isinstance(value, tuple | list):
        return [_plain(item, desk) for item in value]
    return _scalar(value, desk)


def _scalar(value: Any, desk: Desk) -> Any:
    if isinstance(value, Text):
        return {code: value.in_language(code) for code in value.languages} or str(value)
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        return _dataclass(value, desk)
    if isinstance(value, dt.date | dt.time):
        return value.isoformat()
    return value


def _dataclass(value: Any, desk: Desk) -> Any:
    if isinstance(value, Origin | units.Period):
        return str(value)
    fields = [f.name for f in dataclasses.fields(value) if f.metadata.get("published", True)]
    return {name: _plain(getattr(value, name), desk) for name in fields}


def _record(record: Record, desk: Desk) -> dict[str, Any]:
    fields = {name: getattr(record, name) for name in type(record).model_fields}
    plain = {"written_at": str(record.origin)}
    plain |= {name: _plain(value, desk) for name, value in fields.items() if value is not None}
    return plain | _refusal(record, desk, plain)


def _refusal(record: Record, desk: Desk, plain: dict[str, Any]) -> dict[str, Any]:
    refusals = desk.refusals
    if isinstance(record, Polymer):
        reason = refusals.polymer(record.id)
        return {**_refused(reason), "own": {}} if reason else {}
    if isinstance(record, Procedure):
        return _refused(*refusals.procedure(record))
    if isinstance(record, Blend):
        reasons = refusals.blend(record)
        return {**_refused(*reasons), "parts": []} if reasons else {}
    if isinstance(record, Machine):
        return {"settings": [_setting(record, i, plain, desk) for i in range(len(record.settings))]}
    return {}


def _refused(*reasons: str) -> dict[str, Any]:
    said = " ".join(reason for reason in reasons if reason)
    return {"refused": said} if said else {}


def _setting(machine: Machine, index: int, plain: dict[str, Any], desk: Desk) -> Any:
    setting = machine.settings[index]
    if reason := desk.refusals.setting(machine, setting):
        return {"polymer": setting.polymer, "refused": reason}
    return plain["settings"][index]
