"""What must hold of every row, whatever its figures."""

from __future__ import annotations

import json
import subprocess
import sys
from collections import Counter
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import coloraide
import pytest
import yaml
from pydantic import BaseModel, ValidationError

from generator.ground.resources import reference_file
from generator.reference import STATUS_WORDS, Polymer, SignClass, Value, reference, tables
from generator.reference.records import Medium
from generator.reference.words import extract

REF = reference()
FILES = sorted(reference_file("").glob("*.yml"))
TABLES = (
    "polymers", "causes", "codes", "dangers", "contaminants", "limits", "cavity_pressures",
    "sign_classes", "panels", "signs", "ppe", "supplies", "cables", "small_copper",
    "containers", "machine_classes", "media", "cuts", "inseparable", "loose", "emissions",
    "substances", "lifting", "guards", "short_slot",
)  # fmt: skip


def _inside(thing: object) -> Iterator[BaseModel]:
    """Every record inside a table, however deep."""
    if isinstance(thing, BaseModel):
        yield thing
        thing = [getattr(thing, name) for name in type(thing).model_fields]
    children = thing.values() if hasattr(thing, "values") else thing
    if isinstance(children, str) or not hasattr(children, "__iter__"):
        return
    for child in children:
        yield from _inside(child)


@cache
def _records() -> tuple[BaseModel, ...]:
    return tuple(record for name in TABLES for record in _inside(getattr(tables, name)()))


def _values() -> list[Value]:
    return [record for record in _records() if isinstance(record, Value)]


def test_the_walk_finds_the_figures() -> None:
    assert len(_values()) > 500


def test_every_citation_stands_in_the_sources_with_a_status() -> None:
    known = {row.cite for row in tables.sources().values()}
    cited = [record for record in _records() if getattr(record, "cite", "")]
    assert {r.cite for r in cited} <= known  # type: ignore[attr-defined]
    assert {r.status for r in cited} <= set(STATUS_WORDS)  # type: ignore[attr-defined]


def test_every_value_says_its_source() -> None:
    assert [v for v in _values() if v.source not in tables.sources()] == []
    assert [v for v in _values() if v.source_record.cite != v.cite] == []


def test_every_source_is_used() -> None:
    text = "".join(path.read_text(encoding="utf-8") for path in FILES if path.stem != "sources")
    code = Path(tables.__file__).read_text(encoding="utf-8")
    assert [
        key for key in tables.sources() if f": {key}" not in text and f'"{key}"' not in code
    ] == []


def test_a_value_never_read_is_no_standards_figure() -> None:
    unread = {key for key, row in tables.sources().items() if row.read == "none"}
    claims = [v for v in _values() if v.source in unread and v.status in ("standard", "published")]
    assert claims == []


def test_a_source_says_where_it_is_without_an_address() -> None:
    assert [row.cite for row in tables.sources().values() if "://" in row.cite] == []


def test_ranges_run_upwards() -> None:
    assert [v for v in _values() if v.low > v.high] == []
    with pytest.raises(ValidationError):
        tables.value([2, 1], unit="mm", source="professional")


def test_a_range_of_one_value_is_written_as_one() -> None:
    assert [v for v in _values() if v.is_range and v.low == v.high] == []


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_no_key_is_written_twice_or_left_empty(path: Path) -> None:
    tree = yaml.compose(path.read_text(encoding="utf-8"), Loader=yaml.SafeLoader)
    assert tree is not None
    assert list(_faults(tree)) == []


def _faults(node: yaml.Node) -> Iterator[str]:
    if isinstance(node, yaml.MappingNode):
        keys = Counter(key.value for key, _child in node.value)
        yield from (f"{key}: twice" for key, n in keys.items() if n > 1)
        for key, child in node.value:
            if child.tag == "tag:yaml.org,2002:null":
                yield f"{key.value}: empty"  # what an unquoted comma leaves in a flow mapping
            yield from _faults(child)
    elif isinstance(node, yaml.SequenceNode):
        for child in node.value:
            yield from _faults(child)


def test_names_are_unique() -> None:
    names = Counter(
        word.upper().replace("-", "").replace(" ", "")
        for code in tables.codes().values()
        for word in (code.code, *code.aliases)
    )
    assert [name for name, count in names.items() if count > 1] == []


def test_foams_are_written_like_no_other_code() -> None:
    foams = tables.raw("codes")["foams"]
    words = Counter(word for mark, foam in foams.items() for word in (mark, *foam["aliases"]))
    words.update(word for code in tables.codes().values() for word in (code.code, *code.aliases))
    assert [word for word, count in words.items() if count > 1] == []


def test_names_of_supplies_conditions_and_what_is_worn_are_unique() -> None:
    supplies = [n for s in tables.supplies().values() for n in (s.key, *s.aliases)]
    worn = [n for p in tables.ppe().values() for n in (p.id, *p.aliases)]
    held = [
        w for c in tables.raw("never_heat")["conditions"] for w in (c, *tables.causes()[c].aliases)
    ]
    assert [n for names in (supplies, worn, held) for n, k in Counter(names).items() if k > 1] == []


def test_ids_are_lower_case_words_with_hyphens() -> None:
    ids = [*tables.limits(), *tables.containers(), *tables.ppe(), *tables.machine_classes()]
    assert [key for key in ids if not key.replace("-", "").isalnum() or key != key.lower()] == []


def test_codes_that_tables_name_are_known() -> None:
    known = {*tables.codes(), "metal", "water", "wood", "any", "PS-E"}
    named = {code for row in tables.cuts() for code in (*row.floats, *row.sinks)}
    named |= {c for row in tables.contaminants() for c in (row.host, *row.minor)}
    named |= {c for row in tables.emissions().values() for c in row.polymers}
    named |= {c for row in tables.loose().values() for c in row.polymers}
    named |= {code for row in tables.inseparable() for code in row.codes}
    named |= {code for row in tables.dangers() for code in row.codes}
    assert named <= known


def test_signs_that_tables_name_are_registered() -> None:
    worn = {row.sign for row in tables.ppe().values()}
    gaps = {code for row in tables.sign_gaps().values() for code in row.codes}
    assert worn | gaps <= set(tables.signs())
    assert {s.kind for s in tables.signs().values()} == set(tables.sign_classes())


# --- sanity of the figures ---------------------------------------------------------------------


@pytest.mark.parametrize("code", [c for c in tables.polymers() if c != "PVC"])
def test_mould_ejection_and_melt_stand_in_order(code: str) -> None:
    """Tw < Te < Tm: a cooling time exists for the middle of every range."""
    polymer = REF.polymer(code)
    assert polymer.mould and polymer.ejection
    for window in polymer.windows.values():
        if window.temperature:
            assert polymer.mould.middle < polymer.ejection.middle < window.temperature.low


@pytest.mark.parametrize("polymer", tables.polymers().values(), ids=lambda p: p.code)
def test_figures_have_the_size_of_their_units(polymer: Polymer) -> None:
    assert 700 < polymer.density_melt.low < polymer.density_solid.low < 1500
    assert 900 < polymer.cp_solid.low < polymer.cp_melt.low < 3000
    assert 0.5e-7 < polymer.diffusivity.low < 1.5e-7
    assert polymer.shrinkage.high <= 6
    assert polymer.regrind_density.high < polymer.density_solid.low
    assert 10 < polymer.heat_gross.low < 50


# PET stands apart twice: its net figure is of polyester at large, resins too, and its injection
# window, which an open machine never uses, runs into its decomposition.
_BUT_PET = [polymer for code, polymer in tables.polymers().items() if code != "PET"]


@pytest.mark.parametrize("polymer", _BUT_PET, ids=lambda p: p.code)
def test_net_heat_is_no_more_than_gross(polymer: Polymer) -> None:
    net = polymer.heat_net or polymer.heat_gross
    assert net.low <= polymer.heat_gross.high


@pytest.mark.parametrize("polymer", _BUT_PET, ids=lambda p: p.code)
def test_windows_stay_below_decomposition_of_the_bulk(polymer: Polymer) -> None:
    tops = [w.temperature.high for w in polymer.windows.values() if w.temperature]
    assert max(tops, default=0) < polymer.decomposition.high


@pytest.mark.parametrize("medium", tables.media().values(), ids=lambda m: m.id)
def test_a_bath_changes_one_way_with_its_strength(medium: Medium) -> None:
    densities = [point.density.low for point in medium.points]
    assert densities in (sorted(densities), sorted(densities, reverse=True))


def test_cuts_agree_with_the_densities() -> None:
    for cut in tables.cuts():
        for code in set(cut.floats) & set(tables.polymers()):
            assert REF.polymer(code).density_solid.low < cut.density.high
        for code in set(cut.sinks) & set(tables.polymers()):
            assert REF.polymer(code).density_solid.high > cut.density.low


@pytest.mark.parametrize("shape", ["slot", "square"])
def test_guard_distances_grow_with_the_opening(shape: str) -> None:
    rows = tables.guards()[shape]
    assert [up_to for up_to, _d in rows] == sorted(up_to for up_to, _d in rows)
    assert [d.low for _u, d in rows] == sorted(d.low for _u, d in rows)


@pytest.mark.parametrize("frame", tables.sign_classes().values(), ids=lambda f: f.key)
def test_the_contrast_given_is_the_contrast_of_the_colours(frame: SignClass) -> None:
    on = frame.colour
    ink = frame.ground if frame.key == "prohibition" else frame.symbol
    found = coloraide.Color(ink).contrast(on, method="wcag21")
    assert found == pytest.approx(frame.contrast.low, abs=0.05)


def test_the_warning_panel_reads_in_black() -> None:
    panel = tables.panels()["warning"]
    assert panel.contrast is not None
    found = coloraide.Color(panel.text).contrast(panel.colour, method="wcag21")
    assert found == pytest.approx(panel.contrast, abs=0.05)
    assert found >= REF.limit("sign-contrast").low


# --- the words and the reading -----------------------------------------------------------------


def test_words_of_the_tables_reach_the_catalogue() -> None:
    with reference_file("limits.yml").open("rb") as file:
        found = {message for _line, _name, message, _notes in extract(file, None, None, None)}
    spoken = {row.title for row in tables.limits().values() if row.id in tables.raw("limits")}
    spoken |= {v.note for k in tables.raw("limits") for v in tables.limits()[k].values if v.note}
    assert found == spoken


def test_extraction_names_the_line() -> None:
    path = reference_file("never_heat.yml")
    with path.open("rb") as file:
        line, _name, message, _notes = next(iter(extract(file, None, None, None)))
    assert message in path.read_text(encoding="utf-8").splitlines()[line - 1]


def test_one_table_is_read_without_the_others() -> None:
    script = (
        "import json; from generator.reference import reference, tables\n"
        "reference().limit('aisle-one-way')\n"
        "print(json.dumps([tables.limits.cache_info().currsize,"
        " tables.polymers.cache_info().currsize]))"
    )
    done = subprocess.run(
        [sys.executable, "-c", script], capture_output=True, check=True, text=True
    )
    assert json.loads(done.stdout) == [1, 0]


def test_records_are_frozen() -> None:
    with pytest.raises(ValidationError):
        REF.limit("aisle-one-way").unit = "m"  # type: ignore[misc]
