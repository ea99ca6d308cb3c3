"""A shop with one polymer, one granulator and one injector, whose week can be done by hand."""

from __future__ import annotations

from typing import Any

from generator.ground.origin import Origin
from generator.shop.records.identity import Prices
from generator.shop.records.logs import Logs
from generator.shop.shop import Shop
from tests.workings.hall import Data, hall, machine, station

HERE = Origin("log.csv", 2)
"""Where a row of a log was read, for tests that do not ask."""
POLYMERS: Data = {
    "pp": {
        "code": "PP", "name": "PP", "status": "taken", "store_limit": "60 kg",
        "colours": {"red": {"name": "Red", "hex": "#b4402f", "reflectance": 0.2},
                    "white": {"name": "White", "hex": "#f0efe9", "reflectance": 0.8}},
        "own": {"density": "900 kg/m³", "flake_density": "400 kg/m³",
                "loose_density": "50 kg/m³"},
    },
}  # fmt: skip
CONTAINERS: Data = {
    "crate": {"name": "Intake crate", "outer": "600 x 400 x 320 mm", "volume": "100 l",
              "empty": "2 kg", "most": "12 kg", "stack": 3, "keeps": ["as donated", "sorted"],
              "owned": 4},
    "flake-crate": {"name": "Flake crate", "outer": "600 x 400 x 220 mm", "volume": "50 l",
                    "empty": "2 kg", "most": "20 kg", "stack": 2, "keeps": ["flake"], "owned": 6},
    "tub": {"name": "Tub", "outer": "400 x 300 x 180 mm", "volume": "10 l", "empty": "1 kg",
            "most": "5 kg", "keeps": ["blend"], "owned": 2},
    "tray": {"name": "Tray", "outer": "600 x 400 x 120 mm", "volume": "20 l", "empty": "1 kg",
             "most": "8 kg", "keeps": ["product"], "owned": 2},
}  # fmt: skip
DONORS: Data = {
    "school": {"name": "School", "brings": [
        {"polymer": "pp", "form": "whole", "weekly": "20 kg", "dirt": "dirty",
         "rejected": "10 %"},
    ]},
}  # fmt: skip
MOULDS: Data = {
    "hook": {
        "name": "Hook", "machines": ["injector"], "cavities": 2, "part_volume": "10 cm³",
        "sprue": "2 cm³", "wall": "3 mm", "projected": "20 cm²", "outer": "100 x 100 x 100 mm",
        "mass": "5 kg", "changes_in": "30 min", "kept_at": "table",
    },
}  # fmt: skip
BLENDS: Data = {
    "brick": {"name": "Brick", "mixes": "melt", "machines": ["injector"], "parts": [
        {"polymer": "pp", "colour": "red", "share": "60 %"},
        {"polymer": "pp", "colour": "white", "share": "40 %"},
    ]},
}  # fmt: skip
PRODUCTS: Data = {
    "hook": {
        "name": "Hook", "mould": "hook", "blends": ["brick"], "mass": "9 g", "per_week": 200,
        "price": "2 EUR", "made_for": "Coats", "not_for": ["Climbing"],
        "finish": [{"do": "Snip", "station": "bench", "takes": "1 min", "loss": "10 %"}],
    },
}  # fmt: skip
MACHINES: Data = {
    "granulator": machine("granulator", "cutter", capacity={"throughput": "5 kg/h"}, settings=[
        {"polymer": "pp", "rate": "4 kg/h", "clean_down_takes": "30 min"},
    ]),
    "injector": machine(
        "screw-injector", "hot", settings=[
            {"polymer": "pp", "melt": "220 °C", "rate": "4 kg/h", "purge": "0.5 kg",
             "clean_down_takes": "15 min", "hold": "5 s"}],
        heat={"heat_up": "30 min", "soak": "15 min", "cool_down": "60 min", "highest": "260 °C"},
        electric={"power": "4 kW", "voltage": "400 V", "phases": "three", "circuit": "c1",
                  "duty": "50 %"},
    ),
}  # fmt: skip
STATIONS: Data = {
    "table": station(1, "2000, 2000 mm", "front", gives=[
        {"what": "Sorted", "station": "cutter", "container": "crate", "polymers": ["pp"]}]),
    "cutter": station(2, "5000, 6000 mm", gives=[
        {"what": "Flake", "station": "store", "container": "flake-crate"}]),
    "store": station(3, "8000, 2000 mm", "store", storage=[
        {"length": "2400 mm", "depth": "620 mm", "levels": 2, "level_height": "300 mm",
         "keeps": ["flake-crate"]}],
        gives=[{"what": "Flake", "station": "mixing", "container": "flake-crate"}]),
    "mixing": station(4, "8000, 6000 mm", gives=[
        {"what": "Blends", "station": "hot", "container": "tub"}]),
    "hot": station(5, "11000, 6000 mm", gives=[
        {"what": "Parts", "station": "bench", "container": "tray"}]),
    "bench": station(6, "11000, 2000 mm", gives=[
        {"what": "Sprues", "station": "cutter", "container": "crate"}]),
}  # fmt: skip
ROOM: Data = {
    "circuits": {"c1": {"name": "C1", "phases": ["L1", "L2", "L3"], "device": "32 A",
                        "device_kind": "C", "cable": "10 m", "section": "6 mm²",
                        "outlets": {}}},
}  # fmt: skip


def week_shop(logs: Logs | None = None, **changes: Any) -> Shop:
    """The shop, with nouns taken the place of and logs added."""
    nouns = {
        "polymers": POLYMERS, "containers": CONTAINERS, "donors": DONORS, "moulds": MOULDS,
        "blends": BLENDS, "products": PRODUCTS, "machines": MACHINES, "stations": STATIONS,
        "room": ROOM, **changes,
    }  # fmt: skip
    shop = hall(**nouns)
    return shop if logs is None else shop.model_copy(update={"logs": logs})


def priced(shop: Shop, **prices: str) -> Shop:
    """The shop with prices of its own."""
    own = shop.shop.model_copy(update={"prices": Prices.model_validate(prices)})
    return shop.model_copy(update={"shop": own})
