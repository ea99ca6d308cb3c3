"""How a piece is told: the key, the baths, and what no bath can part."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.ground.working import Verdict
from generator.reference import reference
from generator.shop.load import load_shop
from generator.workings import apart
from generator.workings.apart import ApartStudy, Step, bath_between, grams_per_litre, separates
from generator.workings.apart.baths import share_for
from tests.small import shop_with

CODES = {
    "pp": "PP", "pe-hd": "PE-HD", "pe-ld": "PE-LD", "ps": "PS", "abs": "ABS", "pa": "PA6",
    "pc": "PC", "pla": "PLA", "pet": "PET",
}  # fmt: skip


def polymers(*ids: str, more: str = "") -> str:
    return (
        "".join(
            f"{id_}: {{code: {CODES[id_]}, name: {id_.upper()}, status: taken}}\n" for id_ in ids
        )
        + more
    )


def found(folder: Path, *ids: str, more: str = "") -> ApartStudy:
    return apart.study(shop_with(folder, polymers=polymers(*ids, more=more)))


# --- baths -------------------------------------------------------------------------------------


@pytest.mark.parametrize(("share", "grams"), [(10, 110.9), (12, 136.1), (20, 249.6)])
def test_grams_of_salt_to_a_litre_of_water(share: float, grams: float) -> None:
    assert grams_per_litre(share) == pytest.approx(grams, abs=0.06)


TABLED = [
    ("ethanol", 10, 981.9), ("ethanol", 30, 953.8), ("ethanol", 40, 935.2), ("ethanol", 45, 924.7),
    ("salt", 4, 1026.8), ("salt", 12, 1085.7), ("salt", 26, 1197.2),
    ("sugar", 20, 1081), ("sugar", 50, 1230), ("sugar", 67.1, 1332.7),
]  # fmt: skip


@pytest.mark.parametrize(("medium", "share", "density"), TABLED)
def test_a_tabled_strength_reads_back_as_itself(medium: str, share: float, density: float) -> None:
    assert share_for(reference().media[medium], density) == pytest.approx(share)


@pytest.mark.parametrize(("percent", "density"), [(8, 1055.9), (14, 1100.9), (18, 1131.9)])
def test_between_two_rows_it_is_read_straight_and_agrees_with_a_finer_table(
    percent: float, density: float
) -> None:
    """CRC Handbook of Chemistry and Physics, sodium chloride at 20 °C, rows these tables lack."""
    assert share_for(reference().media["salt"], density) == pytest.approx(percent, abs=0.05)


def test_brine_ends_where_no_more_salt_dissolves() -> None:
    assert share_for(reference().media["salt"], 1250) is None


CUTS = [
    # floats up to, sinks from, medium, density the facts name
    (967, 1030, "water", (998.2, 998.2)),
    (915, 941, "ethanol", (925, 935)),
    (1070, 1120, "salt", (1071, 1086)),
    (1150, 1190, "salt", (1160, 1180)),
    (1220, 1240, "sugar", (1230, 1230)),
    (1250, 1330, "sugar", (1260, 1320)),
]


@pytest.mark.parametrize(("light", "heavy", "medium", "cut"), CUTS)
def test_the_published_cuts(
    light: float, heavy: float, medium: str, cut: tuple[float, float]
) -> None:
    bath = bath_between(light, heavy, 10)
    assert bath is not None
    assert bath.medium == medium
    assert cut[0] <= bath.density <= cut[1] + 30
    assert separates(bath.density, light, heavy, 10)


def test_the_published_split_of_pe_hd_from_pp_at_970_does_not_hold() -> None:
    # 23 % ethanol by volume is 18.7 % by weight, about 970 kg/m³; ordinary PE-HD is 941 to 967.
    ethanol = share_for(reference().media["ethanol"], 970)
    assert ethanol == pytest.approx(18.7, abs=0.5)
    assert not separates(970, 915, 941, 10)
    assert separates(928, 915, 941, 10)


def test_what_burns_is_taken_last_and_says_so() -> None:
    bath = bath_between(915, 941, 10)
    assert bath is not None
    assert "Flammable" in bath.caution
    salty = bath_between(1070, 1120, 10)
    assert salty is not None
    assert salty.caution == ""


@given(st.floats(880, 1400), st.floats(0, 200))
def test_a_bath_keeps_its_margin_or_there_is_none(light: float, gap: float) -> None:
    bath = bath_between(light, light + gap, 10)
    if gap < 20 - 1e-9:
        assert bath is None
    elif bath is not None:
        assert min(bath.density - light, light + gap - bath.density) >= 10 - 1e-6
        assert bath.grams == pytest.approx(grams_per_litre(bath.share), abs=0.06)


# --- pairs -------------------------------------------------------------------------------------

PVC = "pvc: {code: PVC, name: PVC, status: refused}\n"
RIGID = "pvc: {code: PVC-U, name: PVC, status: refused}\n"


@pytest.mark.parametrize(
    ("one", "other", "says"),
    [
        ("ps", "abs", "overlap"),
        ("pe-ld", "pp", "overlap"),
        ("pla", "pet", "1197"),
        ("pet", "pvc", "never clears PET"),
        ("pe-hd", "pe-ld", "within 1\u202fkg/m³"),
        ("pc", "pvc", "overlap"),  # plasticised, it comes as light as 1160
    ],
)
def test_not_separable_is_said_where_it_is_true(
    tmp_path: Path, one: str, other: str, says: str
) -> None:
    pair = found(tmp_path, *CODES, more=PVC).pair(one, other)
    assert pair.standing == "not separable"
    assert pair.bath is None
    assert says in pair.says


def test_rigid_pvc_parts_from_polycarbonate_where_its_mark_says_that_it_is_rigid(
    tmp_path: Path,
) -> None:
    pair = found(tmp_path, *CODES, more=RIGID).pair("pc", "pvc")
    assert pair.standing == "parts"
    assert pair.bath is not None
    assert 1230 <= pair.bath.density <= 1290


@pytest.mark.parametrize(
    ("one", "other", "medium"),
    [
        ("pp", "pe-hd", "ethanol"), ("pe-hd", "ps", "water"), ("abs", "pa", "salt"),
        ("pa", "pc", "salt"), ("pc", "pla", "sugar"), ("ps", "pet", "salt"),
    ],
)  # fmt: skip
def test_which_liquid_parts_which(tmp_path: Path, one: str, other: str, medium: str) -> None:
    pair = found(tmp_path, *CODES).pair(one, other)
    assert (pair.floats, pair.sinks) == (one, other)
    assert pair.bath is not None
    assert pair.bath.medium == medium


SILENT = [
    "{code: PP-MD30, name: Filled, status: taken}",
    "{code: PS, name: Foam, status: taken, contains: [foam]}",
    "{code: ABS, name: Housing, status: refused, contains: [halogen flame retardant]}",
    "{code: unknown, name: Unknown, status: refused}",
    "{code: POM, name: Gears, status: refused}",
]


@pytest.mark.parametrize("record", SILENT)
def test_a_bath_says_nothing_of_what_may_lie_anywhere(tmp_path: Path, record: str) -> None:
    study = found(tmp_path, "pp", "ps", more=f"odd: {record}\n")
    assert study.pair("pp", "odd").standing == "not known"
    assert study.silent["odd"]
    assert study.survey.unanswered == 2
    assert set(study.expected["odd"]) == {"not known"}


def test_the_shops_own_density_widens_what_can_come(tmp_path: Path) -> None:
    odd = "{code: PS, name: Odd, status: taken, own: {density: 1120 kg/m³}}"
    pair = found(tmp_path, "pa", more=f"odd: {odd}\n").pair("odd", "pa")
    assert pair.standing == "not separable"


# --- the key -----------------------------------------------------------------------------------

TAKEN = """\
pp: {code: PP, name: PP, recycling_code: 5, status: taken, tell_by: [Bends at the hinge]}
pe-ld: {code: PE-LD, name: PE-LD, recycling_code: 4, status: taken, tell_by: [Gives and returns]}
ps: {code: PS, name: PS, recycling_code: 6, status: taken, tell_by: [Rings like glass]}
pla: {code: PLA, name: PLA, recycling_code: 7, status: paused}
pvc: {code: PVC, name: PVC, recycling_code: 3, status: refused}
box: {code: ABS, name: Screens, status: refused, contains: [metal], examples: [Lids]}
odd: {code: unknown, name: No mark, status: refused}
"""


def key(folder: Path, text: str = TAKEN) -> dict[int, Step]:
    return {step.number: step for step in found(folder, more=text).steps}


def walk(steps: dict[int, Step], *said: str) -> str:
    """The outcome of answering with the first answer that begins so."""
    at: int | None = 1
    for words in said:
        assert at is not None
        answer = next(a for a in steps[at].answers if a.says.startswith(words))
        at = answer.to
        if answer.outcome:
            return answer.outcome
    return f"step {at}"


def test_the_key_leads_to_each_polymer(tmp_path: Path) -> None:
    steps = key(tmp_path)
    assert walk(steps, ">PP<, or a 5", "None of these", "It floats", "Bends") == "taken"
    assert walk(steps, ">PE-LD<", "None of these", "It floats", "Gives") == "taken"
    assert walk(steps, ">PS<", "None of these", "It sinks", "It floats") == "taken"


def test_a_seven_without_letters_and_no_mark_are_refused_at_the_first_step(tmp_path: Path) -> None:
    steps = key(tmp_path)
    assert walk(steps, "No mark, one that cannot be read, or a 7") == "refused"
    assert walk(steps, ">PVC<, or a 3") == "refused"
    assert walk(steps, ">PP<", "Screens: Lids") == "refused"


def test_a_mark_of_seven_never_leads_on_by_its_number(tmp_path: Path) -> None:
    says = [answer.says for answer in key(tmp_path)[1].answers]
    assert ">PLA<" in says
    assert not [s for s in says if "or a 7 in" in s]


def test_whoever_cannot_decide_ends_in_quarantine(tmp_path: Path) -> None:
    steps = key(tmp_path)
    assert walk(steps, ">PP<", "None of these", "It hangs in between") == "quarantine"
    assert walk(steps, ">PP<", "None of these", "It floats", "None of these") == "quarantine"


def test_what_sinks_beside_pvc_is_told_by_its_mark_and_the_step_says_that_it_clears_nothing(
    tmp_path: Path,
) -> None:
    steps = key(tmp_path)
    last = steps[max(steps)]
    assert {id_ for answer in last.answers for id_ in answer.polymers} == {"pla", "pvc"}
    assert "clears it of none" in last.caution
    assert walk(steps, ">PLA<", "None of these", "It sinks", "It sinks", "By its mark >PLA<") == (
        "paused"
    )


def test_a_group_of_refused_polymers_alone_ends_there(tmp_path: Path) -> None:
    text = "pp: {code: PP, name: PP, status: taken}\n" + (
        "pet: {code: PET, name: PET, status: refused}\n"
        "pvc: {code: PVC, name: PVC, status: refused}\n"
    )
    assert walk(key(tmp_path, text), ">PP<", "It sinks") == "refused"


def test_every_step_is_reached_and_every_way_ends(tmp_path: Path) -> None:
    steps = key(tmp_path)
    assert list(steps) == list(range(1, len(steps) + 1))
    reached = {a.to for step in steps.values() for a in step.answers if a.to}
    assert reached | {1} == set(steps)
    for step in steps.values():
        for answer in step.answers:
            assert bool(answer.outcome) != bool(answer.to)
            assert answer.to is None or answer.to > step.number


def test_there_is_no_flame_in_it(tmp_path: Path) -> None:
    words = " ".join(a.says + s.asks for s in key(tmp_path).values() for a in s.answers).lower()
    assert not [word for word in ("flame", "burn", "smoke", "lighter") if word in words]


@pytest.mark.parametrize("ids", [("pp",), ("pp", "pe-ld"), ("pet",)])
def test_a_small_shop_has_a_small_key(tmp_path: Path, ids: tuple[str, ...]) -> None:
    study = found(tmp_path, *ids)
    assert study.baths == ()
    assert len(study.steps) == (2 if len(ids) > 1 else 1)


# --- findings ----------------------------------------------------------------------------------


def test_pet_is_never_cleared_of_pvc_whether_or_not_the_shop_lists_pvc(tmp_path: Path) -> None:
    study = found(tmp_path, "pet")
    (finding,) = study.survey.findings
    assert finding.rule == "apart.never-cleared"
    assert "PVC" in finding.says


def test_what_no_bath_tells_wants_words(tmp_path: Path) -> None:
    rules = [f.rule for f in found(tmp_path, "ps", "abs").survey.findings]
    assert rules.count("apart.not-told") == 2
    assert rules.count("apart.not-separable") == 1


def test_the_key_asks_for_no_liquid_that_burns_though_one_would_part_them(tmp_path: Path) -> None:
    study = found(tmp_path, "pp", "pe-hd")
    assert study.pair("pp", "pe-hd").bath is not None
    assert study.baths == ()
    assert [step.bath for step in study.steps] == [None, None]
    assert "Flammable" in study.cautions[0]


def test_the_margin_of_each_bath_is_shown_and_holds(tmp_path: Path) -> None:
    study = found(tmp_path, "pp", "pe-hd", "ps", "pa")
    margins = [w for w in study.survey.workings if w.id.endswith(".margin")]
    assert [w.result.value for w in margins] == pytest.approx([998.2 - 967, 1085.7 - 1060])
    assert {w.verdict for w in margins} == {Verdict.HOLDS}
    recipe = next(w for w in study.survey.workings if w.id.endswith(".recipe"))
    assert recipe.result.value == pytest.approx(136.1)  # 12 % brine


def test_the_demonstration_shops_own_brine_is_one_that_parts() -> None:
    shop = load_shop(Path(__file__).parents[2] / "content" / "shop").shop
    assert shop is not None
    study = apart.study(shop)
    assert [bath.medium for bath in study.baths] == ["water", "salt"]
    # Its bench jar holds 12 g of salt in 100 g, 1085.7 kg/m³.
    assert study.baths[1].least <= 1085.7 <= study.baths[1].most
    assert study.expected["ps"] == ("sinks", "floats")
    assert study.pair("pp", "pe-ld").standing == "not separable"
