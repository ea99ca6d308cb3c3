"""What air, noise, light, heat and load have in common, on whole shops and on odd ones."""

from __future__ import annotations

import math
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from generator.ground.finding import Severity
from generator.ground.survey import Survey
from generator.ground.working import Verdict
from generator.shop.load import load_shop
from generator.shop.shop import Shop
from generator.workings import air, bearing, light, noise, touch
from tests.benchmarks.synthetic_shop import write
from tests.small import SMALLEST
from tests.workings.hall import Data, fan, hall, hood, machine, station

STUDIES: dict[str, Callable[[Shop], Survey]] = {
    "air": lambda shop: air.study(shop).survey,
    "noise": lambda shop: noise.study(shop).survey,
    "light": lambda shop: light.study(shop).survey,
    "touch": lambda shop: touch.study(shop).survey,
    "bearing": lambda shop: bearing.study(shop).survey,
}


def loaded(folder: Path) -> Shop:
    shop = load_shop(folder).shop
    assert shop is not None
    return shop


@pytest.fixture(scope="module")
def of_thirty(tmp_path_factory: pytest.TempPathFactory) -> Shop:
    return loaded(write(tmp_path_factory.mktemp("thirty"), 30))


def held_to_the_contract(name: str, made: Survey) -> None:
    """What pages, terminal and question sheets rely on."""
    ids = [working.id for working in made.workings]
    assert made.subject == name
    assert len(set(ids)) == len(ids)
    assert 0 <= made.unanswered <= made.checks
    for working in made.workings:
        assert working.id.startswith(f"{name}.") and working.title and working.formula
        assert math.isfinite(working.result.value)
        assert all(math.isfinite(i.quantity.value) for i in working.inputs)
        assert (working.limit is None) == (working.limit_source is None)
        assert working.limit or working.verdict in (Verdict.INFORMS, Verdict.UNANSWERED)
    for finding in made.findings:
        assert finding.rule.startswith(f"{name}.") and finding.severity is not Severity.FAULT
        assert finding.says and finding.mend and finding.subject
        assert not finding.working or finding.working in ids
        assert finding.asks or finding.severity is not Severity.ASK
        assert "{" not in finding.says + finding.mend


@pytest.mark.parametrize("name", STUDIES)
def test_whole_shops_keep_to_what_every_page_relies_on(
    name: str, demonstration: Shop, of_thirty: Shop
) -> None:
    for shop in (demonstration, of_thirty, loaded(SMALLEST)):
        held_to_the_contract(name, STUDIES[name](shop))


@pytest.mark.parametrize("name", STUDIES)
def test_every_finding_leads_to_a_line(name: str, demonstration: Shop) -> None:
    for finding in STUDIES[name](demonstration).findings:
        assert finding.origin.line > 0, finding.rule


@pytest.mark.parametrize("name", STUDIES)
def test_thirty_stations_take_less_than_fifty_milliseconds(name: str, of_thirty: Shop) -> None:
    def once() -> float:
        start = time.process_time()
        STUDIES[name](of_thirty)
        return time.process_time() - start

    once()
    assert min(once() for _ in range(5)) < 0.05


# --- odd shops ---------------------------------------------------------------------------------

kinds = st.sampled_from(["granulator", "platen-press", "drying-cabinet", "band-saw", "scale"])
flows = st.one_of(st.none(), st.floats(0, 5000).map(lambda q: f"{q:.0f} m³/h"))


@st.composite
def machines(draw: st.DrawFn) -> Data:
    level = draw(st.one_of(st.none(), st.integers(0, 140)))
    hot = draw(st.lists(st.tuples(st.integers(0, 300), st.sampled_from(["metal", "glass"]))))
    more: Data = {
        "needs_extraction": draw(st.sampled_from([None, True, False])),
        "hot_surfaces": [
            {"where": "Edge", "surface": f"{c} °C", "material": m} for c, m in hot[:2]
        ],
    }
    if level is not None:
        more["noise"] = {"level": f"{level} dB(A)"}
    if draw(st.booleans()):
        more["mass"] = f"{draw(st.integers(0, 3000))} kg"
    return machine(draw(kinds), **more)


POLYMERS = {
    code.lower(): {"code": code, "name": code, "status": "taken", "store_limit": "9 kg"}
    for code in ("PP", "POM", "PS")
}


@st.composite
def stores(draw: st.DrawFn) -> Data:
    """Polymers, containers, and a store for them on the one station."""
    box = " x ".join(str(draw(st.integers(50, 3000))) for _side in range(3)) + " mm"
    crate = {
        "name": "Crate", "outer": box, "volume": f"{draw(st.integers(1, 900))} l",
        "empty": "2 kg", "most": f"{draw(st.integers(1, 900))} kg",
        "owned": draw(st.integers(0, 9)), "stack": draw(st.integers(1, 4)),
        "keeps": [draw(st.sampled_from(["flake", "tools"]))],
    }  # fmt: skip
    shelf = {"length": "2 m", "depth": "600 mm", "level_height": "400 mm",
             "keeps": draw(st.sampled_from([[], ["crate"]]))}  # fmt: skip
    if draw(st.booleans()):
        shelf["load"] = f"{draw(st.integers(0, 200))} kg"
    some = draw(st.sets(st.sampled_from(sorted(POLYMERS))))
    return {
        "polymers": {key: POLYMERS[key] for key in some},
        "containers": {"crate": crate},
        "stations": {"bench": station(zone=draw(zones), storage=[shelf])},
    }


zones = st.sampled_from(["hot", "front", "store"])


@st.composite
def halls(draw: st.DrawFn) -> Shop:
    ways: dict[str, Any] = {}
    if draw(st.booleans()):
        ways["fans"] = {"fan": fan(draw(st.sampled_from(["outside", "recirculating"])))}
        flow, measured = draw(flows), draw(st.booleans())
        if flow is not None:
            ways["fans"]["fan"]["flow"] = flow
            if measured:
                ways["fans"]["fan"]["measured"] = "2026-03-02"
        ways["hoods"] = {"hood": hood(draw(st.sampled_from(["plain", "flanged", "canopy"])))}
        if (own := draw(flows)) is not None:
            ways["hoods"]["hood"]["flow"] = own
    if draw(st.booleans()):
        ways["floor"] = f"{draw(st.integers(0, 9))} kPa"
    if draw(st.booleans()):
        kind = draw(st.sampled_from(["open flue", "none"]))
        ways["climate"] = {"winter_outdoor": "5 °C", "indoor": "5 °C", "heating_kind": kind}
    return hall(
        place=draw(st.sampled_from(["EU", "UK", "US", "BR", "IN", "JP"])),
        room=ways,
        people=draw(st.integers(0, 40)),
        machines=draw(st.dictionaries(st.sampled_from("abc"), machines(), max_size=3)),
        **draw(stores()),
    )


@pytest.mark.parametrize("name", STUDIES)
@settings(max_examples=30, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(shop=halls())
def test_odd_shops_get_findings_and_never_a_number_that_is_none(name: str, shop: Shop) -> None:
    held_to_the_contract(name, STUDIES[name](shop))
