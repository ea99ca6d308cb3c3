"""What a mark says, and what is refused by what it is."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.ground.wording import use
from generator.reference import identify, tables


@pytest.mark.parametrize(
    ("mark", "bases"),
    [
        ("PP", ("PP",)), (">PP<", ("PP",)), ("> pp <", ("PP",)), ("pe-hd", ("PE-HD",)),
        ("HDPE", ("PE-HD",)), ("PEHD", ("PE-HD",)), ("PE HD", ("PE-HD",)),
        ("PE\u2010HD", ("PE-HD",)),
        ("LDPE", ("PE-LD",)), ("PETE", ("PET",)), ("rPET", ("PET",)), ("R-PP", ("PP",)),
        ("HIPS", ("PS",)), ("SB", ("PS",)), ("nylon 6", ("PA6",)), ("PA 6", ("PA6",)),
        ("PC+ABS", ("PC", "ABS")), ("abs/pc", ("ABS", "PC")),
        ("70% PP + 30 % PE-HD", ("PP", "PE-HD")),
        ("1", ("PET",)), ("02", ("PE-HD",)), ("♷", ("PP",)), ("5 PP", ("PP",)), ("PP5", ("PP",)),
        ("PLA (7)", ("PLA",)), ("7 PLA", ("PLA",)), ("PA6 (7)", ("PA6",)), ("PP-REC30", ("PP",)),
    ],
)  # fmt: skip
def test_marks_that_are_heated(mark: str, bases: tuple[str, ...]) -> None:
    material = identify(mark)
    assert (material.bases, material.refusal, material.causes) == (bases, "", ())
    assert material.known and not material.never_heated and not material.refused


@pytest.mark.parametrize(
    "mark",
    ["PVC", "pvc", ">PVC<", "PVC-U", "uPVC", "PVC-P", "PVC-C", "CPVC", "V", "3", "03", "♵", "vinyl",
     "PVC-P(DBP)", "soft PVC", "PVCsoft", "PVC-GF20", "rPVC"],
)  # fmt: skip
def test_pvc_is_refused_under_every_name(mark: str) -> None:
    material = identify(mark)
    assert material.bases == ("PVC",)
    assert material.refusal == "never"
    assert material.causes[0].key == "pvc"
    assert "hydrogen chloride" in material.reason


@pytest.mark.parametrize(
    "mark", ["PC+PVC", "PVC+PC", "PP/PVC", "99% PP + 1% PVC", "(PP+PVC)-MD10", "PP-PVC", "PP, POM",
             "PE-HD+PTFE", "PP+EPDM", "ABS+TPU"],
)  # fmt: skip
def test_one_never_heated_part_is_enough(mark: str) -> None:
    assert identify(mark).refusal == "never"


@pytest.mark.parametrize(
    ("mark", "key"),
    [
        ("PVDC", "pvdc"), ("PTFE", "fluoropolymer"), ("PVDF", "fluoropolymer"), ("POM", "pom"),
        ("POM-C", "pom"), ("acetal", "pom"), ("PUR", "polyurethane"), ("PU", "polyurethane"),
        ("EP", "thermoset"), ("MF", "thermoset"), ("PE-X", "thermoset"), ("NR", "rubber"),
        ("EPDM", "rubber"), ("EPS", "foam"), ("PS-E", "foam"), ("EPP", "foam"), ("PP-E", "foam"),
        ("ABS-FR", "flame-retardant"), ("ABS-FR(16)", "flame-retardant"),
        ("PC+ABS-FR(40)", "flame-retardant"), ("PA6-GF30", "glass-filled"),
        ("PA6GF30", "glass-filled"), ("PA 6 GF30", "glass-filled"), ("PP-GB20", "glass-filled"),
        ("PA6-(GF25+MD15)", "glass-filled"),
    ],
)  # fmt: skip
def test_the_never_heat_list(mark: str, key: str) -> None:
    material = identify(mark)
    assert material.refusal == "never"
    assert key in {cause.key for cause in material.causes}
    assert material.reason


@pytest.mark.parametrize("code", tables.codes())
def test_every_listed_code_is_known_and_says_why_it_is_refused(code: str) -> None:
    row, material = tables.codes()[code], identify(code.lower())
    assert material.bases == (code,)
    assert material.known
    assert material.refusal == ("never" if row.cause else "" if row.figures else "no-figures")


@pytest.mark.parametrize("code", tables.codes())
@pytest.mark.parametrize("pattern", ["{}+PP", "PP/{}", ">PE-HD+{}<", "{}-MD20", "5% {}, 95% PP"])
def test_a_never_heated_code_is_never_lost_in_a_compound(code: str, pattern: str) -> None:
    material = identify(pattern.format(code))
    assert code in material.bases
    assert material.never_heated == bool(tables.codes()[code].cause)


@pytest.mark.parametrize("mark", ["7", "07", "OTHER", "other", "O", "♹"])
def test_seven_alone_is_not_an_identity(mark: str) -> None:
    material = identify(mark)
    assert (material.refusal, material.bases, material.known) == ("unknown", (), False)
    assert material.never_heated
    assert "none of the first six" in material.reason


@pytest.mark.parametrize(
    "mark",
    ["", " ", "+", "unknown", "?", "PP-FOO", "FOO", "PP 7", "2 PP", "9", "P\u0420", "PP-(", "()",
     "(((", "x" * 5000],
)  # fmt: skip
def test_what_cannot_be_read_is_unknown(mark: str) -> None:
    material = identify(mark)
    assert material.refusal == "unknown"
    assert not material.known and material.never_heated and material.reason


@pytest.mark.parametrize(
    ("mark", "meant"),
    [("HDEP", "PE-HD"), ("PEHDD", "PE-HD"), ("polypropilene", "PP"), ("ABSS", "ABS")],
)
def test_the_nearest_mark_is_suggested(mark: str, meant: str) -> None:
    assert identify(mark).suggestion == meant


def test_a_known_mark_suggests_nothing() -> None:
    assert {identify(code).suggestion for code in tables.codes()} == {""}


def test_petg_is_not_pet() -> None:
    assert identify("PETG").bases == identify("PET-G").bases == ("PET-G",)
    assert identify("PETG").refusal == "no-figures"


@pytest.mark.parametrize(
    ("mark", "fillers", "code"),
    [
        ("PP-MD30", [("MD", 30)], "PP-MD30"), ("pp md30", [("MD", 30)], "PP-MD30"),
        ("PPMD30", [("MD", 30)], "PP-MD30"), ("PP-T20", [("T", 20)], "PP-T20"),
        ("PLA-WD15", [("WD", 15)], "PLA-WD15"),
        ("PA6-(GF25+MD15)", [("GF", 25), ("MD", 15)], "PA6-GF25-MD15"),
        ("PP-MD", [("MD", None)], "PP-MD"),
    ],
)  # fmt: skip
def test_fillers(mark: str, fillers: list[tuple[str, float | None]], code: str) -> None:
    material = identify(mark)
    assert [(f.code, f.percent) for f in material.fillers] == fillers
    assert material.code == code


def test_a_mineral_filled_grade_is_still_its_base() -> None:
    material = identify("PP-MD30")
    assert material.fillers[0].name == "mineral, powder"
    assert not material.refused


def test_flame_retardant_marks_are_kept() -> None:
    material = identify(">PC+ABS-FR(40)<")
    assert material.flame_retardants == ("FR(40)",)
    assert material.code == "PC+ABS-FR(40)"


@pytest.mark.parametrize(
    ("word", "key"),
    [
        ("foam", "foam"), ("glass fibre", "glass-filled"),
        ("halogen flame retardant", "flame-retardant"),
        ("paint", "painted"), ("metal", "metallised"), ("old pigment", "old-strong-colour"),
        ("chemical residue", "chemical-container"), ("black-electronics", "black-electronics"),
    ],
)  # fmt: skip
def test_what_the_mark_does_not_say(word: str, key: str) -> None:
    material = identify("PP", [word])
    assert (material.bases, material.conditions, material.refusal) == (("PP",), (key,), "never")


def test_a_word_nobody_knows_is_not_passed_over() -> None:
    assert identify("PP", ["glitter"]).refusal == "unknown"


def test_never_outranks_unknown() -> None:
    material = identify("PVC+FOO")
    assert material.refusal == "never"
    assert {cause.key for cause in material.causes} == {"pvc", "unknown"}


def test_reasons_are_said_in_the_readers_language() -> None:
    plain = identify("PVC").reason
    with use("pseudo"):
        assert identify("PVC").reason != plain
    assert identify("PVC").reason == plain


_SCRAPS = st.sampled_from(
    ["PP", "PVC", "PE-HD", "+", "-", "/", "(", ")", "GF30", "FR(40)", "7", " ", ">", "%"]
)


@given(st.one_of(st.text(max_size=40), st.lists(_SCRAPS, max_size=8).map("".join)))
def test_no_mark_ends_in_an_error(mark: str) -> None:
    material = identify(mark)
    assert material.refused == bool(material.causes)
    assert bool(material.bases) or material.never_heated


@given(st.lists(st.sampled_from(sorted(tables.codes())), min_size=1, max_size=5))
def test_adding_a_part_never_lifts_a_refusal(parts: list[str]) -> None:
    every = identify("+".join(parts))
    assert every.never_heated == any(identify(part).never_heated for part in parts)


@given(st.sampled_from(sorted(tables.codes())), st.sampled_from(["{}", ">{}<", " {} ", ">{} <"]))
def test_case_and_arrows_change_nothing(code: str, frame: str) -> None:
    assert identify(frame.format(code.lower())).bases == identify(code).bases
