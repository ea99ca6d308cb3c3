"""The formulas of power against worked examples, the trade's and published ones."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.workings.power.circuits import motor_breaker_a, motor_conductor_a
from generator.workings.power.energy import hour_kwh
from generator.workings.power.formulas import (
    as_laid_a,
    awg_mm2,
    heater_power_kw,
    imbalance_percent,
    next_rating_a,
    single_phase_a,
    three_phase_a,
    volt_drop_v,
    with_continuous_a,
)

IEC = (6, 10, 13, 16, 20, 25, 32, 40, 50, 63)
NEC = (15, 20, 25, 30, 35, 40, 45, 50, 60)


# --- worked by hand ----------------------------------------------------------------------------


def test_three_kilowatts_on_a_cable_in_a_bundle() -> None:
    current = single_phase_a(3, 230, 0.95)
    assert current == pytest.approx(13.73, abs=0.005)
    assert next_rating_a(current, IEC) == 16
    assert as_laid_a(27, 0.94, 0.8) == pytest.approx(20.30, abs=0.005)


def test_a_motor_by_its_shaft_and_its_start() -> None:
    current = three_phase_a(7.5, 400, 0.85, 0.88)
    assert current == pytest.approx(14.47, abs=0.005)
    assert 6 * current == pytest.approx(86.83, abs=0.005)


def test_a_continuous_load_under_the_nec() -> None:
    current = single_phase_a(5, 240, 1.0)
    counted = with_continuous_a(0, current, 1.25)
    assert current == pytest.approx(20.83, abs=0.005)
    assert counted == pytest.approx(26.04, abs=0.005)
    assert next_rating_a(counted, NEC) == 30


def test_twelve_kilowatts_with_diversity() -> None:
    assert three_phase_a(12 * 0.65, 400, 0.9) == pytest.approx(12.51, abs=0.005)


def test_uneven_phases() -> None:
    assert imbalance_percent([22, 16, 13]) == pytest.approx(29.41, abs=0.005)


@pytest.mark.parametrize(
    ("run", "voltage", "volts", "percent"),
    [((18, 16, 25), 230, 7.200, 3.130), ((6.4, 20, 40), 400, 5.120, 1.280)],
)
def test_volt_drop(
    run: tuple[float, float, float], voltage: float, volts: float, percent: float
) -> None:
    lost = volt_drop_v(*run)
    assert lost == pytest.approx(volts, abs=0.0005)
    assert 100 * lost / voltage == pytest.approx(percent, abs=0.0005)


def test_a_240_volt_heater_on_208_volts() -> None:
    assert heater_power_kw(1, 240, 208) == pytest.approx(0.7511, abs=0.00005)


def test_a_heater_across_two_phases_draws_on_both() -> None:
    assert single_phase_a(4, 400, 1.0) == pytest.approx(10)


# --- published examples ------------------------------------------------------------------------


def test_a_motor_in_conduit_published_by_a_uk_contractor() -> None:
    """connectuselectrical.com, "Volt drop": 4.5 kW, 230 V, pf 0.7, efficiency 75 %: 37.3 A; a
    40 A fuse at 35 °C needs 42.55 A of the table; 10 mm² of 4.4 mV/A/m over 30 m stays under
    the 5 V allowed."""
    current = single_phase_a(4.5, 230, 0.7, 0.75)
    assert current == pytest.approx(37.3, abs=0.05)
    assert next_rating_a(current, IEC) == 40
    assert 40 / as_laid_a(1, 0.94) == pytest.approx(42.55, abs=0.005)
    assert volt_drop_v(4.4, current, 30) == pytest.approx(4.92, abs=0.01)


def test_a_three_phase_motor_published_in_a_marine_course() -> None:
    """slideshare.net/taliacarbis/918: 40 kW, 415 V, 70 A, pf 0.88, efficiency found 90.3 %."""
    assert three_phase_a(40, 415, 0.88, 0.903) == pytest.approx(70, rel=0.001)


def test_volt_drop_published_in_a_testing_course() -> None:
    """izapp.app, C&G 2391 module 7: 16 A, 18 m of 2.5 mm²: 5.18 V."""
    assert volt_drop_v(18, 16, 18) == pytest.approx(5.18, abs=0.005)


def test_imbalance_published_in_a_meter_manual() -> None:
    """Fluke 43B application guide, motor loads: 33, 29 and 34 A are 9.4 % from even."""
    assert imbalance_percent([33, 29, 34]) == pytest.approx(9.4, abs=0.05)


@pytest.mark.parametrize(
    ("plate", "supply", "watts"), [(240, 208, 751.1), (208, 240, 1331.4), (240, 480, 4000)]
)
def test_heaters_published_by_a_maker(plate: float, supply: float, watts: float) -> None:
    """tutco.com, "Applied voltage vs. rated voltage": 1000 W elements."""
    assert 1000 * heater_power_kw(1, plate, supply) == pytest.approx(watts, abs=0.05)


def test_an_american_motor_circuit_published_for_electricians() -> None:
    """electricianmath.com: 28 A of full-load current needs a conductor for 35 A and allows a
    breaker of 70 A, which is beyond the ratings of our table."""
    assert motor_conductor_a([28], 1.25) == pytest.approx(35)
    assert motor_breaker_a([28], 2.5, NEC) == pytest.approx(70)


@pytest.mark.parametrize(("gauge", "section"), [(14, 2.08), (12, 3.31), (10, 5.26)])
def test_american_gauges(gauge: int, section: float) -> None:
    """ASTM B258, sections as printed in wire tables."""
    assert awg_mm2(gauge) == pytest.approx(section, abs=0.005)


# --- what must hold of any figures -------------------------------------------------------------

power = st.floats(0.001, 100)
volts = st.floats(90, 700)
share = st.floats(0.1, 1)


@given(power, st.floats(0, 50), volts, share, share)
def test_more_power_never_lowers_a_current(
    load: float, more: float, voltage: float, factor: float, efficiency: float
) -> None:
    for formula in (single_phase_a, three_phase_a):
        before = formula(load, voltage, factor, efficiency)
        assert formula(load + more, voltage, factor, efficiency) >= before


@given(power, volts, share)
def test_three_phases_share_what_three_single_ones_draw(
    load: float, voltage: float, factor: float
) -> None:
    """Between phases √3 times the voltage to neutral: each phase carries a third."""
    third = single_phase_a(load / 3, voltage / math.sqrt(3), factor)
    assert three_phase_a(load, voltage, factor) == pytest.approx(third)


@given(st.lists(st.floats(0, 1000), min_size=2, max_size=3), st.floats(0.001, 100))
def test_imbalance_is_a_ratio(currents: list[float], times: float) -> None:
    scaled = imbalance_percent([times * current for current in currents])
    assert scaled == pytest.approx(imbalance_percent(currents), abs=1e-6)


@given(st.floats(0.1, 1000), st.sampled_from([IEC, NEC]))
def test_the_next_rating_is_the_smallest_that_carries(
    current: float, ratings: tuple[float, ...]
) -> None:
    found = next_rating_a(current, ratings)
    enough = [rating for rating in ratings if rating >= current]
    assert found == (enough[0] if enough else None)


@given(power, volts, st.floats(0.5, 2))
def test_a_heaters_current_goes_with_its_voltage(load: float, plate: float, ratio: float) -> None:
    at_plate = single_phase_a(load, plate, 1)
    supply = plate * ratio
    elsewhere = single_phase_a(heater_power_kw(load, plate, supply), supply, 1)
    assert elsewhere == pytest.approx(ratio * at_plate)


def test_an_hour_at_part_duty() -> None:
    assert hour_kwh(6, 45) == pytest.approx(2.7)
