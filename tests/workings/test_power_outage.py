"""What happens when the power goes and comes back."""

from __future__ import annotations

from typing import Any

import pytest

from generator.ground.finding import Finding, Severity
from generator.shop.shop import Shop
from generator.workings import power
from tests.workings.power_shops import circuit, machine, motor, shop

Data = dict[str, Any]

HEAT = {"heat_up": "30 min", "cool_down": "75 min", "highest": "200 °C"}
HOOD = {
    "name": "Hood", "station": "bench", "form": "plain", "opening": "300 x 200 mm",
    "distance": "200 mm", "fan": "fan",
}  # fmt: skip


def _shop(fan: Data, press: Data | None = None, **room: Any) -> Shop:
    fan = {
        "name": "Fan", "discharge": "outside", "power": "0.5 kW", "power_factor": 0.8,
        "restarts": False, **fan,
    }  # fmt: skip
    hot = {**machine("2 kW", "heat", **(press or {})), "heat": HEAT, "needs_extraction": True}
    return shop(
        {"heat": circuit(), "air": circuit()},
        {"press": hot},
        room={"fans": {"fan": fan}, "hoods": {"hood": HOOD}, **room},
    )


def _found(made: Shop, *rules: str) -> list[Finding]:
    wanted = {f"power.{rule}" for rule in rules}
    return [f for f in power.study(made).survey.findings if f.rule in wanted]


@pytest.mark.parametrize(
    ("made", "severity"),
    [
        (motor("1 kW", "c", restarts=True), Severity.STOP),
        (machine("1 kW", "c", "oven", restarts=True), Severity.FIX),
        (machine("1 kW", "c", "extruder", restarts=True, starting_factor=2), Severity.STOP),
        (motor("1 kW", "c", restarts=None), Severity.ASK),
        (machine("1 kW", "c", "scale", restarts=True), None),
        (motor("1 kW", "c", restarts=False), None),
    ],
)
def test_what_starts_by_itself(made: Data, severity: Severity | None) -> None:
    made["electric"] = {k: v for k, v in made["electric"].items() if v is not None}
    found = _found(shop({"c": circuit()}, {"x": made}), "restart")
    assert [f.severity for f in found] == ([severity] if severity else [])


def test_a_fan_on_its_own_circuit_leaves_the_press_heating() -> None:
    study = power.study(_shop({"circuit": "air"}))
    (stop,) = study.outage.fans
    assert [m.id for m in stop.heating] == ["press"]
    assert stop.hot_for_min == 75
    (finding,) = [f for f in study.survey.findings if f.rule == "power.fan-alone"]
    assert (finding.severity, finding.asks) == (Severity.FIX, "electrician")
    assert "platen-press" in finding.says


def test_a_fan_on_the_presss_own_circuit_goes_with_it() -> None:
    assert _found(_shop({"circuit": "heat"}), "fan-alone") == []


def test_a_fan_that_hangs_nowhere_is_asked_about() -> None:
    (finding,) = _found(_shop({}), "fan-alone")
    assert finding.severity is Severity.ASK


def test_heat_that_comes_back_without_its_fan_stops_the_shop() -> None:
    (finding,) = _found(_shop({"circuit": "air"}, {"restarts": True}), "fan-restart")
    assert finding.severity is Severity.STOP


def test_heat_that_comes_back_with_its_fan_is_not_that_finding() -> None:
    made = _shop({"circuit": "air", "restarts": True}, {"restarts": True})
    assert _found(made, "fan-restart") == []


def test_a_fan_that_nobody_has_tried_is_asked_about() -> None:
    made = _shop({"circuit": "air", "restarts": None})
    (finding,) = _found(made, "fan-restart")
    assert finding.severity is Severity.ASK
    assert "75" in finding.mend


def test_a_fan_without_hoods_over_heat_is_no_matter_of_plastic() -> None:
    made = _shop({"circuit": "air"}, hoods={})
    assert power.study(made).outage.fans == ()


@pytest.mark.parametrize(("isolates", "count"), [(["press", "x"], 1), (["press"], 0)])
def test_a_red_button_that_takes_the_fan_along_is_noted(isolates: list[str], count: int) -> None:
    button = {"kind": "emergency-stop", "name": "Button", "at": "1, 1 m", "isolates": isolates}
    hot = {**machine("2 kW", "heat"), "heat": HEAT, "needs_extraction": True}
    extractor = {"name": "Extractor", "kind": "extractor", "station": "bench"}
    made = shop(
        {"heat": circuit()},
        {"press": hot, "x": extractor},
        room={"equipment": {"button": button}},
    )
    assert len(_found(made, "stop-takes-fan")) == count
