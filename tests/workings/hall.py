"""A hall of 12 by 8 m, 3.5 m high (96 m², 336 m³), for tests: it holds what a test is about."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from generator.ground.finding import Finding, Severity
from generator.ground.working import Working
from generator.shop.shop import Shop

Data = dict[str, Any]

AREA_M2, VOLUME_M3 = 96.0, 336.0
POINT = {"north": {"at": "6 m, 8 m", "height": "3 m", "diameter": "250 mm"}}


def station(number: int = 1, at: str = "6000, 4000 mm", zone: str = "hot", **more: Any) -> Data:
    """A station 1 m square that somebody authorised works at from its front."""
    return {
        "number": number, "name": f"Place {number}", "purpose": "It stands there", "zone": zone,
        "at": at, "size": "1000 x 1000 mm", "use": {"alone": "authorised"},
        "working_sides": [{"side": "front", "depth": "1 m"}], **more,
    }  # fmt: skip


def machine(kind: str = "platen-press", station: str = "bench", **more: Any) -> Data:
    """A machine with nothing written but what it is."""
    return {"name": kind, "kind": kind, "station": station, **more}


def fan(discharge: str = "outside", flow: str | None = None, **more: Any) -> Data:
    """A fan; measured unless told otherwise where it has a flow."""
    data = {"name": "Fan", "discharge": discharge, **more}
    if discharge == "outside":
        data.setdefault("extract_point", "north")
    if flow is not None:
        data = {"measured": "2026-03-02", **data, "flow": flow}
    return {key: value for key, value in data.items() if value is not None}


def hood(form: str = "plain", opening: str = "300 x 200 mm", **more: Any) -> Data:
    """A hood 250 mm from the source at the one station, on the one fan."""
    return {
        "name": "Hood", "station": "bench", "form": form, "opening": opening,
        "distance": "250 mm", "fan": "fan", **more,
    }  # fmt: skip


def hall(*, place: str = "EU", room: Data | None = None, people: int = 8, **nouns: Any) -> Shop:
    """A shop in the hall; ``stations``, ``machines`` and other nouns as data."""
    whole = {
        "name": "Hall",
        "outline": ["0, 0 mm", "12 m, 0 m", "12 m, 8 m", "0 m, 8 m"],
        "ceiling": "3500 mm",
        "doors": {"door": _DOOR},
        "zones": {
            "hot": {"name": "Hot", "kind": "hot", "visitors": False},
            "front": {"name": "Front", "kind": "public", "visitors": True},
            "saws": {"name": "Saws", "kind": "finishing", "visitors": False},
            "store": {"name": "Store", "kind": "store", "visitors": False},
        },
        "supply": {
            "profile": "EU-230-400", "main_fuse": "40 A", "phases": "three", "panel": "0, 1 m",
        },
        "extract_points": POINT,
        "assembly": {"name": "Oak", "distance": "30 m", "from": "Out and left"},
        **(room or {}),
    }  # fmt: skip
    weekly = [{"day": "monday", "from": "16:00", "to": "20:00", "what": "Open"}]
    data = {
        "shop": {**_IDENTITY, "jurisdiction": place, "most_people": people},
        "room": whole,
        "hours": {"weekly": weekly},
        "stations": {"bench": station()},
        "roles": {"keeper": {"name": "Keeper", "does": "Opens", "least_age": "18 years"}},
        **nouns,
    }
    return Shop.model_validate(data)


_DOOR = {
    "name": "Door", "hinge": "1 m, 0 m", "latch": "2 m, 0 m", "clear_width": "900 mm",
    "opens": "out", "exit": True, "lock": "none", "leads_to": "The yard",
}  # fmt: skip
_IDENTITY = {
    "name": "Hall", "strapline": "A hall", "languages": ["en"], "currency": "EUR",
    "time_zone": "Europe/Berlin", "emergency_number": "112", "address": "1 Row",
    "directions": "Ahead", "rules": [], "donations": "Here", "most_people_from": "the landlord",
    "lead": "keeper", "safety_role": "keeper",
}  # fmt: skip


def found(findings: Iterable[Finding], rule: str) -> list[Finding]:
    """The findings of one rule."""
    return [finding for finding in findings if finding.rule == rule]


def only(findings: Iterable[Finding], rule: str, severity: Severity) -> Finding:
    """The one finding of a rule, of the severity it must have."""
    [one] = found(findings, rule)
    assert one.severity is severity
    assert one.says and one.mend
    return one


def working(workings: Iterable[Working], id_: str) -> Working:
    """The one working with an id."""
    [one] = [w for w in workings if w.id == id_]
    return one


def plain(text: str) -> str:
    """A sentence with ordinary spaces, as a test types it."""
    return text.replace("\u202f", " ")
