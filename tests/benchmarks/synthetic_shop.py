"""Writes a valid shop of any size: every noun, every log, as many stations as asked for.

    python -m tests.benchmarks.synthetic_shop 300 DIR

With N stations it has N machines, procedures (or more) and hazards, N // 2 moulds, tools and
products, and logs of N rows each. Machines are a folder of files, the other nouns one file each.
"""

from __future__ import annotations

import datetime as dt
import math
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from generator.shop.examples import as_yaml

Data = dict[str, Any]

_PITCH_MM = 3000
_POLYMERS = {"pp": "PP", "pe-hd": "PE-HD", "ps": "PS", "abs": "ABS", "pvc": "PVC"}
_MACHINES_A_FILE = 50
_MONDAY = dt.date(2026, 1, 5)


def files(stations: int, procedures: int = 0) -> dict[str, str]:
    """The shop's files by name, as text."""
    count = max(stations, 2)
    at_stations = _numbered("procedure", count, _procedure)
    more = {f"procedure-{n}": _procedure(n % count + 1) for n in range(count + 1, procedures + 1)}
    nouns = {
        "shop": _shop(),
        "room": _room(count),
        "hours": _hours(),
        "stations": _numbered("station", count, _station),
        "polymers": {key: _polymer(code) for key, code in _POLYMERS.items()},
        "containers": _numbered("crate", 8, container),
        "moulds": _numbered("mould", count // 2, mould),
        "blends": _numbered("blend", count // 2, blend),
        "products": _numbered("product", count // 2, product),
        "donors": _numbered("donor", 6, _donor),
        "consumables": _numbered("consumable", count // 2, _consumable),
        "tools": _numbered("tool", count // 2, _tool),
        "procedures": {**at_stations, **more},
        "hazards": _numbered("hazard", count, _hazard),
        "roles": _numbered("role", 5, _role),
        "sessions": _numbered("session", max(count // 50, 1), _session),
        "stages": {"first": _stage(count)},
        "contacts": {"electrician": _contact()},
        "duties": {"socket-test": _duty()},
    }
    texts = {f"{noun}.yml": as_yaml(data) + "\n" for noun, data in nouns.items()}
    return {**texts, **_machine_files(count), **_logs(count)}


def write(folder: Path, stations: int, procedures: int = 0) -> Path:
    """Write the shop into ``folder``, which is made where it is not there."""
    for name, text in files(stations, procedures).items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    return folder


def _numbered(name: str, count: int, make: Any) -> Data:
    return {f"{name}-{n}": make(n) for n in range(1, count + 1)}


# --- the house ---------------------------------------------------------------------------------


def _shop() -> Data:
    return {
        "name": {"en": "Long Shed", "es": "Nave Larga"},
        "strapline": "Where many things are made",
        "jurisdiction": "EU",
        "languages": ["en", "es"],
        "currency": "EUR",
        "time_zone": "Europe/Madrid",
        "emergency_number": "112",
        "address": "1 Shed Road",
        "directions": "The long one",
        "rules": [{"say": "Wait at the door", "why": "Somebody comes", "sign": "P004"}],
        "donations": "At the counter",
        "most_people": 40,
        "most_people_from": "the insurer",
        "lead": "role-5",
        "safety_role": "role-4",
        "limits": {"aisle": "900 mm", "lift": "15 kg", "hot_side_age": "16 years"},
        "prices": {"electricity": "0.31 EUR/kWh", "rent_month": "900 EUR"},
    }


def _side(stations: int) -> int:
    return math.ceil(math.sqrt(stations))


def _room(stations: int) -> Data:
    end = _side(stations) * _PITCH_MM + 2000
    return {
        "name": "Long Shed",
        "outline": ["0, 0 mm", f"{end}, 0 mm", f"{end}, {end} mm", f"0, {end} mm"],
        "ceiling": "4.2 m",
        "north": "12°",
        "columns": {"column-1": {"at": "1000, 1000 mm", "size": "300 x 300 mm"}},
        "doors": {
            "street": _door("1000, 0 mm", "2000, 0 mm"),
            "yard": _door(f"0, {end - 2000} mm", f"0, {end - 1000} mm"),
        },
        "windows": {
            "window": {"start": f"{end}, 1000 mm", "end": f"{end}, 3000 mm", "openable": "1 m²"}
        },
        "zones": {
            "cold": {"name": "Cold side", "kind": "clean", "visitors": True},
            "hot": {"name": "Hot side", "kind": "hot", "visitors": False},
        },
        "fixtures": {"sink": {"name": "Sink", "at": "600, 3000 mm", "size": "600 x 500 mm"}},
        "supply": {
            "profile": "EU-230-400", "main_fuse": "125 A", "phases": "three", "panel": "0, 3 m",
        },
        "circuits": {f"circuit-{n}": _circuit(n) for n in range(1, stations // 10 + 2)},
        "extract_points": {"roof": {"at": "900, 900 mm", "height": "4 m", "diameter": "250 mm"}},
        "fans": {"fan": {"name": "Fan", "discharge": "outside", "extract_point": "roof",
                         "flow": "850 m³/h", "measured": "2026-01-12", "circuit": "circuit-1"}},
        "hoods": {"hood": {"name": "Hood", "station": "station-1", "form": "flanged",
                           "opening": "400 x 300 mm", "distance": "250 mm", "fan": "fan"}},
        "water": {"tap": {"at": "600, 3200 mm", "kind": "tap and drain", "hot": True}},
        "equipment": {f"isolator-{n}": _isolator(n) for n in range(1, stations + 1)},
        "signs": {"door-sign": {"sign": "P004", "at": "1500, 0 mm"}},
        "light": [{"station": "station-1", "reading": "480 lx", "day": "2026-01-12"}],
        "assembly": {"name": "The oak", "distance": "40 m", "from": "Out and left"},
        "climate": {"winter_outdoor": "-8 °C", "indoor": "17 °C"},
    }  # fmt: skip


def _door(hinge: str, latch: str) -> Data:
    return {"name": "Door", "hinge": hinge, "latch": latch, "clear_width": "900 mm",
            "opens": "out", "exit": True, "lock": "push-bar", "leads_to": "Outside"}  # fmt: skip


def _circuit(n: int) -> Data:
    return {"name": f"Circuit {n}", "phases": ["L1", "L2", "L3"], "device": "32 A",
            "device_kind": "C", "rcd": "30 mA", "rcd_type": "A", "cable": "25 m",
            "section": "6 mm²",
            "outlets": {"outlet": {"at": "1 m, 2 m", "kind": "fixed", "rating": "32 A"}},
            }  # fmt: skip


def _isolator(n: int) -> Data:
    return {"kind": "isolator", "name": f"Isolator {n}", "at": _place(n),
            "isolates": [f"machine-{n}"], "checked": "2026-01-12"}  # fmt: skip


def _hours() -> Data:
    return {
        "weekly": [{"day": "tuesday", "from": "16:00", "to": "20:00", "what": "Open bench"}],
        "closed": [{"from": "2026-08-01", "to": "2026-08-14", "why": "Summer"}],
    }


def _place(n: int) -> str:
    return f"{(n % 17 + 1) * _PITCH_MM // 2}, {(n // 17 + 1) * _PITCH_MM // 2} mm"


def _station(n: int) -> Data:
    return {
        "number": n,
        "name": {"en": f"Station {n}", "es": f"Puesto {n}"},
        "purpose": "Something happens here that happens nowhere else",
        "zone": "hot" if n % 2 else "cold",
        "at": _place(n),
        "size": "1200 x 600 mm",
        "turn": "90°",
        "working_sides": [{"side": "front", "depth": "1 m"}, {"side": "back", "depth": "600 mm"}],
        "use": {"alone": "authorised", "beside": "supervised", "least_age": "16 years"},
        "ppe": ["M003", "M004"],
        "nevers": [{"say": "Never alone", "why": "Nobody hears you", "sign": "P010"}],
        "takes_in": [{"what": "Flake", "container": "crate-1", "polymers": ["pp", "ps"]}],
        "gives": [{"what": "Parts", "station": "station-1", "polymers": ["pp"]}],
        "storage": [
            {"length": "1200 mm", "depth": "400 mm", "level_height": "350 mm", "keeps": ["crate-2"]}
        ],
    }


def _machine_files(stations: int) -> dict[str, str]:
    machines = list(_numbered("machine", stations, _machine).items())
    return {
        f"machines/part-{n:02}.yml": as_yaml(dict(machines[at : at + _MACHINES_A_FILE])) + "\n"
        for n, at in enumerate(range(0, len(machines), _MACHINES_A_FILE))
    }


def _machine(n: int) -> Data:
    return {
        "name": f"Machine {n}",
        "kind": "screw-injector",
        "station": f"station-{n}",
        "electric": {"power": "3 kW", "voltage": "400 V", "phases": "three", "power_factor": 0.9,
                     "starting_factor": 5, "circuit": f"circuit-{n // 10 + 1}", "outlet": "outlet"},
        "heat": {"heat_up": "25 min", "cool_down": "1 h 30 min", "highest": "290 °C"},
        "noise": {"level": "78 dB(A)", "distance": "1 m", "measured": "2026-01-12"},
        "hot_surfaces": [{"where": "Nozzle", "surface": "220 °C"}],
        "guard_openings": [{"where": "Hopper", "shape": "slot", "opening": "10 mm",
                            "distance": "120 mm"}],
        "moves": [{"what": "Lid", "side": "back", "reach": "300 mm"}],
        "capacity": {"shot": "45 cm³", "clamp": "100 kN", "platen": "300 x 250 mm"},
        "settings": [
            {"polymer": key, "melt": "215 °C", "zones": ["190 °C", "205 °C", "215 °C"],
             "drying_at": "80 °C", "drying_for": "2 h", "clean_down": "Purge with pp"}
            for key in ("pp", "pe-hd", "ps")
        ],
        "lock_out": ["Switch off", "Hang your lock"],
        "upkeep": {"grease": {"what": "Grease it", "every": "40 running hours", "uses":
                              ["consumable-1"], "tools": ["tool-1"], "procedure": "procedure-1"}},
        "first_heat": [{"check": "guards", "done": "2026-01-12", "by": "Electrician"}],
        "price": "4200 EUR",
    }  # fmt: skip


# --- material ----------------------------------------------------------------------------------


def _polymer(code: str) -> Data:
    return {
        "code": code,
        "name": f"Polymer {code}",
        "status": "refused" if code == "PVC" else "taken",
        "why": "It gives off acid",
        "forms": ["whole", "flake"],
        "colours": {"white": {"name": "White", "hex": "#f4f4f0"}, "mixed": {"name": "Mixed"}},
        "own": {"flake_density": "380 kg/m³", "drying_at": "80 °C"},
        "store": "station-1",
        "store_limit": "200 kg",
    }


def container(n: int) -> Data:
    return {"name": f"Crate {n}", "standard": "euro-600x400-320", "outer": "600 x 400 x 320 mm",
            "volume": "60 l", "empty": "2.4 kg", "most": "15 kg", "keeps": ["flake", "sorted"],
            "owned": 12, "price": "14 EUR"}  # fmt: skip


def mould(n: int) -> Data:
    return {"name": f"Mould {n}", "machines": [f"machine-{n}"], "part_volume": "22 cm³",
            "wall": "3 mm", "projected": "38 cm²", "part_lengths": ["80 mm", "40 mm"],
            "outer": "180 x 120 x 90 mm", "mass": "6.5 kg", "kept_at": "station-2"}  # fmt: skip


def blend(n: int) -> Data:
    return {
        "name": f"Blend {n}",
        "parts": [{"polymer": "pp", "colour": "white", "share": "68 %"},
                  {"polymer": "pp", "colour": "mixed", "share": "30 %"}],
        "additives": [{"consumable": "consumable-1", "share": "2 %"}],
        "mixes": "speckle",
        "machines": [f"machine-{n}"],
    }  # fmt: skip


def product(n: int) -> Data:
    return {"name": f"Product {n}", "mould": f"mould-{n}", "blends": [f"blend-{n}"],
            "mass": "21 g", "finish": [{"do": "Trim", "station": "station-2", "takes": "2 min"}],
            "price": "4 EUR", "made_for": "Doors", "not_for": ["Fire doors"]}  # fmt: skip


def _donor(n: int) -> Data:
    brings = {"polymer": "pp", "form": "whole", "weekly": "12 kg", "dirt": "rinsed"}
    return {"name": f"Donor {n}", "brings": [brings], "days": ["tuesday"], "container": "crate-1"}


def _consumable(n: int) -> Data:
    return {"name": f"Consumable {n}", "kind": "masterbatch", "unit": "kg", "kept_at": "station-1",
            "stock": 4.5, "least": 2, "lead_time": "10 d", "price": "9 EUR"}  # fmt: skip


def _tool(n: int) -> Data:
    return {"name": f"Tool {n}", "kept_at": "station-1", "use": "Scraping", "check": "No burr"}


# --- people ------------------------------------------------------------------------------------


def _procedure(n: int) -> Data:
    step = {"do": "Close the guard", "key_point": "Until it clicks", "reason": "It will not start"}
    hold = {"until": "The display shows 215", "because": "Cold melt blocks", "who": "authorised"}
    return {
        "name": f"Procedure {n}",
        "kind": "run",
        "station": f"station-{n}",
        "machines": [f"machine-{n}"],
        "level": "authorised",
        "takes": "25 min",
        "ppe": ["M003"],
        "polymers": ["pp"],
        "tools": ["tool-1"],
        "consumables": ["consumable-1"],
        "done_when": "It is cold",
        "steps": [step, {**step, "hold": hold}, step, step, step],
    }


def _hazard(n: int) -> Data:
    return {
        "name": f"Hazard {n}",
        "harm": "A burn",
        "who": ["Whoever stands there"],
        "stations": [f"station-{n}"],
        "machines": [f"machine-{n}"],
        "before": {"likelihood": 4, "severity": 4},
        "controls": [
            {"kind": "engineer", "what": "Guard", "machine": f"machine-{n}"},
            {"kind": "administer", "what": "Job breakdown", "procedure": f"procedure-{n}"},
            {"kind": "protect", "what": "Gloves", "sign": "M009", "equipment": f"isolator-{n}"},
        ],
        "after": {"likelihood": 2, "severity": 3},
        "action": {"do": "Fit a lid", "by": "role-4", "due": "2026-05-01"},
        "reviewed": "2026-01-12",
        "review_every": "1 year",
    }


def _role(n: int) -> Data:
    return {
        "name": f"Role {n}",
        "does": "Something",
        "least_age": "16 years",
        "after": [f"role-{n - 1}"] if n > 1 else [],
        "needs": [{"machine": "machine-1", "level": "authorised"}],
        "visits": [{"title": "First", "read": ["procedure-1"], "signs_off": "inducted",
                    "takes": "1 h"}],
    }  # fmt: skip


def _session(n: int) -> Data:
    return {
        "name": f"Session {n}",
        "for": "School classes",
        "day": "2026-03-10",
        "weekday": "tuesday",
        "start": "09:30",
        "end": "12:00",
        "learners": {"count": 18, "age_from": "10 years", "age_to": "12 years", "adults": 2},
        "groups": 3,
        "staff": [{"role": "role-3", "count": 2}],
        "arrival": "10 min",
        "tidy": "10 min",
        "activities": {
            "sort": _activity("station-1", []),
            "press": _activity("station-2", ["sort"]),
        },
        "timetable": [{"group": 1, "activity": "sort", "start": "09:40"},
                      {"group": 1, "activity": "press", "start": "10:20"}],
    }  # fmt: skip


def _activity(station: str, after: list[str]) -> Data:
    return {"name": "Activity", "station": station, "takes": "30 min", "learners": "watch",
            "supervisor": "authorised", "machines": ["machine-1"], "moulds": ["mould-1"],
            "makes": {"product": "product-1", "blend": "blend-1"}, "after": after}  # fmt: skip


def _stage(stations: int) -> Data:
    return {
        "order": 1,
        "name": "All of it",
        "goal": "Everything runs",
        "reached": True,
        "adds_stations": [f"station-{n}" for n in range(1, stations + 1)],
        "adds_machines": [f"machine-{n}" for n in range(1, stations + 1)],
        "budget": "20000 EUR",
        "other_costs": [{"what": "Cable", "price": "900 EUR"}],
    }


def _contact() -> Data:
    return {"name": "Electrician", "answers": ["electrician"], "reach": "By the office"}


def _duty() -> Data:
    return {"name": "Socket test", "every": "1 year", "last": "2026-01-12", "by": "electrician"}


# --- logs --------------------------------------------------------------------------------------


def _logs(rows: int) -> dict[str, str]:
    return {
        "weigh-ins.csv": _csv("date,donor,polymer,form,colour,kg,rejected_kg,why,batch", (
            f"{_day(n)},donor-{n % 6 + 1},pp,whole,white,{n % 9 + 2},1,dirt,B{n}"
            for n in range(1, rows + 1)
        )),
        "batches.csv": _csv("batch,date,step,polymer,colour,kg,made_from,container,station", (
            f"B{n},{_day(n)},sorted,pp,white,{n % 9 + 1},{f'B{n - 1}' if n > 1 else ''},crate-1,"
            f"station-{n}" for n in range(1, rows + 1)
        )),
        "trials.csv": _csv("trial,date,machine,mould,blend,melt_c,cycle_s,part_g,result", (
            f"T{n},{_day(n)},machine-{n},mould-1,blend-1,215,48.5,21.2,good"
            for n in range(1, rows + 1)
        )),
        "stock.csv": _csv("date,polymer,colour,form,kg,container,count,station", (
            f"{_day(n)},pp,white,flake,{n},crate-1,2,station-{n}" for n in range(1, rows + 1)
        )),
        "rota.csv": _csv("date,start,end,role,count", (
            f"{_day(n)},16:00,20:00,role-{n % 5 + 1},1" for n in range(1, rows + 1)
        )),
        "upkeep.csv": _csv("date,machine,task,running_h,role,note", (
            f"{_day(n)},machine-{n},grease,{n * 7},role-4,done" for n in range(1, rows + 1)
        )),
    }  # fmt: skip


def _csv(header: str, rows: Iterator[str]) -> str:
    return "\n".join([header, *rows, ""])


def _day(n: int) -> dt.date:
    return _MONDAY + dt.timedelta(days=n % 90)


if __name__ == "__main__":
    print(write(Path(sys.argv[2]), int(sys.argv[1])))
