"""Whether a mould runs in a polymer on a machine, why not, and what a number of parts takes.

Expected figures are worked by hand beside each test.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from generator.ground.finding import Severity
from generator.ground.working import Verdict, Working
from generator.shop.load import load_shop
from generator.shop.shop import Shop
from generator.workings import moulding
from generator.workings.moulding import Fit, MouldingStudy
from tests.small import SMALLEST
from tests.workings.moulding_shops import BLENDS, MACHINES, MOULDS, POLYMERS, TRIALS, moulding_shop


def found(folder: Path, **files: str) -> MouldingStudy:
    return moulding.study(moulding_shop(folder, **files))


def working(study: MouldingStudy, id_: str) -> Working:
    return next(w for w in study.survey.workings if w.id == id_)


def rules(study: MouldingStudy) -> set[str]:
    return {f.rule for f in study.survey.findings}


# --- figures -----------------------------------------------------------------------------------


def test_a_shot_is_held_to_the_machine_as_melt_with_its_reserve(tmp_path: Path) -> None:
    # (18 + 4) cm³ at 905 kg/m³ is 19.91 g; at 740 as melt 26.9 cm³, and a tenth more 29.6.
    shot = working(found(tmp_path), "moulding.hook.plunger.pp.shot")
    assert shot.result.value == pytest.approx(29.596, abs=0.005)
    assert shot.verdict is Verdict.HOLDS
    assert shot.margin and shot.margin.value == pytest.approx(0.404, abs=0.005)


def test_a_hand_plunger_is_held_to_its_own_class_and_to_what_it_gives(tmp_path: Path) -> None:
    # 12 cm² at the plunger's 10 MPa, and a tenth more: 13.2 kN. At PP's 34 MPa it would be 44.9.
    clamp = working(found(tmp_path), "moulding.hook.plunger.pp.clamp")
    assert clamp.result.value == pytest.approx(13.2)
    assert clamp.verdict is Verdict.HOLDS


def test_a_screw_is_held_to_the_polymers_pressure(tmp_path: Path) -> None:
    # 12 cm² at 34 MPa, and a tenth more.
    clamp = working(found(tmp_path), "moulding.hook.screw.pp.clamp")
    assert clamp.result.value == pytest.approx(44.88)


def test_a_part_cools_by_its_thickest_wall(tmp_path: Path) -> None:
    # 27.37 s at a diffusivity of 1e-7 is 36.5 at PP's 0.75e-7.
    cooling = working(found(tmp_path), "moulding.hook.screw.pp.cooling")
    assert cooling.result.value == pytest.approx(27.37 / 0.75, abs=0.02)


def test_a_round_part_cools_as_a_rod(tmp_path: Path) -> None:
    moulds = MOULDS.replace("wall: 4 mm", "wall: 10 mm\n  form: cylinder", 1)
    cooling = working(found(tmp_path, moulds=moulds), "moulding.hook.screw.pp.cooling")
    assert cooling.result.value == pytest.approx(82.92 / 0.75, rel=5e-4)


def test_a_charge_holds_what_leaves_as_flash_and_stands_higher_than_its_sheet(
    tmp_path: Path,
) -> None:
    # 900 cm³ at 955 is 859.5 g; 3 % of the charge is lost: 886.1 g. At 380 on 1150 cm²: 20.3 mm.
    study = found(tmp_path)
    charge = working(study, "moulding.sheet.press.pe-hd.charge")
    assert charge.result.value == pytest.approx(0.8861, abs=5e-5)
    fill = working(study, "moulding.sheet.press.pe-hd.fill")
    assert fill.result.value == pytest.approx(20.28, abs=0.005)


def test_flash_that_is_written_is_the_charges_own(tmp_path: Path) -> None:
    moulds = MOULDS.replace("sprue: 0 cm³", "sprue: 12 cm³")
    charge = working(found(tmp_path, moulds=moulds), "moulding.sheet.press.pe-hd.charge")
    assert charge.result.value == pytest.approx(912 * 0.955 / 1000)


def test_a_press_is_held_to_the_pressure_a_bed_closes_at(tmp_path: Path) -> None:
    # 160 kN over 1150 cm² is 1.39 MPa, and 0.3 will do.
    pressure = working(found(tmp_path), "moulding.sheet.press.pe-hd.pressure")
    assert pressure.result.value == pytest.approx(1.391, abs=5e-4)
    assert pressure.verdict is Verdict.HOLDS


def test_a_mould_is_cut_longer_by_its_shrinkage(tmp_path: Path) -> None:
    # PP shrinks by 1.2 to 2.4 %: 100 mm come from 101.21 to 102.46.
    run = found(tmp_path).matrix.cell("hook", "screw", "pp").run
    assert run is not None
    length = run.lengths[0]
    assert (length.least_mm, length.most_mm) == pytest.approx((101.215, 102.459), abs=1e-3)
    # Its own 2 % for PE-HD is a plain figure: 100 mm come from 102.04.
    plain = found(tmp_path).matrix.cell("hook", "screw", "pe-hd").run
    assert plain is not None
    assert plain.lengths[0].least_mm == plain.lengths[0].most_mm == pytest.approx(102.04, abs=5e-3)


def test_heat_and_electricity_of_a_part(tmp_path: Path) -> None:
    trials = TRIALS + "T1,2026-03-01,screw,hook,plain,good,210,40,60,60,16.3,\n"
    priced = (SMALLEST / "shop.yml").read_text() + "prices: {electricity: 0.30 EUR/kWh}\n"
    study = found(tmp_path, trials_csv=trials, shop=priced)
    cost = working(study, "moulding.hook.screw.pp.cost")
    assert (cost.result.value, cost.result.unit) == (pytest.approx(0.02), "EUR")
    # 8 kW at half power for 60 s is 66.7 Wh.
    energy = working(study, "moulding.hook.screw.pp.energy")
    assert energy.result.value == pytest.approx(8 * 0.5 * 60 / 3600)
    # From 20 °C: 2.0 (165 - 20) + 95 + 2.7 (210 - 165) = 506.5 kJ/kg; 4 kg/h at 0.55 is 1.02 kW.
    heaters = working(study, "moulding.screw.pp.heaters")
    assert heaters.result.value == pytest.approx(4 * 506.5 / 3600 / 0.55, rel=1e-4)


# --- time --------------------------------------------------------------------------------------

TAG = """\
tag:
  name: Tag
  machines: [plunger, screw]
  part_volume: 5 cm³
  wall: 2 mm
  projected: 6 cm²
  outer: 100 x 60 x 50 mm
  mass: 1 kg
  cooling: 40 s
  kept_at: cutting
"""


def test_a_press_is_never_told_how_long_to_heat(tmp_path: Path) -> None:
    cell = found(tmp_path).matrix.cell("sheet", "press", "pe-hd")
    assert cell.fit is Fit.POSSIBLE
    assert cell.run is not None
    assert cell.run.cycle is None
    assert [reason.key for reason in cell.reasons] == ["not-timed"]
    order = found(tmp_path).order("sheet", "press", "pe-hd", 12)
    assert order.total_min is None
    assert "not known until one has been timed" in order.says


def test_what_a_press_cannot_beat_is_shown_as_that_and_is_far_below_a_trial(tmp_path: Path) -> None:
    # Mould: 10 kg x 900 x (185 - 20) = 1485 kJ. Charge: 0.886 kg x (2.3 x 111 + 200 + 2.55 x 54).
    least = working(found(tmp_path), "moulding.sheet.press.pe-hd.heating")
    charge = 0.8861 * (2.3 * (131 - 20) + 200 + 2.55 * (185 - 131))
    assert least.result.value == pytest.approx((1485 + charge) / 6, rel=1e-4)
    assert least.verdict is Verdict.INFORMS


def test_a_trials_own_time_is_the_cycle_and_the_press_is_free_while_the_mould_cools(
    tmp_path: Path,
) -> None:
    blends = BLENDS.replace("polymer: pp", "polymer: pe-hd")
    trials = TRIALS + "T1,2026-03-01,press,sheet,plain,good,185,,1.2,4260,860,\n"
    run = (
        found(tmp_path, blends=blends, trials_csv=trials).matrix.cell("sheet", "press", "pe-hd").run
    )
    assert run is not None
    assert run.cycle is not None
    assert run.cycle.seconds == 4260
    assert run.press_is_busy_s == 4260 - 30 * 60
    assert run.hot_min == 41


def test_without_a_trial_an_injector_takes_the_handling_of_its_other_moulds(tmp_path: Path) -> None:
    # Tag took 90 s, of which 40 cooling and 6 hold: 44 s of handling. Hook: 36.5 + 6 + 44.
    trials = TRIALS + "T1,2026-03-01,screw,tag,plain,good,210,40,60,90,4.5,\n"
    study = found(tmp_path, moulds=MOULDS + TAG, trials_csv=trials)
    cycle = study.cycles["hook", "screw", "pp"]
    assert cycle.seconds == pytest.approx(27.37 / 0.75 + 6 + 44, abs=0.03)
    assert cycle.handling is not None
    assert (cycle.handling.seconds, cycle.handling.of) == (44, 1)


def test_a_cycle_is_never_shorter_than_melting_the_shot(tmp_path: Path) -> None:
    # 19.91 g at 0.6 kg/h take 119.5 s; cooling, hold and handling make 86.5.
    trials = TRIALS + "T1,2026-03-01,plunger,tag,plain,good,210,40,9,90,4.5,\n"
    study = found(tmp_path, moulds=MOULDS + TAG, trials_csv=trials)
    assert study.cycles["hook", "plunger", "pp"].seconds == pytest.approx(119.46, abs=0.01)


def test_without_any_trial_on_the_machine_there_is_no_cycle(tmp_path: Path) -> None:
    assert found(tmp_path).cycles == {}


def test_plastic_that_stays_hot_too_long_is_minded(tmp_path: Path) -> None:
    # A barrel of 40 cm³ and a tag's 6.1 cm³ of melt: 6.5 cycles of 240 s are 26 min, and may be 20.
    trials = TRIALS + "T1,2026-03-01,plunger,tag,plain,good,210,40,9,240,4.5,\n"
    study = found(tmp_path, moulds=MOULDS + TAG, trials_csv=trials)
    hot = working(study, "moulding.tag.plunger.pp.hot")
    assert hot.result.value == pytest.approx(40 / (5 * 905 / 740) * 4, rel=1e-6)
    assert hot.verdict is Verdict.FAILS
    cell = study.matrix.cell("tag", "plunger", "pp")
    assert [reason.key for reason in cell.reasons] == ["hot-hold"]
    assert cell.fit is Fit.PROVEN


# --- the trial book ----------------------------------------------------------------------------

RESULTS = [
    (["good"], Fit.PROVEN),
    (["failed"], Fit.FAILED),
    (["failed", "good"], Fit.PROVEN),
    (["good", "failed"], Fit.PROVEN),
    (["failed", "usable"], Fit.POSSIBLE),
    ([], Fit.POSSIBLE),
]


@pytest.mark.parametrize(("results", "fit"), RESULTS)
def test_the_trial_book_decides(tmp_path: Path, results: list[str], fit: Fit) -> None:
    rows = [
        f"T{n},2026-03-0{n + 1},screw,hook,plain,{result},210,40,60,60,16.3,"
        for n, result in enumerate(results)
    ]
    study = found(tmp_path, trials_csv=TRIALS + "\n".join(rows) + "\n")
    assert study.matrix.cell("hook", "screw", "plain").fit is fit
    assert study.matrix.cell("hook", "screw", "pp").fit is fit


def test_the_book_shows_the_last_known_good_beside_the_window(tmp_path: Path) -> None:
    trials = TRIALS + (
        "T2,2026-03-09,screw,hook,plain,good,215,40,60,60,16.3,\n"
        "T1,2026-03-01,screw,hook,plain,good,205,40,60,60,16.3,\n"
        "T3,2026-03-10,screw,hook,plain,failed,230,40,60,60,16.3,burn\n"
    )
    (entry,) = found(tmp_path, trials_csv=trials).book
    assert [trial.trial for trial in entry.trials] == ["T1", "T2", "T3"]
    assert entry.last_good is not None
    assert entry.last_good.trial == "T2"
    assert entry.window is not None
    assert (entry.window.low, entry.window.high) == (190, 240)  # extrusion's: the machine is open
    assert entry.card is not None
    assert entry.card.melt_c == 210


def test_a_good_trial_against_the_figures_says_that_one_of_them_is_wrong(tmp_path: Path) -> None:
    trials = TRIALS + "T1,2026-03-01,plunger,hook,plain,good,210,40,9,60,30,\n"
    moulds = MOULDS.replace("part_volume: 18 cm³", "part_volume: 33 cm³")
    study = found(tmp_path, moulds=moulds, trials_csv=trials)
    cell = study.matrix.cell("hook", "plunger", "plain")
    assert cell.fit is Fit.PROVEN
    assert [reason.key for reason in cell.against] == ["shot"]
    assert "moulding.contradicted" in rules(study)


def test_cards_trials_and_scales_that_disagree_are_found(tmp_path: Path) -> None:
    trials = TRIALS + "T1,2026-03-01,screw,hook,plain,good,250,40,60,60,19.9,\n"
    study = found(tmp_path, trials_csv=trials)
    told = {f.rule: f for f in study.survey.findings}
    assert "210\u202f°C" in told["moulding.card-differs"].says
    assert told["moulding.trial-above-window"].severity is Severity.FIX
    # 18 cm³ at 905 make 16.29 g, and 19.9 is 22 % more.
    assert "(22 %)" in told["moulding.weighs-otherwise"].says


# --- why not -----------------------------------------------------------------------------------


def keys(study: MouldingStudy, mould: str, machine: str, material: str) -> list[str]:
    return [reason.key for reason in study.matrix.cell(mould, machine, material).against]


def test_a_mould_on_another_machine_has_every_reason(tmp_path: Path) -> None:
    against = keys(found(tmp_path), "sheet", "plunger", "pp")
    # 900 cm³ in a shot of 30, and 1150 cm² at 5 MPa and a tenth more: 632 kN on a clamp of 20.
    assert against == ["not-for-machine", "platen", "shot", "clamp"]


def test_a_mould_may_lie_either_way_between_the_platens(tmp_path: Path) -> None:
    turned = MOULDS.replace("outer: 150 x 100 x 80 mm", "outer: 130 x 175 x 80 mm")
    assert "platen" not in keys(found(tmp_path, moulds=turned), "hook", "plunger", "pp")
    large = MOULDS.replace("outer: 150 x 100 x 80 mm", "outer: 150 x 145 x 130 mm")
    study = found(tmp_path, moulds=large)
    assert keys(study, "hook", "plunger", "pp") == ["platen", "daylight"]
    assert {"moulding.platen", "moulding.daylight"} <= rules(study)


def test_a_recipe_is_run_only_where_it_is_written_for(tmp_path: Path) -> None:
    blends = BLENDS.replace("[plunger, screw, press]", "[press]")
    assert keys(found(tmp_path, blends=blends), "hook", "screw", "plain") == ["not-for-blend"]


def test_what_is_not_written_is_asked_and_never_guessed(tmp_path: Path) -> None:
    machines = MACHINES.replace("shot: 45 cm³, ", "").replace("clamp: 150 kN,", "")
    cell = found(tmp_path, machines=machines).matrix.cell("hook", "screw", "pp")
    assert cell.fit is Fit.ASK
    assert [reason.key for reason in cell.reasons] == ["shot", "clamp"]


def test_a_setting_above_the_open_window_is_a_no_and_a_finding(tmp_path: Path) -> None:
    # 250 °C is inside the closed machine's 204 to 260, and above the open one's 240.
    machines = MACHINES.replace("melt: 210 °C, mould: 40 °C, rate: 4 kg/h", "melt: 250 °C")
    study = found(tmp_path, machines=machines)
    assert keys(study, "hook", "screw", "pp") == ["above-window"]
    assert working(study, "moulding.screw.pp.melt").verdict is Verdict.FAILS
    assert "moulding.above-window" in rules(study)


def test_a_polymer_that_wants_more_than_the_machine_gives_is_a_no(tmp_path: Path) -> None:
    polymers = POLYMERS + "pc: {code: PC, name: PC, status: taken}\n"
    assert "too-cold" in keys(found(tmp_path, polymers=polymers), "hook", "plunger", "pc")


# --- never -------------------------------------------------------------------------------------

NEVER = ["PVC", "pvc-u", "PVC-P", "PC+PVC", "POM", "PTFE", '"7"', "unknown"]


@pytest.mark.parametrize("code", NEVER)
def test_what_must_never_be_heated_is_refused_on_every_machine(tmp_path: Path, code: str) -> None:
    polymers = POLYMERS + f"suspect: {{code: {code}, name: Grey pipe, status: taken}}\n"
    machines = MACHINES + "    - {polymer: suspect, melt: 185 °C}\n"
    study = found(tmp_path, polymers=polymers, machines=machines)
    for mould, machine in (("hook", "plunger"), ("hook", "screw"), ("sheet", "press")):
        cell = study.matrix.cell(mould, machine, "suspect")
        assert cell.fit is Fit.REFUSED
        assert cell.run is None
        assert cell.reasons[0].says
        order = study.order(mould, machine, "suspect", 12)
        assert order.energy_kwh is None
        assert "refused" in order.says
    assert not [w for w in study.survey.workings if "suspect" in w.id]


def test_a_good_trial_never_outweighs_a_refusal(tmp_path: Path) -> None:
    polymers = POLYMERS + "suspect: {code: PVC, name: Grey pipe, status: taken}\n"
    blends = BLENDS.replace("polymer: pp, share: 100 %", "polymer: suspect, share: 100 %")
    trials = TRIALS + "T1,2026-03-01,screw,hook,plain,good,190,40,60,60,16.3,\n"
    study = found(tmp_path, polymers=polymers, blends=blends, trials_csv=trials)
    assert study.matrix.cell("hook", "screw", "plain").fit is Fit.REFUSED


@pytest.mark.parametrize("share", ["0.1 %", "40 %"])
def test_one_refused_part_refuses_a_blend_at_any_share(tmp_path: Path, share: str) -> None:
    polymers = POLYMERS + "suspect: {code: POM, name: Gears, status: paused}\n"
    rest = f"{100 - float(share.removesuffix(' %'))} %"
    parts = f"[{{polymer: pp, share: {rest}}}, {{polymer: suspect, share: {share}}}]"
    blends = BLENDS.replace("[{polymer: pp, share: 100 %}]", parts)
    cell = found(tmp_path, polymers=polymers, blends=blends).matrix.cell("hook", "screw", "plain")
    assert cell.fit is Fit.REFUSED


def test_a_machine_set_for_pom_and_pvc_is_refused_to_everything(tmp_path: Path) -> None:
    polymers = POLYMERS + (
        "gears: {code: POM, name: Gears, status: refused}\n"
        "pipe: {code: PVC, name: Pipe, status: refused}\n"
    )
    machines = MACHINES + "    - {polymer: gears}\n    - {polymer: pipe}\n"
    cell = found(tmp_path, polymers=polymers, machines=machines).matrix.cell("sheet", "press", "pp")
    assert cell.fit is Fit.REFUSED
    assert cell.reasons[0].key == "never-together"


# --- temperatures and shrinkage that cannot be -------------------------------------------------


@pytest.mark.parametrize(("ejection", "fit"), [("230 °C", Fit.NO), ("80 °C", Fit.POSSIBLE)])
def test_ejection_above_the_melt_is_refused(tmp_path: Path, ejection: str, fit: Fit) -> None:
    polymers = POLYMERS.replace("density: 905 kg/m³", f"density: 905 kg/m³, ejection: {ejection}")
    cell = found(tmp_path, polymers=polymers).matrix.cell("hook", "screw", "pp")
    assert cell.fit is fit
    if fit is Fit.NO:
        assert [reason.key for reason in cell.against] == ["ejection"]
        assert cell.run is not None
        assert cell.run.cooling is None


def test_a_shrinkage_out_of_range_is_asked_about_and_cuts_no_mould(tmp_path: Path) -> None:
    polymers = POLYMERS.replace("density: 905 kg/m³", "density: 905 kg/m³, shrinkage: 9 %")
    study = found(tmp_path, polymers=polymers)
    cell = study.matrix.cell("hook", "screw", "pp")
    assert cell.fit is Fit.ASK
    assert [reason.key for reason in cell.reasons] == ["shrinkage"]
    assert cell.run is not None
    assert cell.run.lengths == ()
    assert "moulding.shrinkage" in rules(study)


# --- drying ------------------------------------------------------------------------------------

DRYER = """\
dryer:
  name: Dryer
  kind: drying-cabinet
  station: cutting
  heat: {heat_up: 30 min, cool_down: 45 min, highest: 120 °C}
  settings:
    - {polymer: abs, drying_at: 85 °C, drying_for: 3 h}
"""
ABS = "abs: {code: ABS, name: ABS, status: taken, own: {density: 1050 kg/m³}}\n"
SIGNED = "  first_heat: [{check: over-temperature-cut-out, done: 2026-01-12}]\n"
WAITING = "  first_heat: [{check: over-temperature-cut-out}]\n"


@pytest.mark.parametrize(
    ("dryer", "fit"),
    [
        ("", Fit.NO),
        (DRYER + WAITING, Fit.NO),
        (DRYER, Fit.ASK),
        (DRYER + SIGNED, Fit.POSSIBLE),
        (DRYER.replace("85 °C", "60 °C") + SIGNED, Fit.NO),
        (DRYER.replace("3 h", "1 h") + SIGNED, Fit.NO),
        (DRYER.replace("polymer: abs", "polymer: ps") + SIGNED, Fit.NO),
    ],
)
def test_what_drinks_water_needs_a_dryer_that_works(tmp_path: Path, dryer: str, fit: Fit) -> None:
    study = found(tmp_path, polymers=POLYMERS + ABS, machines=MACHINES + dryer)
    cell = study.matrix.cell("hook", "screw", "abs")
    assert cell.fit is fit
    assert ("moulding.wet" in rules(study)) == (fit is not Fit.POSSIBLE)


def test_a_polymer_that_drinks_no_water_needs_none(tmp_path: Path) -> None:
    assert found(tmp_path).matrix.cell("hook", "screw", "ps").fit is Fit.POSSIBLE


# --- blends of two polymers --------------------------------------------------------------------


@pytest.mark.parametrize(("share", "fit"), [(8, Fit.POSSIBLE), (10, Fit.POSSIBLE), (15, Fit.NO)])
def test_a_second_polymer_is_tolerated_up_to_a_share(tmp_path: Path, share: int, fit: Fit) -> None:
    parts = f"[{{polymer: pp, share: {100 - share} %}}, {{polymer: pe-hd, share: {share} %}}]"
    blends = BLENDS.replace("[{polymer: pp, share: 100 %}]", parts)
    cell = found(tmp_path, blends=blends).matrix.cell("hook", "screw", "plain")
    assert cell.fit is fit
    assert cell.run is not None
    # 1/rho = w/905 + v/955
    rho = 1 / ((1 - share / 100) / 905 + share / 100 / 955)
    assert cell.run.part_g == pytest.approx(18 * rho / 1000)


def test_blends_that_differ_in_colour_alone_are_worked_out_once(tmp_path: Path) -> None:
    many = "".join(BLENDS.replace("plain:", f"plain-{n}:") for n in range(30))
    study = found(tmp_path, blends=many)
    cells = [c for c in study.matrix.rows if c.mould.id == "hook" and c.machine.id == "screw"]
    runs = {id(c.run) for c in cells if c.material.id.startswith(("plain", "pp"))}
    assert len(cells) == 3 + 30
    assert len(runs) == 1


# --- orders ------------------------------------------------------------------------------------


def test_what_twelve_take(tmp_path: Path) -> None:
    trials = TRIALS + "T1,2026-03-01,plunger,hook,plain,good,210,40,9,150,16.3,\n"
    order = found(tmp_path, trials_csv=trials).order("hook", "plunger", "plain", 12)
    assert order.shots == 12
    assert order.making_min == 30
    # 20 to heat, 10 to soak, 10 to change the mould, 30 to make, 8 to clean down.
    assert order.total_min == 78
    assert order.plastic_g == pytest.approx(12 * 19.91)
    assert order.purge_g == 90
    # 1 kW for 20 min, then 40 % of it for 30 min.
    assert order.energy_kwh == pytest.approx(20 / 60 + 0.4 * 0.5)
    assert [str(opening.what) for opening in order.openings] == ["Open bench"]


def test_an_order_too_long_for_any_opening_says_how_many_one_is_good_for(tmp_path: Path) -> None:
    trials = TRIALS + "T1,2026-03-01,plunger,hook,plain,good,210,40,9,150,16.3,\n"
    order = found(tmp_path, trials_csv=trials).order("hook", "plunger", "plain", 100)
    # The bench is open for 210 min, 48 go by beside the making: 162 / 2.5 = 64.
    assert order.openings == ()
    assert order.at_once == 64


def test_cavities_share_a_shot(tmp_path: Path) -> None:
    four = MOULDS.replace("part_volume: 18 cm³", "cavities: 4\n  part_volume: 4.5 cm³")
    order = found(tmp_path, moulds=four).order("hook", "screw", "pp", 10)
    assert order.shots == 3


@settings(
    max_examples=12, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(cavities=st.integers(1, 4), volume=st.floats(0.5, 4))
def test_doubling_cavities_doubles_what_is_not_sprue(
    tmp_path: Path, cavities: int, volume: float
) -> None:
    def shot_g(count: int) -> float:
        text = MOULDS.replace(
            "part_volume: 18 cm³", f"cavities: {count}\n  part_volume: {volume:.3f} cm³"
        )
        run = found(tmp_path, moulds=text).matrix.cell("hook", "screw", "pp").run
        assert run is not None
        assert run.shot_g is not None
        return run.shot_g

    sprue = 4 * 0.905
    assert shot_g(2 * cavities) - sprue == pytest.approx(2 * (shot_g(cavities) - sprue))


# --- the survey --------------------------------------------------------------------------------


def test_every_working_has_an_id_of_its_own_and_inputs_with_a_place(tmp_path: Path) -> None:
    workings = found(tmp_path).survey.workings
    assert len({w.id for w in workings}) == len(workings)
    assert all(w.inputs for w in workings)
    assert "safe" not in " ".join(w.caution for w in workings)


DEMO = Path(__file__).parents[2] / "content" / "shop"


@pytest.fixture(scope="module")
def demo() -> Shop:
    shop = load_shop(DEMO).shop
    assert shop is not None
    return shop


def test_the_demonstration_shop_answers_what_a_dozen_coat_hooks_take(demo: Shop) -> None:
    order = moulding.study(demo).order("coat-hook", "screw-injector", "pp", 12)
    assert order.cell.fit is Fit.PROVEN
    assert order.cell.last_good is not None
    assert order.cell.last_good.trial == "T20"
    # 30 to heat, 15 to soak, 20 to change, twelve of 68 s, 15 to clean down.
    assert order.total_min == pytest.approx(30 + 15 + 20 + 12 * 68 / 60 + 15)
    # (18 + 2.2) cm³ of 905 kg/m³ a shot.
    assert order.plastic_g == pytest.approx(12 * 20.2 * 0.905)
    assert order.says.startswith("Coat hook in Polypropylene on Screw injector: proven.")


def test_the_demonstration_shops_parts_weigh_what_they_are_worked_out_to(demo: Shop) -> None:
    study = moulding.study(demo)
    assert len(study.book) > 10
    assert not [f for f in study.survey.findings if f.rule == "moulding.weighs-otherwise"]
