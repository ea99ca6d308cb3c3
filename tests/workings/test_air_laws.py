"""The laws of air against figures worked out by hand and printed by others, and by their nature."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.workings.air import laws

CFM_M3H = 0.3048**3 * 60
FPM_MS = 0.3048 / 60


def near(value: float, expected: str) -> bool:
    """Equal to as many decimals as the expected value is printed with."""
    digits = len(expected.partition(".")[2])
    return abs(value - float(expected)) <= 0.5 * 10**-digits + 1e-9


# --- worked examples of the trade facts --------------------------------------------------------


def test_dilution_to_a_quarter_of_twenty_ppm_of_styrene() -> None:
    aim = laws.mass_concentration_mgm3(0.25 * 20, 104.15)
    assert near(aim, "21.30")
    assert near(laws.dilution_m3h(600, 5, aim), "140.9")


def test_a_room_of_336_m3_clears() -> None:
    assert near(laws.changes_per_hour(500, 336), "1.488")
    assert near(laws.purged_share(30, 500, 336), ".4752")
    assert near(laws.purge_minutes(0.1, 500, 336), "92.84")
    assert near(laws.purge_minutes(0.1, 500, 336, mixing=3), "278.5")


def test_a_room_of_336_m3_fills() -> None:
    assert near(laws.build_up_mgm3(60, 600, 500, 336), ".9290")
    assert near(laws.steady_mgm3(600, 500), "1.200")


@pytest.mark.parametrize(
    ("distance", "plain", "flanged"), [(0.25, "1233", "924.8"), (0.5, "4608", "3456")]
)
def test_a_hood_of_300_by_200(distance: float, plain: str, flanged: str) -> None:
    flow = laws.plain_hood_m3h(0.3 * 0.2, distance, 0.5)
    assert near(flow, plain)
    assert abs(0.75 * flow - float(flanged)) <= 0.051  # the facts round 924.75 up


def test_a_canopy() -> None:
    assert near(laws.canopy_m3h(3, 0.8, 0.5), "6048")


def test_a_duct() -> None:
    assert near(laws.duct_diameter_mm(1000, 10), "188.1")


def test_outdoor_air_for_23_people_on_96_m2() -> None:
    flow = laws.outdoor_air_m3h(23, 96, 5, 0.9)
    assert near(flow, "725.0")
    assert near(flow / 3.6, "201.4")


@pytest.mark.parametrize(
    ("flow_ls", "steady", "hour"), [(201.4, "915.5", "858.3"), (80.0, "1667.5", "1138")]
)
def test_carbon_dioxide_of_twenty_and_three(flow_ls: float, steady: str, hour: str) -> None:
    breathed, flow = 20 * 0.0040 + 3 * 0.0066, flow_ls * 3.6
    assert near(laws.carbon_dioxide_steady_ppm(420, breathed, flow), steady)
    after = laws.carbon_dioxide_ppm(
        60, 420, outdoor_ppm=420, breathed_ls=breathed, flow_m3h=flow, volume_m3=336
    )
    assert near(after, hour)


def test_heat_for_500_m3h() -> None:
    assert near(laws.air_heating_kw(500, 20), "3.353")
    assert laws.air_heating_kw(500, -5) == 0


def test_people_round_down() -> None:
    assert laws.people_for(96, 5) == 19
    assert laws.people_for(96 * 3, 11) == 26


# --- published examples ------------------------------------------------------------------------

# CDC, MMWR 43 (RR-13), 28 October 1994, table S3-1: minutes to remove 90, 99 and 99.9 % in a
# perfectly mixed room, by air changes an hour.
MINUTES_TO_REMOVE = [
    (1, 138, 276, 414),
    (2, 69, 138, 207),
    (4, 35, 69, 104),
    (6, 23, 46, 69),
    (12, 12, 23, 35),
    (20, 7, 14, 21),
]


@pytest.mark.parametrize("row", MINUTES_TO_REMOVE)
def test_purge_times_as_the_cdc_prints_them(row: tuple[int, int, int, int]) -> None:
    changes, *minutes = row
    for left, printed in zip((0.1, 0.01, 0.001), minutes, strict=True):
        assert round(laws.purge_minutes(left, changes * 100, 100)) == printed
        assert laws.purge_minutes(left, changes * 100, 100, 10) == pytest.approx(
            10 * laws.purge_minutes(left, changes * 100, 100)
        )  # "multiply by the mixing factor", the note under the table


def test_a_duct_for_390_cfm_at_4000_fpm() -> None:
    """Industrial ventilation course, solution to design problem 2 (studylib 5901563): 4.23 in."""
    diameter = laws.duct_diameter_mm(390 * CFM_M3H, 4000 * FPM_MS)
    assert near(diameter / 25.4, "4.23")
    assert laws.duct_velocity_ms(390 * CFM_M3H, 4 * 25.4) / FPM_MS == pytest.approx(4471, rel=1e-3)


def test_a_round_hood_over_a_hot_plate() -> None:
    """doityourself.com forum 577527: 75 fpm one foot from 1.07 ft² takes 830 cfm."""
    flow = laws.plain_hood_m3h(1.07 * 0.3048**2, 0.3048, 75 * FPM_MS)
    assert round(flow / CFM_M3H, -1) == 830


def test_outdoor_air_of_a_university_laboratory() -> None:
    """Midwestern State University exercise on ASHRAE 62.1-2016: 24 people, 912 ft²: 404.16 cfm."""
    cfm_ls = CFM_M3H / 3.6
    flow = laws.outdoor_air_m3h(24, 912 * 0.3048**2, 10 * cfm_ls, 0.18 * cfm_ls / 0.3048**2)
    assert near(flow / CFM_M3H, "404.16")


def test_heat_for_a_thousand_cfm_at_85_degrees() -> None:
    """designexperts.ca, make-up air for kitchens: 1.08 · 85 °F · 1000 cfm = 91 800 Btu/h."""
    kilowatts = laws.air_heating_kw(1000 * CFM_M3H, 85 / 1.8)
    assert kilowatts * 3412 == pytest.approx(91_800, rel=0.002)


def test_fifteen_cfm_a_person_hold_a_thousand_ppm() -> None:
    """ASHRAE 62-1989, appendix D: 0.30 l/min a person, 300 ppm outdoors, 7.1 l/s."""
    assert laws.carbon_dioxide_steady_ppm(300, 0.30 / 60, 7.1 * 3.6) == pytest.approx(1000, abs=5)


def test_carbon_dioxide_at_freezing_point() -> None:
    """Persily and de Jonge 2017: at 273 K and 101 kPa it is BMR · M · 0.000484."""
    assert laws.carbon_dioxide_ls(7.0, 1.6, 273, 101) == pytest.approx(
        7.0 * 1.6 * 0.000484, rel=1e-3
    )


# --- what must always be so --------------------------------------------------------------------

emissions = st.floats(1, 1e5)
flows = st.floats(0, 1e4)
flow_pairs = st.tuples(flows, flows).map(sorted)
volumes = st.floats(20, 5000)
mixings = st.floats(1, 10)
minutes_ = st.floats(0, 1000)


def _area(law: object, minutes: float, steps: int = 2000) -> float:
    """The integral of a law over time [value · h], by Simpson's rule."""
    assert callable(law)
    step = minutes / 60 / steps
    values = [law(minutes * n / steps) for n in range(steps + 1)]
    return (
        step
        / 3
        * math.fsum((1 if n in (0, steps) else 4 if n % 2 else 2) * v for n, v in enumerate(values))
    )


@given(emissions, st.floats(0, 3000), volumes, mixings, st.floats(1, 480))
def test_what_is_given_off_is_in_the_air_or_gone(
    emission: float, flow: float, volume: float, mixing: float, minutes: float
) -> None:
    def law(t: float) -> float:
        return laws.build_up_mgm3(t, emission, flow, volume, mixing)

    there, gone = volume * law(minutes), flow / mixing * _area(law, minutes)
    assert there + gone == pytest.approx(emission * minutes / 60, rel=1e-4)


@given(st.floats(0.001, 0.3), st.floats(0, 3000), volumes, st.floats(1, 480))
def test_carbon_dioxide_is_in_the_air_or_gone(
    breathed: float, flow: float, volume: float, minutes: float
) -> None:
    def above(t: float) -> float:
        ppm = laws.carbon_dioxide_ppm(
            t, 420, outdoor_ppm=420, breathed_ls=breathed, flow_m3h=flow, volume_m3=volume
        )
        return (ppm - 420) / 1e6

    there, gone = volume * above(minutes), flow * _area(above, minutes)
    assert there + gone == pytest.approx(breathed * 3.6 * minutes / 60, rel=1e-4)


@given(emissions, flow_pairs, volumes, mixings, minutes_)
def test_more_air_never_makes_it_worse(
    emission: float, two: list[float], volume: float, mixing: float, minutes: float
) -> None:
    less, more = two
    high = laws.build_up_mgm3(minutes, emission, less, volume, mixing)
    assert laws.build_up_mgm3(minutes, emission, more, volume, mixing) <= high * (1 + 1e-9)
    left = laws.purged_share(minutes, less, volume, mixing)
    assert laws.purged_share(minutes, more, volume, mixing) <= left
    assert laws.steady_mgm3(emission, more, mixing) <= laws.steady_mgm3(emission, less, mixing)


@given(st.floats(0, 0.3), flow_pairs, volumes, minutes_, st.floats(420, 3000))
def test_more_air_never_raises_carbon_dioxide(
    breathed: float, two: list[float], volume: float, minutes: float, start: float
) -> None:
    less, more = (
        laws.carbon_dioxide_ppm(
            minutes, start, outdoor_ppm=420, breathed_ls=breathed, flow_m3h=q, volume_m3=volume
        )
        for q in two
    )
    assert more <= less * (1 + 1e-9)


@given(emissions, flows, volumes, st.tuples(mixings, mixings).map(sorted), minutes_)
def test_worse_mixing_never_makes_it_better(
    emission: float, flow: float, volume: float, two: list[float], minutes: float
) -> None:
    good, bad = two
    high = laws.build_up_mgm3(minutes, emission, flow, volume, bad)
    assert laws.build_up_mgm3(minutes, emission, flow, volume, good) <= high * (1 + 1e-9)


@given(st.floats(1, 1e5), st.floats(0.5, 30))
def test_a_duct_of_its_diameter_has_its_velocity(flow: float, velocity: float) -> None:
    diameter = laws.duct_diameter_mm(flow, velocity)
    assert laws.duct_velocity_ms(flow, diameter) == pytest.approx(velocity)


@given(st.floats(0.01, 2), st.floats(0.01, 2), st.floats(0.01, 1), st.floats(0.25, 2.5))
def test_farther_off_never_takes_less(one: float, other: float, area: float, ms: float) -> None:
    near_, far = sorted((one, other))
    assert laws.plain_hood_m3h(area, near_, ms) <= laws.plain_hood_m3h(area, far, ms)


def test_without_a_flow_it_never_settles() -> None:
    assert laws.steady_mgm3(600, 0) == math.inf
    assert laws.purge_minutes(0.1, 0, 336) == math.inf
    assert laws.carbon_dioxide_steady_ppm(420, 0.1, 0) == math.inf
    assert laws.build_up_mgm3(60, 600, 0, 336) == pytest.approx(600 / 336)
