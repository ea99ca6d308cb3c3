"""Small shops for the tests of power, made without files: only what hangs on the supply."""

from __future__ import annotations

from typing import Any

from generator.shop.shop import Shop

Data = dict[str, Any]


def circuit(phases: str = "L1", device: str = "16 A", kind: str = "C", **more: Any) -> Data:
    """A circuit that has everything written; ``phases`` as ``L1 L2``."""
    return {
        "name": "Circuit", "phases": phases.split(), "device": device, "device_kind": kind,
        "cable": "10 m", "section": "10 mm²", "cable_rating": "70 A", **more,
    }  # fmt: skip


def machine(
    power: str, on: str, kind: str = "platen-press", station: str = "bench", **electric: Any
) -> Data:
    """A machine of one phase at 230 V unless told otherwise, with nothing missing."""
    plate = {
        "power": power, "voltage": "230 V", "phases": "one", "power_factor": 1.0,
        "restarts": False, "circuit": on, **electric,
    }  # fmt: skip
    return {"name": kind, "kind": kind, "station": station, "electric": plate}


def motor(power: str, on: str, kind: str = "band-saw", **electric: Any) -> Data:
    """A motor with shaft power on its plate."""
    plate = {"of_shaft": True, "power_factor": 0.8, "efficiency": 0.75, "starting_factor": 5.0}
    return machine(power, on, kind, **{**plate, **electric})


def lacking(data: Data, *keys: str) -> Data:
    """The machine without some of its plate."""
    electric = {key: value for key, value in data["electric"].items() if key not in keys}
    return {**data, "electric": electric}


def shop(
    circuits: Data,
    machines: Data | None = None,
    *,
    fuse: str = "63 A",
    profile: str = "EU-230-400",
    phases: str = "three",
    place: str = "EU",
    room: Data | None = None,
    identity: Data | None = None,
    hours: Data | None = None,
    **nouns: Any,
) -> Shop:
    """A shop of one bench with these circuits and machines."""
    supply = {
        "profile": profile, "main_fuse": fuse, "phases": phases, "panel": "0, 0 mm",
        "earthing": "TN-S",
    }  # fmt: skip
    house = {
        "name": "Room",
        "outline": ["0, 0 mm", "6000, 0 mm", "6000, 4000 mm", "0, 4000 mm"],
        "ceiling": "3 m",
        "doors": {"door": _DOOR},
        "supply": supply,
        "circuits": circuits,
        "assembly": {"name": "Tree", "distance": "30 m", "from": "Out"},
        **(room or {}),
    }
    return Shop.model_validate(
        {
            "shop": {**_identity(place), **(identity or {})},
            "room": house,
            "hours": hours or {"weekly": []},
            "stations": {"bench": _STATION},
            "machines": machines or {},
            **nouns,
        }
    )


_STATION = {
    "number": 1, "name": "Bench", "purpose": "Work", "zone": "work", "at": "1, 1 m",
    "size": "1 x 1 m", "use": {"alone": "authorised"},
}  # fmt: skip


_DOOR = {
    "name": "Door", "hinge": "1, 0 m", "latch": "2, 0 m", "clear_width": "900 mm",
    "opens": "out", "exit": True, "lock": "none", "leads_to": "the lane",
}  # fmt: skip


def _identity(place: str) -> Data:
    return {
        "name": "Shop", "strapline": "Works", "jurisdiction": place, "languages": ["en"],
        "currency": "EUR", "time_zone": "Europe/Berlin", "emergency_number": "112",
        "address": "1 Lane", "directions": "Blue door", "rules": [], "donations": "No",
        "most_people": 10, "most_people_from": "landlord", "lead": "lead", "safety_role": "lead",
        "prices": {"electricity": "0.30 EUR/kWh"},
    }  # fmt: skip
