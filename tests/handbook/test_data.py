"""The facts for other programs: nothing that is never heated carries a setting."""

from __future__ import annotations

import datetime as dt
import json
from pathlib import Path
from typing import Any

import pytest

from generator.ground.wording import use
from generator.handbook import data
from generator.handbook.desk import Desk
from tests.building import CONTENT
from tests.small import shop_with

POLYMERS = """
pp: {code: PP, name: Polypropylene, status: taken}
pp-white: {code: PVC, name: White pipe, status: taken, own: {drying_at: 70 °C}}
found: {code: unknown, name: Found, status: taken}
"""
MACHINES = """
press:
  name: Press
  kind: platen-press
  station: cutting
  heat: {heat_up: 30 min, cool_down: 1 h, highest: 250 °C}
  settings:
    - {polymer: pp, melt: 200 °C}
    - {polymer: pp-white, melt: 185 °C}
    - {polymer: found, melt: 195 °C}
"""
BLENDS = """
clean: {name: Clean, parts: [{polymer: pp, share: 100 %}], mixes: speckle, machines: [press]}
trace:
  name: Trace
  parts: [{polymer: pp, share: 99.9 %}, {polymer: pp-white, share: 0.1 %}]
  mixes: speckle
  machines: [press]
"""


@pytest.fixture(scope="module")
def told(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Any]:
    folder = tmp_path_factory.mktemp("shop")
    shop = shop_with(folder, polymers=POLYMERS, machines=MACHINES, blends=BLENDS)
    desk = Desk(shop, dt.date(2026, 10, 21))
    with use("en"):
        files = {asset.path: json.loads(asset.content) for asset in data.assets(desk)}
    told: dict[str, Any] = files["data/shop.json"]
    assert told["as_of"] == "2026-10-21"
    shop_told: dict[str, Any] = told["shop"]
    return shop_told


def test_a_setting_for_what_is_never_heated_is_a_refusal_in_words(told: dict[str, Any]) -> None:
    allowed, white, found = told["machines"]["press"]["settings"]
    assert allowed["melt_c"] == 200
    for setting, polymer in ((white, "pp-white"), (found, "found")):
        assert setting.keys() == {"polymer", "refused"}
        assert setting["polymer"] == polymer
        assert len(setting["refused"].split()) > 3


def test_a_blend_with_a_trace_of_it_has_no_recipe(told: dict[str, Any]) -> None:
    assert told["blends"]["clean"]["parts"]
    assert told["blends"]["trace"]["parts"] == []
    assert "White pipe" in told["blends"]["trace"]["refused"]


def test_its_own_figures_are_left_out(told: dict[str, Any]) -> None:
    assert told["polymers"]["pp-white"]["own"] == {}
    assert told["polymers"]["pp-white"]["refused"]
    assert "refused" not in told["polymers"]["pp"]


def test_each_record_says_where_it_is_written(told: dict[str, Any]) -> None:
    assert told["blends"]["trace"]["written_at"] == "blends.yml:3:1"


def test_the_demonstration_shops_data_holds_every_record(handbook: Path) -> None:
    shop = json.loads((handbook / "data" / "shop.json").read_text("utf-8"))["shop"]
    written = (CONTENT / "shop" / "machines.yml").read_text("utf-8").splitlines()
    ids = [line.split(":")[0] for line in written if line and line[0] not in " #"]
    assert ids
    assert list(shop["machines"]) == ids
