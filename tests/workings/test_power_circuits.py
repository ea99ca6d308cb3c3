"""What hangs where, what flows, and what each circuit is held to, in every country."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.ground.finding import Finding, Severity
from generator.ground.working import Verdict, Working
from generator.workings import power
from generator.workings.power import PowerStudy
from generator.workings.power.draws import Draw
from tests.workings.power_shops import circuit, lacking, machine, motor, shop

Data = dict[str, Any]


def _draw(study: PowerStudy, id_: str = "press") -> Draw:
    return next(draw for draw in study.machines if draw.id == id_)


def _working(study: PowerStudy, id_: str) -> Working:
    return next(w for w in study.survey.workings if w.id == f"power.{id_}")


def _found(study: PowerStudy, rule: str) -> list[Finding]:
    return [f for f in study.survey.findings if f.rule == f"power.{rule}"]


def _plain(words: str) -> str:
    """The words with ordinary spaces."""
    return words.replace("\u202f", " ")


def _one(study: PowerStudy, rule: str) -> Finding:
    (finding,) = _found(study, rule)
    return finding


# --- where a machine hangs ---------------------------------------------------------------------

SUPPLIES = [
    # place, profile, supply's phases, circuit, voltage, machine's phases, kW, A on each, phases
    ("EU", "EU-230-400", "three", "L2", "230 V", "one", "2.3 kW", 10, "L2"),
    ("EU", "EU-230-400", "three", "L1 L2", "400 V", "two", "4 kW", 10, "L1 L2"),
    ("EU", "EU-230-400", "three", "L1 L2 L3", "400 V", "three", "6 kW", 8.660, "L1 L2 L3"),
    ("UK", "UK-230-400", "one", "L1", "230 V", "one", "3 kW", 13.043, "L1"),
    ("US", "US-120-240", "two", "L1", "120 V", "one", "1.2 kW", 10, "L1"),
    ("US", "US-120-240", "two", "L1 L2", "240 V", "two", "4.8 kW", 20, "L1 L2"),
    ("US", "US-120-240", "two", "L1 L2", "240 V", "one", "4.8 kW", 20, "L1 L2"),
    ("US", "US-120-208", "three", "L1 L3", "208 V", "one", "2.08 kW", 10, "L1 L3"),
    ("US", "US-120-208", "three", "L1 L2 L3", "208 V", "three", "3.603 kW", 10, "L1 L2 L3"),
    ("BR", "BR-127-220", "three", "L1 L2", "220 V", "one", "4.4 kW", 20, "L1 L2"),
    ("BR", "BR-220-380", "three", "L1", "220 V", "one", "4.4 kW", 20, "L1"),
    ("IN", "IN-230-415", "three", "L1 L2 L3", "415 V", "three", "7.188 kW", 10, "L1 L2 L3"),
    ("JP", "JP-50", "two", "L1 L2", "200 V", "one", "3 kW", 15, "L1 L2"),
    ("JP", "JP-60", "two", "L2", "100 V", "one", "1 kW", 10, "L2"),
]


@pytest.mark.parametrize("row", SUPPLIES, ids=lambda row: f"{row[1]} {row[4]} {row[5]}")
def test_a_heater_draws_on_every_phase_it_hangs_across(row: tuple[Any, ...]) -> None:
    place, profile, phases, on, voltage, kind, kw, amps, drawn_on = row
    study = power.study(
        shop(
            {"c": circuit(on, "40 A")},
            {"press": machine(kw, "c", voltage=voltage, phases=kind)},
            place=place, profile=profile, phases=phases, fuse="100 A",
        )
    )  # fmt: skip
    draw = _draw(study)
    assert draw.amps == pytest.approx(amps, abs=0.001)
    assert " ".join(draw.phases) == drawn_on
    assert draw.connection.sure
    carried = {phase.line: phase.connected_a for phase in study.phases}
    assert {line for line, current in carried.items() if current} == set(drawn_on.split())


def test_efficiency_counts_for_shaft_power_alone() -> None:
    plates: Data = {"power_factor": 0.8, "efficiency": 0.5}
    machines = {
        "saw": machine("1.84 kW", "c", "band-saw", of_shaft=True, **plates),
        "fan": machine("1.84 kW", "c", "extractor", **plates),
    }
    study = power.study(shop({"c": circuit(device="63 A")}, machines))
    assert _draw(study, "saw").amps == pytest.approx(20)
    assert _draw(study, "fan").amps == pytest.approx(10)


def test_a_machine_on_one_of_three_phases_counts_on_each() -> None:
    study = power.study(shop({"c": circuit("L1 L2 L3")}, {"press": machine("2.3 kW", "c")}))
    assert not _draw(study).connection.sure
    assert [phase.connected_a for phase in study.phases] == pytest.approx([10, 10, 10])
    assert _one(study, "phase").severity is Severity.ASK


def test_a_machine_across_two_of_three_phases_counts_on_each() -> None:
    press = machine("4 kW", "c", voltage="400 V", phases="two")
    study = power.study(shop({"c": circuit("L1 L2 L3")}, {"press": press}))
    assert [phase.connected_a for phase in study.phases] == pytest.approx([10, 10, 10])
    assert _one(study, "phase").severity is Severity.ASK


# --- plate and supply --------------------------------------------------------------------------


def test_a_240_volt_heater_on_208_volts_is_slow() -> None:
    heat = {"heat_up": "30 min", "cool_down": "1 h", "highest": "200 °C"}
    press = {**machine("4 kW", "c", voltage="240 V", phases="two"), "heat": heat}
    study = power.study(
        shop({"c": circuit("L1 L2", "40 A")}, {"press": press}, place="US", profile="US-120-208")
    )
    assert _draw(study).power_kw == pytest.approx(4 * 0.7511, abs=0.0005)
    assert _draw(study).amps == pytest.approx(4000 * 0.7511 / 208, abs=0.005)
    finding = _one(study, "voltage")
    assert finding.severity is Severity.FIX
    assert "75.1" in finding.says
    assert "1.33" in finding.mend


def test_a_230_volt_heater_across_two_phases_is_stopped() -> None:
    study = power.study(
        shop({"c": circuit("L1 L2")}, {"press": machine("2 kW", "c", phases="two")})
    )
    finding = _one(study, "voltage")
    assert finding.severity is Severity.STOP
    assert "302.5" in finding.says  # (400 / 230)² of its power


def test_a_plate_a_few_volts_off_is_shown_and_not_found() -> None:
    study = power.study(shop({"c": circuit()}, {"press": machine("2 kW", "c", voltage="220 V")}))
    assert _found(study, "voltage") == []
    assert _working(study, "machine.press.voltage").verdict is Verdict.HOLDS


def test_a_motor_on_less_than_its_voltage_draws_more() -> None:
    saw = motor("1 kW", "c", voltage="240 V")
    study = power.study(shop({"c": circuit()}, {"saw": saw}))
    assert _draw(study, "saw").amps == pytest.approx(1000 / (230 * 0.8 * 0.75))


# --- what is not written -----------------------------------------------------------------------


def test_a_missing_power_factor_is_asked_and_leaves_the_circuit_unanswered() -> None:
    saw = lacking(motor("1 kW", "c"), "power_factor")
    study = power.study(shop({"c": circuit()}, {"saw": saw}))
    draw = _draw(study, "saw")
    assert draw.amps == pytest.approx(1000 / (230 * 0.75))  # as if it were 1
    assert draw.most_a == 16
    assert _one(study, "plate").asks == "electrician"
    assert _working(study, "machine.saw.current").verdict is Verdict.UNANSWERED
    assert _working(study, "circuit.c.load").verdict is Verdict.UNANSWERED


def test_too_much_already_at_the_least_is_too_much() -> None:
    saw = lacking(motor("4 kW", "c"), "power_factor")
    study = power.study(shop({"c": circuit()}, {"saw": saw}))
    assert _working(study, "circuit.c.load").verdict is Verdict.FAILS


def test_a_heater_needs_no_power_factor() -> None:
    press = lacking(machine("2.3 kW", "c"), "power_factor")
    assert _draw(power.study(shop({"c": circuit()}, {"press": press}))).amps == pytest.approx(10)


def test_lamps_that_nobody_has_read_are_asked_about() -> None:
    lights = {"lights": circuit(device="10 A", serves="lighting")}
    study = power.study(shop(lights))
    assert _one(study, "other-load").severity is Severity.ASK
    assert _working(study, "circuit.lights.load").verdict is Verdict.UNANSWERED
    read = {"lights": circuit(device="10 A", serves="lighting", other_load="3 A")}
    assert _working(power.study(shop(read)), "circuit.lights.load").verdict is Verdict.HOLDS


def test_a_cable_without_its_current_is_asked_about() -> None:
    bare = {key: value for key, value in circuit().items() if key != "cable_rating"}
    study = power.study(shop({"c": bare}, {"press": machine("2 kW", "c")}))
    finding = _one(study, "cable-rating")
    assert "20 A" in _plain(finding.mend)  # 16 ÷ 0.80, two circuits together
    assert _working(study, "circuit.c.cable").verdict is Verdict.UNANSWERED


# --- device and cable --------------------------------------------------------------------------


def test_the_published_circuit_of_three_kilowatts_holds() -> None:
    """13.73 ≤ 16 ≤ 20.30 A, with 27 A of the table at 0.94 and 0.8."""
    one = circuit(cable_rating="20.30 A")
    study = power.study(shop({"c": one}, {"press": machine("3 kW", "c", power_factor=0.95)}))
    load, cable = _working(study, "circuit.c.load"), _working(study, "circuit.c.cable")
    assert (load.verdict, cable.verdict) == (Verdict.HOLDS, Verdict.HOLDS)
    assert load.margin is not None
    assert load.margin.value == pytest.approx(16 - 13.73, abs=0.005)


def test_a_device_above_its_cable_stops_the_shop() -> None:
    study = power.study(shop({"c": circuit(device="25 A", cable_rating="20 A")}))
    finding = _one(study, "cable")
    assert finding.severity is Severity.STOP
    assert "25" in finding.says
    assert "20" in finding.says
    assert finding.asks == "electrician"


def test_an_overloaded_circuit_says_what_relieves_it() -> None:
    machines = {"saw": machine("2.3 kW", "c", "oven"), "press": machine("1.61 kW", "c")}
    finding = _one(power.study(shop({"c": circuit()}, machines)), "overload")
    assert "17 A" in _plain(finding.says)
    assert "oven and platen-press" in finding.mend


def test_exactly_the_device_is_within_it() -> None:
    study = power.study(shop({"c": circuit()}, {"press": machine("3.68 kW", "c")}))
    assert _working(study, "circuit.c.load").verdict is Verdict.HOLDS


def test_five_continuous_kilowatts_need_thirty_amperes_under_the_nec() -> None:
    """20.83 → 26.04 → 30 A: a device of 25 A is too small, one of 30 A is not."""
    verdicts = {}
    for device in ("25 A", "30 A"):
        press = machine("5 kW", "c", voltage="240 V", phases="two", continuous=True)
        study = power.study(
            shop(
                {"c": circuit("L1 L2", device, "inverse-time")}, {"press": press},
                place="US", profile="US-120-240", phases="two", fuse="100 A",
            )
        )  # fmt: skip
        load = _working(study, "circuit.c.load")
        assert load.result.value == pytest.approx(26.04, abs=0.005)
        verdicts[device] = load.verdict
    assert verdicts == {"25 A": Verdict.FAILS, "30 A": Verdict.HOLDS}


def test_the_same_load_by_the_iec_counts_once() -> None:
    press = machine("5 kW", "c", continuous=True)
    study = power.study(shop({"c": circuit(device="25 A")}, {"press": press}))
    assert _working(study, "circuit.c.load").result.value == pytest.approx(5000 / 230)


@pytest.mark.parametrize(
    ("section", "device", "verdict"),
    [
        ("2.08 mm²", "15 A", Verdict.HOLDS), ("2.1 mm²", "20 A", Verdict.FAILS),
        ("3.31 mm²", "20 A", Verdict.HOLDS), ("3.3 mm²", "25 A", Verdict.FAILS),
        ("5.26 mm²", "30 A", Verdict.HOLDS), ("5.3 mm²", "35 A", Verdict.FAILS),
        ("8.37 mm²", "40 A", Verdict.HOLDS),
    ],
)  # fmt: skip
def test_small_american_copper(section: str, device: str, verdict: Verdict) -> None:
    one = circuit(device=device, kind="inverse-time", section=section)
    study = power.study(
        shop({"c": one}, place="US", profile="US-120-240", phases="two", fuse="100 A")
    )
    assert _working(study, "circuit.c.cable").verdict is verdict


def test_an_american_motor_circuit_by_its_own_rule() -> None:
    """Electricianmath.com: 28 A needs a conductor for 35 A and allows a breaker of 70 A."""
    saw = motor("5.152 kW", "c", voltage="230 V", phases="two", efficiency=1, power_factor=0.8)
    verdicts = []
    for carried, device in (("35 A", "70 A"), ("34 A", "80 A")):
        one = circuit("L1 L2", device, "inverse-time", cable_rating=carried, section="5.26 mm²")
        study = power.study(
            shop(
                {"c": one}, {"saw": saw},
                place="US", profile="US-120-240", phases="two", fuse="100 A",
            )
        )  # fmt: skip
        assert _draw(study, "saw").amps == pytest.approx(28)
        verdicts.append(
            (
                _working(study, "circuit.c.cable").verdict,
                _working(study, "circuit.c.breaker").verdict,
            )
        )
    assert verdicts == [(Verdict.HOLDS, Verdict.HOLDS), (Verdict.FAILS, Verdict.FAILS)]


def test_a_device_of_no_standard_rating_and_one_above_the_fuse() -> None:
    study = power.study(shop({"c": circuit(device="18 A")}, fuse="16 A"))
    says = [finding.says for finding in _found(study, "rating")]
    assert any("no standard" in sentence for sentence in says)
    assert any("main fuse" in sentence for sentence in says)


def test_a_machine_too_large_for_its_outlet_stops() -> None:
    one = circuit(
        device="32 A", outlets={"wall": {"at": "0, 0 mm", "kind": "fixed", "rating": "13 A"}}
    )
    study = power.study(shop({"c": one}, {"press": machine("3.68 kW", "c", outlet="wall")}))
    assert _one(study, "outlet").severity is Severity.STOP


# --- volt drop ---------------------------------------------------------------------------------


def test_the_drop_that_power_bears_and_lighting_does_not() -> None:
    """16 A on 2.5 mm² over 25 m: 7.200 V, 3.130 %."""
    run = {"section": "2.5 mm²", "cable": "25 m"}
    circuits = {
        "power": circuit(**run),
        "lights": circuit(serves="lighting", other_load="16 A", **run),
    }
    study = power.study(shop(circuits, {"press": machine("3.68 kW", "power")}, place="UK",
                             profile="UK-230-400"))  # fmt: skip
    assert study.drops["power"].volts == pytest.approx(7.2)
    assert study.drops["power"].percent == pytest.approx(3.130, abs=0.0005)
    assert _working(study, "circuit.power.drop").verdict is Verdict.HOLDS
    assert _working(study, "circuit.lights.drop").verdict is Verdict.FAILS
    assert "4 mm²" in _plain(_one(study, "drop").mend)  # 11 × 16 × 25 ÷ 1000 ÷ 230 = 1.91 %


def test_the_drop_between_three_phases() -> None:
    """20 A on 6 mm² over 40 m at 400 V: 5.120 V, 1.280 %."""
    one = circuit("L1 L2 L3", "32 A", section="6 mm²", cable="40 m")
    press = machine("13.856 kW", "c", voltage="400 V", phases="three")
    drop = power.study(shop({"c": one}, {"press": press})).drops["c"]
    assert drop.volts == pytest.approx(5.120, abs=0.0005)
    assert drop.percent == pytest.approx(1.280, abs=0.0005)


def test_no_more_is_lost_than_the_device_lets_through() -> None:
    """27 A are connected behind 16 A: 18 × 16 × 10 ÷ 1000 = 2.88 V."""
    one = circuit(section="2.5 mm²", cable="10 m")
    machines = {"a": machine("3.45 kW", "c"), "b": machine("2.76 kW", "c")}
    assert power.study(shop({"c": one}, machines)).drops["c"].volts == pytest.approx(2.88)


def test_a_section_the_table_lacks_is_held_to_the_thinner_row() -> None:
    short = circuit(section="3.31 mm²", cable="10 m")
    long = circuit(section="3.31 mm²", cable="45 m")
    study = power.study(
        shop({"short": short, "long": long}, {
            "a": machine("3.68 kW", "short"), "b": machine("3.68 kW", "long"),
        })
    )  # fmt: skip
    assert _working(study, "circuit.short.drop").verdict is Verdict.HOLDS
    assert _working(study, "circuit.long.drop").verdict is Verdict.UNANSWERED
    assert _one(study, "drop-unknown").severity is Severity.ASK


def test_a_section_below_the_table_has_no_number() -> None:
    study = power.study(shop({"c": circuit(section="1 mm²")}, {"press": machine("1 kW", "c")}))
    assert study.drops["c"].percent is None
    assert all(w.id != "power.circuit.c.drop" for w in study.survey.workings)
    assert _found(study, "drop-unknown") != []


def test_the_shops_own_limit_wins_and_is_shown_as_its_own() -> None:
    run = circuit(section="2.5 mm²", cable="25 m")
    own = {"limits": {"volt_drop": "2 %"}}
    study = power.study(shop({"c": run}, {"press": machine("3.68 kW", "c")}, identity=own))
    working = _working(study, "circuit.c.drop")
    assert working.verdict is Verdict.FAILS
    assert working.limit_source == study.drops["c"].limit.origin  # type: ignore[union-attr]


@pytest.mark.parametrize("place", ["BR", "IN", "JP"])
def test_a_place_without_a_limit_is_asked_about_once(place: str) -> None:
    circuits = {"c": circuit(), "d": circuit()}
    machines = {"a": machine("1 kW", "c"), "b": machine("1 kW", "d")}
    study = power.study(shop(circuits, machines, place=place))
    assert _one(study, "drop-limit").asks == "electrician"
    assert _working(study, "circuit.c.drop").verdict is Verdict.UNANSWERED


# --- starting ----------------------------------------------------------------------------------


def _start(kind: str, device: str, **electric: Any) -> PowerStudy:
    """7.5 kW of shaft, pf 0.85, efficiency 0.88: 14.47 A."""
    saw = motor(
        "7.5 kW", "c", voltage="400 V", phases="three", power_factor=0.85, efficiency=0.88,
        **electric,
    )  # fmt: skip
    return power.study(shop({"c": circuit("L1 L2 L3", device, kind)}, {"saw": saw}))


def test_six_times_its_current_as_it_starts() -> None:
    working = _working(_start("C", "20 A", starting_factor=6), "machine.saw.start")
    assert working.result.value == pytest.approx(86.83, abs=0.005)
    assert working.verdict is Verdict.HOLDS  # C holds below 5 × 20 A


def test_a_start_that_may_trip_and_one_that_does() -> None:
    perhaps = _one(_start("C", "16 A", starting_factor=6), "start")  # from 80 A on, at 160 A surely
    surely = _one(_start("B", "16 A", starting_factor=6), "start")  # from 48 A on, at 80 A surely
    assert "may trip" in perhaps.says
    assert "may trip" not in surely.says


def test_a_start_nobody_has_read_is_bracketed() -> None:
    """5 to 8 times 14.47 A is 72 to 116 A: under 10 × 16 A of a D, around 5 × 20 A of a C."""
    held = _start("D", "16 A", starting_factor=1)
    assert _working(held, "machine.saw.start").verdict is Verdict.HOLDS
    saw = lacking(
        motor("7.5 kW", "c", voltage="400 V", phases="three", power_factor=0.85, efficiency=0.88),
        "starting_factor",
    )
    verdicts = {}
    for kind, device in (("D", "16 A"), ("C", "20 A"), ("B", "16 A")):
        study = power.study(shop({"c": circuit("L1 L2 L3", device, kind)}, {"saw": saw}))
        verdicts[kind] = _working(study, "machine.saw.start").verdict
    assert verdicts == {"D": Verdict.HOLDS, "C": Verdict.UNANSWERED, "B": Verdict.FAILS}


@pytest.mark.parametrize(("beside", "already"), [("0.92 kW", 4), ("4.6 kW", 11)])
def test_a_start_with_the_rest_running_up_to_the_device(beside: str, already: float) -> None:
    """5 × 5 A and what runs already: 4 A, or as much as 16 A leave beside the saw's 5."""
    machines = {"saw": motor("0.69 kW", "c"), "press": machine(beside, "c")}
    working = _working(power.study(shop({"c": circuit()}, machines)), "machine.saw.start")
    assert working.result.value == pytest.approx(25 + already)


def test_a_fuse_is_asked_about() -> None:
    study = _start("fuse", "16 A", starting_factor=6)
    assert _one(study, "start-unknown").severity is Severity.ASK
    assert _working(study, "machine.saw.start").verdict is Verdict.UNANSWERED


# --- residual current and earthing -------------------------------------------------------------

SOCKET = {"wall": {"at": "0, 0 mm", "kind": "socket", "rating": "16 A"}}


@pytest.mark.parametrize(
    ("place", "rcd", "rules"),
    [
        ("EU", {"rcd": "30 mA", "rcd_type": "A"}, []),
        ("EU", {"rcd": "30 mA", "rcd_type": "AC"}, ["rcd-type"]),
        ("EU", {"rcd": "30 mA"}, ["rcd-type"]),
        ("EU", {"rcd": "300 mA", "rcd_type": "A"}, ["rcd"]),
        ("EU", {}, ["rcd"]),
        ("US", {"rcd": "5 mA"}, []),
        ("US", {"rcd": "30 mA"}, ["rcd"]),
    ],
)
def test_sockets_behind_a_residual_current_device(place: str, rcd: Data, rules: list[str]) -> None:
    supply = {"EU": ("EU-230-400", "three"), "US": ("US-120-240", "two")}
    profile, phases = supply[place]
    one = {"c": circuit(outlets=SOCKET, **rcd)}
    study = power.study(shop(one, place=place, profile=profile, phases=phases))
    asked = [f for f in study.survey.findings if f.rule.startswith("power.rcd")]
    assert [f.rule.removeprefix("power.") for f in asked] == rules
    assert all(f.severity is Severity.ASK and f.asks == "electrician" for f in asked)


def test_large_and_fixed_outlets_need_none() -> None:
    outlets = {
        "large": {"at": "0, 0 mm", "kind": "socket", "rating": "63 A"},
        "fixed": {"at": "0, 0 mm", "kind": "fixed", "rating": "16 A"},
    }
    assert _found(power.study(shop({"c": circuit(outlets=outlets)})), "rcd") == []


def test_a_drive_behind_a_type_a_device_is_asked_about() -> None:
    extruder = machine("3 kW", "c", "extruder", starting_factor=1.5, power_factor=0.9)
    for kind, count in (("A", 1), ("F", 0), ("B", 0)):
        one = circuit(rcd="30 mA", rcd_type=kind)
        assert len(_found(power.study(shop({"c": one}, {"x": extruder})), "rcd-drive")) == count


def test_a_heater_that_may_leak_behind_thirty_milliamperes() -> None:
    one = {"c": circuit(rcd="30 mA", rcd_type="A")}
    unread = power.study(shop(one, {"press": machine("2 kW", "c")}))
    read = power.study(shop(one, {"press": machine("2 kW", "c", leakage_note="2 mA cold")}))
    assert (len(_found(unread, "leakage")), len(_found(read, "leakage"))) == (1, 0)


@pytest.mark.parametrize(("earthing", "count"), [("TT", 1), ("unknown", 1), ("TN-C-S", 0)])
def test_earthing(earthing: str, count: int) -> None:
    supply = {
        "profile": "EU-230-400", "main_fuse": "63 A", "phases": "three", "panel": "0, 0 mm",
        "earthing": earthing,
    }  # fmt: skip
    study = power.study(shop({"c": circuit()}, room={"supply": supply}))
    assert len(_found(study, "earthing")) == count


# --- main fuse and balance ---------------------------------------------------------------------


def test_diversity_counts_the_largest_whole_and_heaters_and_motors_less() -> None:
    """10 A whole + 8 A × 0.8 of a heater + 5 A × 0.7 of a motor = 19.9 A."""
    machines = {
        "large": machine("2.3 kW", "c", "oven"),
        "small": machine("1.84 kW", "c"),
        "saw": motor("0.69 kW", "c"),
    }
    study = power.study(shop({"c": circuit(device="32 A")}, machines, phases="one"))
    assert study.phases[0].connected_a == pytest.approx(10 + 8 + 5)
    assert study.phases[0].demand_a == pytest.approx(10 + 6.4 + 3.5)
    assert _working(study, "circuit.c.load").result.value == pytest.approx(23)


@pytest.mark.parametrize(
    ("place", "profile", "phases"),
    [("US", "US-120-240", "two"), ("JP", "JP-50", "two")],
)
def test_no_diversity_where_the_tables_do_not_hold_the_rule(
    place: str, profile: str, phases: str
) -> None:
    machines = {
        "a": machine("1 kW", "c", "oven", voltage="100 V"),
        "b": machine("1 kW", "c", voltage="100 V"),
    }
    study = power.study(
        shop({"c": circuit(device="40 A")}, machines, place=place, profile=profile, phases=phases)
    )
    line = study.phases[0]
    assert line.demand_a == pytest.approx(line.connected_a)
    assert all(not share.diversity for share in line.shares)


def test_sockets_take_their_share_of_the_main_fuse() -> None:
    study = power.study(shop({"c": circuit(serves="sockets")}, phases="one"))
    assert study.phases[0].demand_a == pytest.approx(0.4 * 16)


def test_the_main_fuse_names_every_line_that_is_over() -> None:
    circuits = {"a": circuit("L1", "32 A"), "b": circuit("L2", "32 A")}
    machines = {"x": machine("5.75 kW", "a"), "y": machine("5.06 kW", "b")}
    finding = _one(power.study(shop(circuits, machines, fuse="20 A")), "main-fuse")
    assert "L1 25 A and L2 22 A" in _plain(finding.says)
    assert "20 A" in _plain(finding.says)


def test_what_is_not_known_leaves_the_main_fuse_unanswered() -> None:
    circuits = {"a": circuit(device="16 A"), "lights": circuit(device="10 A", serves="lighting")}
    study = power.study(
        shop(circuits, {"press": machine("3.68 kW", "a")}, fuse="20 A", phases="one")
    )
    assert _working(study, "main.l1").verdict is Verdict.UNANSWERED
    assert "16 A to 26 A" in _plain(_one(study, "main-fuse-unknown").says)


def test_phases_of_22_16_and_13_amperes() -> None:
    """29.41 % from even."""
    circuits = {line: circuit(line.upper(), "32 A") for line in ("l1", "l2", "l3")}
    kw = {"l1": "5.06 kW", "l2": "3.68 kW", "l3": "2.99 kW"}
    machines = {f"on-{line}": machine(kw[line], line) for line in circuits}
    study = power.study(shop(circuits, machines))
    assert study.balance is not None
    assert study.balance.percent == pytest.approx(29.41, abs=0.005)
    assert _one(study, "imbalance").severity is Severity.FIX


def test_the_move_that_would_even_the_phases() -> None:
    circuits = {"a": circuit("L1"), "b": circuit("L1"), "c": circuit("L2"), "d": circuit("L3")}
    machines = {f"on-{key}": machine("2.3 kW", key) for key in circuits}
    machines["on-c"] = machine("1.15 kW", "c")
    study = power.study(shop(circuits, machines))
    assert study.balance is not None
    assert study.balance.move is not None
    circuit_id, line, then = study.balance.move
    assert (circuit_id, line) == ("a", "L2")  # 10, 15, 10 instead of 20, 5, 10
    assert then == pytest.approx(100 * (15 - 35 / 3) / (35 / 3))


def test_the_move_is_of_a_circuit_of_one_phase() -> None:
    """20, 10 and 0 A: the circuit of one phase goes to L3, not half of the one of two."""
    circuits = {"a": circuit("L1 L2"), "b": circuit("L1")}
    across = machine("4 kW", "a", voltage="400 V", phases="two")
    study = power.study(shop(circuits, {"on-a": across, "on-b": machine("2.3 kW", "b")}))
    assert study.balance is not None
    assert study.balance.move is not None
    assert study.balance.move[:2] == ("b", "L3")
    assert study.balance.move[2] == pytest.approx(0)


def test_one_phase_has_no_balance() -> None:
    assert power.study(shop({"c": circuit()}, phases="one")).balance is None


def test_a_supply_of_another_country_is_found() -> None:
    study = power.study(shop({"c": circuit()}, place="UK"))
    assert _one(study, "supply").severity is Severity.FIX


# --- what may run together ---------------------------------------------------------------------


def _sets(study: PowerStudy) -> set[frozenset[str]]:
    return {frozenset(chosen) for chosen in study.sets.sets()}


def test_two_machines_on_one_outlet_share_what_it_is_for() -> None:
    wall = {"wall": {"at": "0, 0 mm", "kind": "fixed", "rating": "13 A"}}
    one = circuit(device="32 A", outlets=wall)
    plugged = {key: machine("2 kW", "c", outlet="wall") for key in ("a", "b")}
    assert _sets(power.study(shop({"c": one}, plugged))) == {frozenset("a"), frozenset("b")}


@pytest.mark.parametrize(("lamps", "together"), [({}, False), ({"other_load": "3 A"}, True)])
def test_lamps_that_nobody_has_read_take_their_whole_device(lamps: Data, together: bool) -> None:
    """6 + 6 A behind a fuse of 16 A, beside lamps of 3 A or of whatever 10 A let through."""
    circuits = {"a": circuit(), "b": circuit(),
                "lights": circuit(device="10 A", serves="lighting", **lamps)}  # fmt: skip
    machines = {"x": machine("1.38 kW", "a"), "y": machine("1.38 kW", "b")}
    study = power.study(shop(circuits, machines, fuse="16 A", phases="one"))
    assert (frozenset("xy") in _sets(study)) is together
    assert study.known.fits("xy")  # by what is known


def test_a_fan_runs_beside_everything() -> None:
    fan = {"name": "Fan", "discharge": "outside", "power": "1.15 kW", "power_factor": 1.0,
           "circuit": "f", "restarts": False}  # fmt: skip
    circuits = {"a": circuit(), "b": circuit(), "f": circuit(device="10 A")}
    machines = {"x": machine("1.38 kW", "a"), "y": machine("1.38 kW", "b")}
    study = power.study(shop(circuits, machines, fuse="16 A", room={"fans": {"fan": fan}}))
    assert _sets(study) == {frozenset("x"), frozenset("y")}  # 5 + 6 + 6 A are 17


# --- what must hold of any shop ----------------------------------------------------------------

kilowatts = st.integers(1, 80).map(lambda n: n / 10)
plates = st.tuples(
    kilowatts,
    st.sampled_from(["one", "two", "three"]),
    st.sampled_from(["230 V", "240 V", "400 V"]),
    st.booleans(),
)


def _machines(plan: list[tuple[float, str, str, bool]], more: float = 0.0) -> Data:
    made = {}
    for n, (kw, phases, voltage, shaft) in enumerate(plan):
        build = motor if shaft else machine
        extra = more if n == 0 else 0.0
        made[f"m{n}"] = build(f"{kw + extra} kW", "c", phases=phases, voltage=voltage)
    return made


@settings(deadline=None)
@given(st.lists(plates, min_size=1, max_size=5), st.integers(0, 50).map(lambda n: n / 10))
def test_more_load_never_lowers_a_current(
    plan: list[tuple[float, str, str, bool]], more: float
) -> None:
    one = {"c": circuit("L1 L2 L3", "63 A")}
    before = power.study(shop(one, _machines(plan)))
    after = power.study(shop(one, _machines(plan, more)))
    for old, new in zip(before.phases, after.phases, strict=True):
        assert new.connected_a >= old.connected_a - 1e-9
        assert new.most_a >= old.most_a - 1e-9
    assert after.loads[0].design_a >= before.loads[0].design_a - 1e-9
    assert all(
        new.amps >= old.amps for old, new in zip(before.machines, after.machines, strict=True)
    )


@settings(deadline=None)
@given(st.lists(plates, min_size=1, max_size=6))
def test_diversity_never_undersizes_a_circuit(plan: list[tuple[float, str, str, bool]]) -> None:
    """A circuit carries the plain sum, and the main fuse at least its largest load."""
    study = power.study(shop({"c": circuit("L1 L2 L3", "63 A")}, _machines(plan)))
    load = study.loads[0]
    for phase in study.phases:
        plain = sum(bar.amps for bar in load.bars if phase.line in bar.phases)
        assert load.by_phase[phase.line] == pytest.approx(plain)
        assert max(bar.amps for bar in load.bars) <= phase.demand_a + 1e-9
        assert phase.demand_a <= phase.connected_a + 1e-9
