"""What must never be heated goes nowhere in any sum: not in masses, hours, windows, drying, advice,
electricity or paths, whatever is written of it and at whatever share."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from generator.ground.finding import Severity
from generator.shop.shop import Shop
from generator.workings import faults_in_parts, flow, power, purity, storage
from generator.workings.heat import Refusals
from generator.workings.moulding.dryers import dryness
from generator.workings.moulding.kit import Kit
from tests.small import shop_with
from tests.workings.hall import Data
from tests.workings.moulding_shops import BLENDS as MOULDED
from tests.workings.moulding_shops import MACHINES as FORMERS
from tests.workings.moulding_shops import POLYMERS as MATERIALS
from tests.workings.moulding_shops import TRIALS, moulding_shop
from tests.workings.week_shop import (
    BLENDS,
    CONTAINERS,
    DONORS,
    MACHINES,
    POLYMERS,
    PRODUCTS,
    STATIONS,
    week_shop,
)

NEVER = [
    {"code": "PVC"},
    {"code": "PVC-P"},
    {"code": "PC+PVC"},
    {"code": "POM"},
    {"code": "unknown"},
    {"code": "7"},
    {"code": "ABS", "contains": ["halogen flame retardant"]},
    {"code": "PP", "contains": ["chemical residue"]},
    {"code": "PP", "recycling_code": 3},
]
"""By its mark, by what it contains, and by a number that says something else."""


def never(kind: Data) -> str:
    return ", ".join(str(value) for value in kind.values())


@pytest.fixture(params=NEVER, ids=never)
def kind(request: pytest.FixtureRequest) -> Data:
    return dict(request.param)


# --- flow: masses and hours --------------------------------------------------------------------


def wanted(kind: Data, share: float = 100.0) -> Shop:
    """Somebody brings it, takes it, has set machines for it and wants a product of it."""
    suspect = {"name": "Suspect", "status": "taken", "own": POLYMERS["pp"]["own"], **kind}
    machines = {
        id_: {**record, "settings": [*record["settings"], {**record["settings"][0],
                                                           "polymer": "suspect"}]}
        for id_, record in MACHINES.items()
    }  # fmt: skip
    parts = [{"polymer": "suspect", "share": f"{share} %"}]
    if share < 100:
        parts.append({"polymer": "pp", "colour": "red", "share": f"{100 - share} %"})
    brings = [*DONORS["school"]["brings"], {**DONORS["school"]["brings"][0],
                                            "polymer": "suspect"}]  # fmt: skip
    return week_shop(
        polymers={**POLYMERS, "suspect": suspect},
        machines=machines,
        donors={"school": {**DONORS["school"], "brings": brings}},
        blends={**BLENDS, "odd": {**BLENDS["brick"], "parts": parts}},
        products={**PRODUCTS, "odd": {**PRODUCTS["hook"], "blends": ["odd"]}},
    )


def test_a_week_hands_it_back_whole_and_forms_none_of_it(kind: Data) -> None:
    """20 kg a week are put on the scale and 20 kg go home; nothing of it is washed or cut."""
    masses = flow.study(wanted(kind)).masses
    assert masses.out_of("donated", "suspect") == pytest.approx(20.0)
    assert masses.into("rejected", "suspect") == pytest.approx(20.0)
    for place in ("sorting", "washing", "granulating", "store", "weighing", "forming", "products"):
        assert masses.into(place, "suspect") == 0.0, place
    assert masses.open_kg == pytest.approx(0.0, abs=1e-9)


@pytest.mark.parametrize("share", [0.1, 50.0, 100.0])
def test_no_hour_of_any_machine_is_wanted_for_it(kind: Data, share: float) -> None:
    without = flow.study(week_shop()).hours
    hours = flow.study(wanted(kind, share)).hours
    for machine in ("granulator", "injector"):
        one, other = hours.of(machine), without.of(machine)
        assert one is not None and other is not None
        assert one.want_h == pytest.approx(other.want_h)
        assert one.kg == pytest.approx(other.kg)
    assert hours.people_want_h == pytest.approx(without.people_want_h)


def test_no_crate_or_label_is_reckoned_for_it(kind: Data) -> None:
    found = storage.study(wanted(kind))
    assert {need.polymer for need in found.lots} == {"pp"}


# --- moulding: windows and drying --------------------------------------------------------------


def moulded(folder: Path, kind: Data, **files: str) -> Shop:
    written = ", ".join(f"{key}: {_yaml(value)}" for key, value in kind.items())
    polymers = f"{MATERIALS}suspect: {{name: Suspect, status: taken, {written}}}\n"
    return moulding_shop(folder, polymers=polymers, **files)


def _yaml(value: object) -> str:
    if isinstance(value, list):
        return f"[{', '.join(map(str, value))}]"
    return f'"{value}"' if isinstance(value, str) else str(value)


def trace(share: float) -> str:
    return f"""\
trace:
  name: Trace
  parts: [{{polymer: pp, share: {100 - share} %}}, {{polymer: suspect, share: {share} %}}]
  mixes: melt
  machines: [plunger, screw, press]
"""


@pytest.mark.parametrize("share", [0.1, 60.0])
def test_a_melt_with_any_of_it_has_no_window_on_any_machine(
    tmp_path: Path, kind: Data, share: float
) -> None:
    shop = moulded(tmp_path, kind, blends=MOULDED + trace(share))
    melts = Kit(shop).melts
    for process in ("injection", "extrusion", "press"):
        assert melts.of_blend(shop.blends["plain"]).window(process).temperature is not None
        window = melts.of_blend(shop.blends["trace"]).window(process)
        assert window.temperature is None
        assert window.stance == "refuse"
        assert window.reason


DRYER = """\
dryer:
  name: Dryer
  kind: drying-cabinet
  station: cutting
  first_heat:
    - {check: over-temperature-cut-out, done: 2026-01-05, by: A. N.}
  settings:
    - {polymer: suspect, drying_at: 90 °C, drying_for: 4 h}
"""


def test_no_dryer_dries_it_however_it_is_set_and_checked(tmp_path: Path, kind: Data) -> None:
    shop = moulded(tmp_path, kind, machines=FORMERS + DRYER)
    found = dryness(shop, shop.polymers["suspect"])
    assert found.standing == "cannot"
    assert found.dryer == ""
    assert found.says


def test_the_same_dryer_dries_what_may_be_heated(tmp_path: Path) -> None:
    shop = moulded(tmp_path, {"code": "ABS"}, machines=FORMERS + DRYER)
    assert dryness(shop, shop.polymers["suspect"]).standing == "dries"


# --- faults in parts ---------------------------------------------------------------------------


def test_no_advice_is_given_for_a_part_of_it(tmp_path: Path, kind: Data) -> None:
    row = "T1,2026-03-01,screw,hook,trace,usable,240,40,60,50,17,burn\n"
    shop = moulded(tmp_path, kind, blends=MOULDED + trace(0.1), trials_csv=TRIALS + row)
    study = faults_in_parts.study(shop)
    assert study.cases == ()
    for fault in ("burn", "short-shot", "silver-streaks"):
        assert study.guide(fault, "hook", "screw", "trace") is None


def test_a_good_shot_with_a_trace_of_it_is_nobodys_yardstick(tmp_path: Path, kind: Data) -> None:
    """The only good trial ran 60 K hotter, with a trace of what must not be heated in it."""
    rows = (
        "T1,2026-03-01,screw,hook,trace,good,270,70,60,50,17,\n"
        "T2,2026-03-02,screw,hook,plain,usable,210,40,60,50,17,warp\n"
    )
    shop = moulded(tmp_path, kind, blends=MOULDED + trace(0.1), trials_csv=TRIALS + rows)
    (case,) = faults_in_parts.study(shop).cases
    assert "T1" not in " ".join(cause.says for cause in case.causes)
    assert "70" not in case.change and "270" not in case.change


# --- electricity -------------------------------------------------------------------------------


def test_no_electricity_is_reckoned_for_a_kilogram_of_it(kind: Data) -> None:
    running = power.study(wanted(kind)).energy.running
    told = {polymer for row in running for polymer in row.by_polymer_kwh}
    assert told == {"pp"}


# --- paths -------------------------------------------------------------------------------------


def taken_by_mistake(kind: Data, **changes: Any) -> Shop:
    suspect = {"name": "Suspect", "status": "taken", **kind}
    return week_shop(polymers={**POLYMERS, "suspect": suspect}, **changes)


def test_no_unnamed_handover_carries_it_on(kind: Data) -> None:
    """What is handed on without a name is whatever comes; but never this."""
    gives = [{"what": "Crates", "station": "store", "container": "flake-crate"}]
    stations = {**STATIONS, "table": {**STATIONS["table"], "gives": gives}}
    ways = purity.study(taken_by_mistake(kind, stations=stations)).paths
    assert any(leg.to == "store" and not leg.aside for leg in ways["pp"])
    assert all(leg.aside for leg in ways["suspect"])


# --- handed on cold ----------------------------------------------------------------------------


def handing(container: str) -> Data:
    return {"gives": [{"what": "Crates", "station": "store", "container": container,
                       "polymers": ["suspect"]}]}  # fmt: skip


def handed(kind: Data, container: str) -> Shop:
    boxes = {**CONTAINERS, "aside": {**CONTAINERS["crate"], "keeps": ["quarantine", "refuse"]}}
    stations = {**STATIONS, "table": {**STATIONS["table"], **handing(container)}}
    return taken_by_mistake(kind, containers=boxes, stations=stations)


def test_handing_it_on_cold_is_to_be_mended(kind: Data) -> None:
    found = [f for f in Refusals(handed(kind, "crate")).survey().findings
             if f.rule == "heat.handed-on"]  # fmt: skip
    (finding,) = found
    assert finding.severity is Severity.FIX
    assert finding.subject == "stations/table"
    assert "quarantine" in finding.mend


def test_setting_it_aside_is_what_is_asked_for(kind: Data) -> None:
    found = Refusals(handed(kind, "aside")).survey().findings
    assert "heat.handed-on" not in [f.rule for f in found]


def test_what_may_be_heated_is_handed_on_without_a_word() -> None:
    found = Refusals(handed({"code": "PE-HD"}, "crate")).survey().findings
    assert "heat.handed-on" not in [f.rule for f in found]


def test_a_shop_without_heat_hands_on_what_it_likes(tmp_path: Path) -> None:
    shop = shop_with(tmp_path, polymers="suspect: {code: PVC, name: S, status: refused}\n")
    assert "heat.handed-on" not in [f.rule for f in Refusals(shop).survey().findings]
