"""The formulas of moulding against worked examples, published tables and an independent solver."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.reference import reference
from generator.workings.moulding.clamp import clamp_kn, plunger_mpa, pressure_mpa
from generator.workings.moulding.cooling import Where, fourier_number, plate_s, rod_s, share_left
from generator.workings.moulding.errors import UnworkableError
from generator.workings.moulding.press import charge_g, fill_mm
from generator.workings.moulding.shot import (
    blend_density_kgm3,
    cavity_mm,
    cold_volume_cm3,
    mass_g,
    melt_cm3,
    volume_share,
    with_reserve,
)
from generator.workings.moulding.warming import heat_kjkg, heater_kw, warm_up_s

SHARE = share_left(210, 40, 80)

# --- worked examples ---------------------------------------------------------------------------


def test_a_plate_of_four_millimetres_cools_to_its_middle_and_to_its_mean() -> None:
    assert plate_s(4, 1e-7, SHARE) == pytest.approx(27.37, abs=0.01)
    assert plate_s(4, 1e-7, SHARE, "mean") == pytest.approx(20.05, abs=0.01)


def test_cooled_from_one_face_it_takes_as_long_as_one_of_twice_the_thickness() -> None:
    assert plate_s(2 * 4, 1e-7, SHARE) == pytest.approx(109.5, abs=0.05)


def test_a_rod_of_ten_millimetres_cools_to_its_axis_and_to_its_mean() -> None:
    # 82.92 and 46.61 s are the first term's; the mean's second term still counts for 0.2 %.
    assert rod_s(10, 1e-7, SHARE) == pytest.approx(82.92, rel=5e-4)
    assert rod_s(10, 1e-7, SHARE, "mean") == pytest.approx(46.61, rel=3e-3)


def test_a_solid_sheet_warms_through_in_minutes_and_a_bed_as_thick_as_its_flake_in_many() -> None:
    to_go = (170 - 200) / (20 - 200)
    assert plate_s(10, 1e-7, to_go) == pytest.approx(206.0, abs=0.05)
    assert plate_s(25.9, 1e-7, to_go) / 60 == pytest.approx(23, abs=0.1)


def test_a_shot_of_two_cavities_its_melt_and_its_reserve() -> None:
    shot_g = mass_g(cold_volume_cm3(2 * 18 + 4, 2), 955)
    assert shot_g == pytest.approx(35.95, abs=0.005)
    melt = melt_cm3(shot_g, 750)
    assert melt == pytest.approx(47.94, abs=0.01)
    assert with_reserve(melt, 10) == pytest.approx(52.73, abs=0.01)


def test_a_cavity_is_longer_than_its_part() -> None:
    assert cavity_mm(100, 2) == pytest.approx(102.04, abs=0.005)


def test_the_force_that_keeps_a_mould_shut() -> None:
    force = clamp_kn(120, 25, 1.1)
    assert force == pytest.approx(330)
    assert force / 9.80665 == pytest.approx(33.65, abs=0.005)  # tonnes-force
    assert pressure_mpa(force, 120) == pytest.approx(25 * 1.1)


def test_the_pressure_under_a_hand_plunger() -> None:
    assert plunger_mpa(5, 25) == pytest.approx(10.19, abs=0.005)


def test_the_heat_of_a_kilogram_and_the_power_of_five_an_hour() -> None:
    heat = heat_kjkg(20, 130, 200, solid_jkgk=2300, melt_jkgk=2550, latent_kjkg=200)
    assert heat == pytest.approx(631.5)
    assert heat / 3600 == pytest.approx(0.1754, abs=5e-5)
    assert heater_kw(5, heat, 0.55) == pytest.approx(1.595, abs=5e-4)


def test_below_its_melting_point_plastic_takes_up_no_latent_heat() -> None:
    assert heat_kjkg(20, 130, 100, solid_jkgk=2300, melt_jkgk=2550, latent_kjkg=200) == 184.0


def test_a_barrel_and_two_platens_warm_up_against_their_losses() -> None:
    assert warm_up_s(18 * 480, 1200, 180, 2) == pytest.approx(1541, abs=0.5)
    assert warm_up_s(18 * 480, 1200, 180) == 1296
    assert warm_up_s(33.75 * 900, 3000, 180, 6) == pytest.approx(2259, abs=0.5)


def test_a_sheet_its_charge_and_how_high_its_flake_stands() -> None:
    sheet = mass_g(50 * 50 * 1, 955)
    assert sheet == pytest.approx(2388, abs=0.5)
    charge = charge_g(sheet, 3)
    assert charge == pytest.approx(2461, abs=1)
    assert fill_mm(charge, 380, 2500) == pytest.approx(25.91, abs=0.005)


def test_the_density_of_a_blend_and_the_volume_of_its_part() -> None:
    parts = ((0.3, 905.0), (0.7, 955.0))
    assert blend_density_kgm3(parts) == pytest.approx(939.4, abs=0.05)
    assert volume_share(parts, 0) == pytest.approx(0.3114, abs=5e-5)


# --- published figures beyond them -------------------------------------------------------------


@pytest.mark.parametrize(
    ("gone", "time_factor"), [(0.1, 0.00785), (0.3, 0.0707), (0.5, 0.197), (0.9, 0.848)]
)
def test_the_mean_of_a_plate_follows_the_time_factors_of_consolidation(
    gone: float, time_factor: float
) -> None:
    """The same series runs a clay layer's consolidation (Terzaghi, Theoretical Soil Mechanics,
    1943): its time factor is on half the thickness, its degree what has gone."""
    assert 4 * fourier_number("plate", "mean", 1 - gone) == pytest.approx(time_factor, rel=5e-3)


@pytest.mark.parametrize("gone", [0.05, 0.1, 0.2, 0.4])
def test_early_on_the_mean_goes_with_the_square_root_of_time(gone: float) -> None:
    """The usual closed form of the same table: Tv = pi/4 U², under 60 %."""
    assert 4 * fourier_number("plate", "mean", 1 - gone) == pytest.approx(
        math.pi / 4 * gone**2, rel=5e-3
    )


def _by_steps(shape: str, where: str, share: float, cells: int = 100) -> float:
    """Fourier number by stepping heat from cell to cell, knowing nothing of the series."""
    step, hot, time, before = 0.25, np.ones(cells), 0.0, 1.0
    width = np.ones(cells) if shape == "plate" else (np.arange(cells) + 0.5) / cells
    face = np.ones(cells) if shape == "plate" else (np.arange(cells) + 1.0) / cells
    while True:
        flow = face * np.append(np.diff(hot), -2 * hot[-1])  # the wall is half a cell away
        hot = hot + step * np.diff(flow, prepend=0.0) / width
        time += step / cells**2
        left = float(hot[0] if where == "middle" else (hot * width).sum() / width.sum())
        if left <= share:
            early = (share - left) / (before - left) * step / cells**2
            return (time - early) / (4 if shape == "plate" else 1)  # on the thickness
        before = left


@pytest.mark.parametrize("shape", ["plate", "rod"])
@pytest.mark.parametrize("where", ["middle", "mean"])
@pytest.mark.parametrize("share", [0.9, 0.8, 0.5, 0.2])
def test_the_series_agrees_with_heat_stepped_from_cell_to_cell(
    shape: str, where: Where, share: float
) -> None:
    stepped = _by_steps(shape, where, share)
    found = fourier_number(shape, where, share)  # type: ignore[arg-type]
    assert found == pytest.approx(stepped, rel=0.015)


# --- where the first term is not enough --------------------------------------------------------


def _first(coefficient: float, share: float) -> float:
    return math.log(coefficient / share) / math.pi**2


def test_the_first_term_alone_is_good_to_half_a_per_cent_only_so_far() -> None:
    for share in (0.1, 0.3, 0.5, 0.7):
        whole = fourier_number("plate", "middle", share)
        assert _first(4 / math.pi, share) == pytest.approx(whole, rel=5e-3)
    for share in (0.1, 0.3, 0.5):
        whole = fourier_number("plate", "mean", share)
        assert _first(8 / math.pi**2, share) == pytest.approx(whole, rel=5e-3)


def test_near_the_melt_the_first_term_is_a_fifth_out_or_negative_and_the_series_is_not() -> None:
    whole = fourier_number("plate", "middle", 0.95)
    assert _first(4 / math.pi, 0.95) / whole - 1 == pytest.approx(0.19, abs=0.01)
    assert _first(8 / math.pi**2, 0.82) < 0 < fourier_number("plate", "mean", 0.82)


# --- published errors --------------------------------------------------------------------------


def test_not_the_four_pi_squared_of_a_web_calculator() -> None:
    found = plate_s(8, 1e-7, share_left(240, 60, 120))
    assert found == pytest.approx(86.90, abs=0.005)
    assert found == pytest.approx(4 * 21.7, rel=2e-3)


def test_not_pounds_shown_as_tons() -> None:
    area_cm2, pressure = 110 * 2.54**2, 4500 * 0.006894757
    force = clamp_kn(area_cm2, pressure, 1.15)
    assert force == pytest.approx(2532, abs=0.5)
    assert force / (2000 * 0.00444822) == pytest.approx(284.6, abs=0.1)  # short tons


@pytest.mark.parametrize("mm_per_mm", [0.09, 0.11])
def test_not_a_shrinkage_printed_in_the_wrong_place(mm_per_mm: float) -> None:
    with pytest.raises(UnworkableError, match="no thermoplastic"):
        cavity_mm(100, 100 * mm_per_mm)
    with pytest.raises(UnworkableError):
        cold_volume_cm3(40, 100 * mm_per_mm)


def test_not_the_diffusivity_that_its_own_table_contradicts() -> None:
    for code, printed in (("PP", 0.65e-7), ("PS", 0.6e-7)):
        polymer = reference().polymer(code)
        assert polymer.variants["diffusivity.as-printed"].middle == printed
        assert polymer.diffusivity.middle > printed
        assert polymer.diffusivity.source != polymer.variants["diffusivity.as-printed"].source


# --- what is refused ---------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("melt", "mould", "ejection"), [(210, 40, 230), (210, 40, 210), (210, 90, 80), (210, 80, 80)]
)
def test_temperatures_out_of_order_are_refused(melt: float, mould: float, ejection: float) -> None:
    with pytest.raises(UnworkableError, match="do not stand in that order"):
        share_left(melt, mould, ejection)


@pytest.mark.parametrize("share", [0.0, -0.1, 1.0, 1.2, 0.9995])
def test_a_share_that_nothing_can_leave_with_is_refused(share: float) -> None:
    with pytest.raises(UnworkableError):
        plate_s(4, 1e-7, share)


def test_a_heater_that_loses_all_it_gives_is_refused() -> None:
    with pytest.raises(UnworkableError, match="never warms"):
        warm_up_s(8640, 360, 180, 2)
    assert warm_up_s(8640, 361, 180, 2) > 0


@pytest.mark.parametrize("percent", [-0.1, 6.01, 9])
def test_a_shrinkage_out_of_range_is_refused(percent: float) -> None:
    with pytest.raises(UnworkableError):
        cavity_mm(100, percent)


# --- laws --------------------------------------------------------------------------------------

walls = st.floats(0.5, 50)
factors = st.floats(1.01, 10)
shares = st.floats(0.02, 0.99)
places: st.SearchStrategy[Where] = st.sampled_from(["middle", "mean"])


@given(walls, factors, shares, places)
def test_thicker_by_a_factor_takes_its_square_longer(
    wall: float, factor: float, share: float, where: Where
) -> None:
    assert plate_s(wall * factor, 1e-7, share, where) == pytest.approx(
        factor**2 * plate_s(wall, 1e-7, share, where)
    )
    assert rod_s(wall * factor, 1e-7, share, where) > rod_s(wall, 1e-7, share, where)


@given(walls, shares, shares, places)
def test_cooler_at_ejection_is_never_quicker(
    wall: float, one: float, other: float, where: Where
) -> None:
    cool, warm = sorted((one, other))
    assert plate_s(wall, 1e-7, cool, where) >= plate_s(wall, 1e-7, warm, where)
    assert rod_s(wall, 1e-7, cool, where) >= rod_s(wall, 1e-7, warm, where)


@given(walls, shares)
def test_the_mean_is_never_later_than_the_middle_and_a_rod_never_than_a_plate(
    wall: float, share: float
) -> None:
    assert plate_s(wall, 1e-7, share, "mean") <= plate_s(wall, 1e-7, share)
    assert rod_s(wall, 1e-7, share) <= plate_s(wall, 1e-7, share)


@given(st.floats(0.1, 5000), st.floats(300, 2000), st.floats(0, 6))
def test_mass_follows_volume_and_shrinkage_only_takes_away(
    volume: float, density: float, shrinkage: float
) -> None:
    assert mass_g(2 * volume, density) == pytest.approx(2 * mass_g(volume, density))
    assert cold_volume_cm3(volume, shrinkage) <= volume
    assert cavity_mm(volume, shrinkage) * (1 - shrinkage / 100) == pytest.approx(volume)


@given(st.lists(st.tuples(st.floats(0.01, 1), st.floats(800, 1500)), min_size=1, max_size=6))
def test_a_blend_is_as_dense_as_something_between_its_parts(
    parts: list[tuple[float, float]],
) -> None:
    densities = [density for _share, density in parts]
    slack = 1e-9 * max(densities)
    assert min(densities) - slack <= blend_density_kgm3(parts) <= max(densities) + slack
    assert sum(volume_share(parts, n) for n in range(len(parts))) == pytest.approx(1)


@given(st.floats(1, 1e5), st.floats(100, 1e5), st.floats(1, 300), st.floats(0, 5))
def test_losses_never_make_it_quicker(heat: float, power: float, rise: float, loss: float) -> None:
    if loss * rise < 0.999 * power:
        assert warm_up_s(heat, power, rise, loss) >= warm_up_s(heat, power, rise) * (1 - 1e-12)
