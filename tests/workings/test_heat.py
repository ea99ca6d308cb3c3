"""What is never heated is refused by what it is, wherever it meets heat, at any share."""

from pathlib import Path

import pytest

from generator.ground.finding import Severity
from generator.shop.shop import Shop
from generator.workings.heat import Refusals, refusal_of
from generator.workings.purity.changes import sharings
from tests.small import shop_with

PRESS = """\
press:
  name: Press
  kind: platen-press
  station: cutting
  settings:
    - {polymer: pp, melt: 200 °C}
    - {polymer: suspect, melt: 190 °C}
"""
COLD = """\
granulator:
  name: Granulator
  kind: granulator
  station: cutting
  settings:
    - {polymer: pp, screen: 8 mm}
    - {polymer: suspect, screen: 8 mm}
"""
BLEND = """\
trace:
  name: Trace
  parts:
    - {polymer: pp, share: 99.9 %}
    - {polymer: suspect, share: 0.1 %}
  mixes: melt
  machines: [press]
"""
PROCEDURE = """\
press-it:
  name: Press it
  kind: run
  level: authorised
  machines: [press]
  polymers: [suspect]
  takes: 30 min
  done_when: The plate is cold
  steps:
    - {do: Fill, key_point: Level, reason: It presses even}
"""


def polymers(suspect: str) -> str:
    return (
        "pp: {code: PP, name: Polypropylene, status: taken}\n"
        f"suspect: {{name: Pretty sheet, status: paused, {suspect}}}\n"
    )


def shop(folder: Path, suspect: str, **files: str) -> Shop:
    return shop_with(folder, polymers=polymers(suspect), **files)


NEVER = [
    "code: PVC",
    "code: pvc-u",
    "code: PC+PVC",
    "code: POM",
    "code: PTFE",
    "code: unknown",
    'code: "7"',
    "code: PP, contains: [halogen flame retardant]",
    "code: PS, contains: [foam]",
    "code: PP, contains: [chemical residue]",
    "code: PP, recycling_code: 3",
    "code: ABS-FR(17)",
]


@pytest.mark.parametrize("suspect", NEVER)
def test_it_is_refused_by_what_it_is(tmp_path: Path, suspect: str) -> None:
    made = shop(tmp_path, suspect, machines=PRESS, blends=BLEND, procedures=PROCEDURE)
    refusals = Refusals(made)
    press = made.machines["press"]
    assert refusals.polymer("suspect")
    assert refusals.setting(press, press.settings[1])
    assert refusals.blend(made.blends["trace"]), "a thousandth is as bad as all of it"
    assert refusals.procedure(made.procedures["press-it"])
    found = refusals.survey().findings
    stops = {f.subject for f in found if f.severity is Severity.STOP}
    assert stops == {"machines/press", "blends/trace", "procedures/press-it"}


@pytest.mark.parametrize("harmless", ["code: PE-HD", "code: pp, recycling_code: 5", "code: PS"])
def test_nothing_else_is_refused(tmp_path: Path, harmless: str) -> None:
    made = shop(tmp_path, harmless, machines=PRESS, blends=BLEND, procedures=PROCEDURE)
    assert Refusals(made).survey().findings == ()


def test_the_good_part_of_a_refused_blend_is_not_blamed(tmp_path: Path) -> None:
    made = shop(tmp_path, "code: PVC", machines=PRESS, blends=BLEND)
    refusals = Refusals(made)
    assert refusals.polymer("pp") == ""
    (reason,) = refusals.blend(made.blends["trace"])
    assert "Pretty sheet" in reason
    assert "hydrogen chloride" in reason


def test_a_cold_machine_may_cut_what_must_not_be_heated(tmp_path: Path) -> None:
    made = shop(tmp_path, "code: PVC", machines=COLD)
    assert Refusals(made).survey().findings == ()


def test_pom_and_pvc_never_share_even_a_cold_machine(tmp_path: Path) -> None:
    text = (
        "pp: {code: PVC, name: Grey pipe, status: refused, why: It gives off acid}\n"
        "suspect: {code: POM, name: Gear wheels, status: refused, why: It explodes with PVC}\n"
    )
    made = shop_with(tmp_path, polymers=text, machines=COLD)
    (found,) = Refusals(made).survey().findings
    assert found.severity is Severity.STOP
    assert found.subject == "machines/granulator"


def test_taking_it_in_is_to_be_mended(tmp_path: Path) -> None:
    text = "pp: {code: PP, name: PP, status: taken}\npipe: {code: PVC, name: Pipe, status: taken}\n"
    (found,) = Refusals(shop_with(tmp_path, polymers=text)).survey().findings
    assert (found.rule, found.severity) == ("heat.taken-in", Severity.FIX)
    assert str(found.origin).startswith("polymers.yml:2:")


def test_a_known_material_without_figures_is_asked_about(tmp_path: Path) -> None:
    text = "pp: {code: PP, name: PP, status: taken}\nwing: {code: PMMA, name: W, status: taken}\n"
    (found,) = Refusals(shop_with(tmp_path, polymers=text)).survey().findings
    assert found.severity is Severity.ASK


def test_a_triangle_that_contradicts_the_mark_counts_as_unknown(tmp_path: Path) -> None:
    made = shop(tmp_path, "code: PE-HD, recycling_code: 5")
    reason = refusal_of(made.polymers["suspect"])
    assert "PE-HD" in reason
    assert "5" in reason


def test_a_blend_s_finding_points_at_the_part(tmp_path: Path) -> None:
    made = shop(tmp_path, "code: PVC", machines=PRESS, blends=BLEND)
    (found,) = (f for f in Refusals(made).survey().findings if f.subject == "blends/trace")
    assert found.origin.line == 5


MELTS = COLD + "press:\n  name: Press\n  kind: platen-press\n  station: cutting\n"


def test_cutting_it_where_flake_is_heated_stops_the_shop(tmp_path: Path) -> None:
    text = polymers("code: PVC").replace("status: paused", "status: taken")
    found = Refusals(shop_with(tmp_path, polymers=text, machines=MELTS)).survey().findings
    assert {(f.rule, f.severity) for f in found} == {
        ("heat.never-heated", Severity.STOP),
        ("heat.taken-in", Severity.STOP),
    }


def test_flake_of_it_is_put_aside(tmp_path: Path) -> None:
    batches = (
        "batch,date,step,kg,polymer\nB-1,2026-03-02,flake,4,suspect\nB-2,2026-03-02,flake,4,pp\n"
    )
    made = shop(tmp_path, "code: PVC", batches_csv=batches)
    (found,) = Refusals(made).survey().findings
    assert (found.rule, found.severity, found.origin.line) == ("heat.flake", Severity.FIX, 2)
    assert "B-1" in found.says


def test_a_purge_order_leaves_out_what_is_never_heated(tmp_path: Path) -> None:
    made = shop(tmp_path, "code: PVC", machines=PRESS)
    assert sharings(made, Refusals(made)) == ()
    harmless = shop(tmp_path, "code: PS", machines=PRESS)
    assert sharings(harmless, Refusals(harmless))[0].polymers == ("pp", "suspect")
