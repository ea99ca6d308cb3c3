"""A shop that has one of everything a recipe can go wrong by."""

from __future__ import annotations

import datetime as dt
from functools import cache

from generator.ground.origin import Origin
from generator.shop.records.logs import Logs, Stock
from generator.shop.shop import Shop
from tests.workings import week_shop as week
from tests.workings.hall import Data, machine

_DAY = dt.date(2026, 3, 2)
_LOTS = {
    "natural": {"name": "Natural", "hex": "#d9d8cd", "reflectance": 0.62},
    "black": {"name": "Black", "hex": "#0a0a0b", "reflectance": 0.004},
    "bright": {"name": "Bright", "hex": "#fefefe", "reflectance": 0.995},
    "unmeasured": {"name": "Unmeasured", "hex": "#3f7a4e"},
    "unseen": {"name": "Unseen"},
}


def _polymer(code: str, name: str, status: str = "taken", **more: object) -> Data:
    why = {} if status == "taken" else {"why": f"{name} does not go here."}
    return {"code": code, "name": name, "status": status, "colours": _LOTS, **why, **more}


POLYMERS: Data = {
    **week.POLYMERS,
    "hd": _polymer("PE-HD", "Hard PE", recycling_code=2, own={"density": "955 kg/m³"}),
    "ld": _polymer("PE-LD", "Soft PE"),
    "ps": _polymer("PS", "Styrene", own={"shrinkage": "9 %"}),
    "abs": _polymer("ABS", "ABS", recycling_code=7),
    "paused": _polymer("ABS", "Suitcases", "paused"),
    "pla": _polymer("PLA", "Prints"),
    "pet": _polymer("PET", "Bottles"),
    "alloy": _polymer("PC+ABS", "Alloy"),
    "filled": _polymer("PP-GF30", "Glass-filled", contains=["glass fibre"]),
    "talc": _polymer("PP-MD30", "With talc"),
    "film": {"code": "PE-LD", "name": "Film", "status": "taken"},
    "pvc": _polymer("PVC-U", "Grey pipe", "refused"),
    "pom": _polymer("POM", "Gears", "refused"),
    "seven": _polymer("unknown", "Only a 7", "refused", recycling_code=7),
    "doubtful": _polymer("PP", "Two marks", recycling_code=3),
    "housings": _polymer("ABS", "Housings", "refused", contains=["halogen flame retardant"]),
}


def _consumable(name: str, **more: object) -> Data:
    return {
        "name": name, "kind": "masterbatch", "unit": "kg", "kept_at": "mixing", "stock": 0.5,
        "least": 0.1, "lead_time": "3 d", "hex": "#2f7d3b", "density": "1050 kg/m³", **more,
    }  # fmt: skip


CONSUMABLES: Data = {
    "green": _consumable("Green"),
    "soot": _consumable("Soot", hex="#0b0b0b", unit="g", stock=40, density="1150 kg/m³"),
    "bagged": _consumable("Bagged", unit="bag", stock=3),
    "chalk": {k: v for k, v in _consumable("Chalk", kind="other").items() if k != "density"},
}
_HEAT = {"heat_up": "30 min", "soak": "15 min", "cool_down": "60 min"}
MACHINES: Data = {
    **week.MACHINES,
    "plunger": machine("plunger-injector", "hot", heat={**_HEAT, "highest": "235 °C"}, settings=[
        {"polymer": "pp", "melt": "265 °C", "purge": "0.2 kg"},
        {"polymer": "hd", "melt": "150 °C", "purge": "0.15 kg"},
        {"polymer": "ld", "purge": "0.1 kg"},
    ], capacity={"shot": "8 cm³", "clamp": "5 kN"}),
    "press": machine("platen-press", "hot", heat={**_HEAT, "highest": "150 °C"}, settings=[
        {"polymer": "hd", "melt": "185 °C", "purge": "0.05 kg"},
    ], capacity={"platen": "500 x 500 mm", "clamp": "60 kN", "batch": "1 kg"}),
    "dryer": machine("drying-cabinet", "hot", settings=[
        {"polymer": "abs", "drying_at": "85 °C", "drying_for": "3 h"},
        {"polymer": "pla", "drying_at": "30 °C", "drying_for": "1 h"},
    ]),
}  # fmt: skip
MOULDS: Data = {
    "hook": {**week.MOULDS["hook"], "machines": ["injector", "plunger"]},
    "sheet": {
        "name": "Sheet", "machines": ["press"], "cavities": 1, "part_volume": "920 cm³",
        "sprue": "14 cm³", "wall": "8 mm", "projected": "1156 cm²", "outer": "600 x 400 x 40 mm",
        "mass": "12 kg", "kept_at": "table",
    },
}  # fmt: skip
BLENDS: Data = {
    **week.BLENDS,
    "ice": {"name": "Ice", "mixes": "speckle", "machines": ["press"], "parts": [
        {"polymer": "hd", "colour": "natural", "share": "100 %"}]},
}  # fmt: skip
PRODUCTS: Data = {
    **week.PRODUCTS,
    "pair": {**week.PRODUCTS["hook"], "name": "Pair of hooks", "parts": 3},
    "sheet": {**week.PRODUCTS["hook"], "name": "Sheet", "mould": "sheet", "blends": ["ice"],
              "mass": "883 g"},
}  # fmt: skip
_STAGES: Data = {
    "later": {
        "order": 1,
        "name": "Press",
        "goal": "Sheets",
        "reached": False,
        "adds_machines": ["press"],
    },
}


@cache
def bench_shop() -> Shop:
    """The shop, with a little of most lots on the shelf."""
    rows = [
        Stock(Origin("stock.csv", n), _DAY, polymer, "flake", n % 7 * 0.35, "store", colour)
        for n, (polymer, colour) in enumerate(lots(), 2)
    ]
    return week.week_shop(
        Logs(stock=tuple(rows)), polymers=POLYMERS, consumables=CONSUMABLES, machines=MACHINES,
        moulds=MOULDS, blends=BLENDS, products=PRODUCTS, stages=_STAGES,
    )  # fmt: skip


def lots() -> list[tuple[str, str]]:
    """Every polymer and colour that can be picked."""
    return [
        (polymer, colour)
        for polymer, data in POLYMERS.items()
        for colour in data.get("colours", ("",))
    ]
