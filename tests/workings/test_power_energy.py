"""Energy and cost of an hour, a kilogram and a year."""

from __future__ import annotations

from typing import Any

import pytest

from generator.ground.working import Verdict
from generator.workings import power
from generator.workings.power.energy import Running, weeks_open
from tests.workings.power_shops import circuit, lacking, machine, motor, shop

CLOSED = {
    "weekly": [],
    "closed": [
        {"from": "2026-08-03", "to": "2026-08-09", "why": "Summer"},
        {"from": "2026-12-28", "to": "2027-01-03", "why": "Winter"},
    ],
}


def _press(**electric: Any) -> dict[str, Any]:
    made = machine("6 kW", "c", voltage="400 V", phases="three", duty="45 %", **electric)
    return {
        **made, "runs_per_week": "10 h", "capacity": {"throughput": "2 kg/h"},
        "heat": {"heat_up": "40 min", "cool_down": "1 h", "highest": "200 °C"},
        "settings": [{"polymer": "pp", "rate": "1.5 kg/h"}],
    }  # fmt: skip


def _running(study: power.PowerStudy) -> Running:
    return study.energy.running[0]


def test_a_press_by_the_hour_the_kilogram_and_the_year() -> None:
    """6 kW at 45 %: 2.7 kWh an hour, 1.35 a kilogram at 2 kg/h; 40 minutes of heating are 4 kWh.
    365 days less 14 are 50.14 weeks of 10 hours: 1353.9 kWh, at 0.30 EUR 406.16 EUR."""
    study = power.study(
        shop({"c": circuit("L1 L2 L3")}, {"press": _press()}, hours=CLOSED, polymers={})
    )
    row, energy = _running(study), study.energy
    assert row.hour_kwh == pytest.approx(2.7)
    assert row.kilogram_kwh == pytest.approx(1.35)
    assert row.heat_up_kwh == pytest.approx(4)
    assert row.by_polymer_kwh == {"pp": pytest.approx(1.8)}
    assert row.year_kwh == pytest.approx(1353.86, abs=0.01)
    cost = energy.cost(energy.year_kwh)
    assert cost is not None
    assert cost.amount == pytest.approx(406.16, abs=0.01)
    assert cost.currency == "EUR"


def test_closed_days_count_in_the_year_they_begin_in() -> None:
    made = shop({"c": circuit()}, hours=CLOSED)
    assert weeks_open(made.hours) == pytest.approx((365 - 14) / 7)
    assert weeks_open(shop({"c": circuit()}).hours) == pytest.approx(365 / 7)


def test_a_motor_takes_more_than_its_shaft_gives() -> None:
    saw = {**motor("1.5 kW", "c"), "runs_per_week": "2 h"}
    assert _running(power.study(shop({"c": circuit()}, {"saw": saw}))).hour_kwh == pytest.approx(2)


def test_a_motor_without_efficiency_has_no_year() -> None:
    saw = {**lacking(motor("1.5 kW", "c"), "efficiency"), "runs_per_week": "2 h"}
    study = power.study(shop({"c": circuit()}, {"saw": saw}))
    assert (_running(study).known, _running(study).year_kwh) == (False, None)
    year = next(w for w in study.survey.workings if w.id == "power.energy.year")
    assert year.verdict is Verdict.UNANSWERED
    assert any(f.rule == "power.energy" for f in study.survey.findings)


def test_a_heater_on_less_voltage_uses_less_in_an_hour() -> None:
    press = machine("4 kW", "c", voltage="240 V", phases="two")
    study = power.study(
        shop({"c": circuit("L1 L2", "40 A")}, {"press": press}, place="US", profile="US-120-208")
    )
    assert _running(study).hour_kwh == pytest.approx(4 * 0.7511, abs=0.0005)


def test_without_a_price_there_is_no_cost() -> None:
    study = power.study(
        shop({"c": circuit("L1 L2 L3")}, {"press": _press()}, identity={"prices": {}})
    )
    assert study.energy.cost(1.0) is None
    assert any(f.rule == "power.price" for f in study.survey.findings)
    assert all(w.id != "power.energy.cost" for w in study.survey.workings)


def test_a_fan_with_hours_counts_in_the_year() -> None:
    fan = {
        "name": "Fan", "discharge": "outside", "power": "0.5 kW", "power_factor": 0.8,
        "circuit": "c", "runs_per_week": "14 h", "restarts": False,
    }  # fmt: skip
    study = power.study(shop({"c": circuit()}, room={"fans": {"fan": fan}}))
    assert study.energy.year_kwh == pytest.approx(0.5 * 14 * 365 / 7)
