"""A valid shop, spoiled in every way: faults come back, nothing is ever raised."""

from __future__ import annotations

import copy
import tempfile
import textwrap
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.ground.finding import Finding, Severity
from generator.ground.yamlfile import parse_yaml
from generator.shop.folder import NOUNS
from generator.shop.load import load_shop
from generator.shop.names import spoken
from tests.benchmarks import synthetic_shop

Path_ = tuple[str | int, ...]

FILES = synthetic_shop.files(2)
YAML_NAMES = sorted(name for name in FILES if name.endswith(".yml"))
TREES: dict[str, Any] = {name: parse_yaml(FILES[name], name)[0] for name in YAML_NAMES}
NOUN_OF = {name: name.split("/", 1)[0].removesuffix(".yml") for name in YAML_NAMES}

# Faults that are about one value and must show a right one.
VALUE_RULES = {"data.value", "data.word", "data.yes-or-no", "data.shape", "data.empty"}
SHOWING_RULES = VALUE_RULES | {"data.missing-key", "data.id"}

JUNK: list[Any] = [
    None, True, False, 0, -1, 1.5, 1e300, 10**17, "", " ", "junk", "750", "750 mm", "-3 kg",
    "12,5 kg", "1.250 m", "9:30", "25:00", "no", "on", "null", "~", "2026-02-30", "0000-00-00",
    "1000000000000 km", "1e999 mm", "granulator", "station-1", "Station 1", "__class__", "__init__",
    "model_fields", "a" * 200, "é", "\u202e", "日本", "#fff", "*x", "&x", "!x", "%", "@", "`",
    "{", "]", "%s", "%(x)s",
    "M004", "3200, 450 mm", "1 x 2 x 3 mm", "0 x 0 mm", "5 EUR", "5 XXX", "{0}", "{says}",
    [], {}, [None], [[]], [1, "a"], {"a": 1}, {"en": "x"}, {"xx": "y"}, {"": ""}, {"en": None},
    [{"side": "front"}], {"station-1": {}}, [["L1"]], ["L1", "L1"],
]  # fmt: skip

KEYS = ["name", "", "nmae", "name_mm", "at ", "AT", "12", "null", "__class__", "é", "a" * 300]

TEXT_JUNK = [
    "\t", "\x00", "\x07", "\u2028", "\ufeff", "\r", "\r\n\r\n", "---\n", "...\n", "- ", ": ", "? ",
    "{", "}", "[", "]", "*a", "&a ", "!!python/object:os.system ", "!x ", "%YAML 1.2\n", "'", '"',
    "|", ">", "#", "@", "`", "<<: *a\n", "é", "日本", "\U0001f525", "  ", "\n", "0x10", ".nan",
    "\\", ",", ";", '"a', "1.250", "=1+1",
]  # fmt: skip


@pytest.fixture(scope="module")
def shop() -> Iterator[Path]:
    with tempfile.TemporaryDirectory() as folder:
        yield synthetic_shop.write(Path(folder) / "shop", 2)


def _load_with(shop: Path, name: str, text: str) -> tuple[Finding, ...]:
    """What loading finds with one file replaced; the file is put back."""
    path = shop / name
    path.write_text(text, encoding="utf-8", errors="surrogatepass", newline="")
    try:
        loaded = load_shop(shop)
    finally:
        path.write_text(FILES[name], encoding="utf-8")
    assert (loaded.shop is None) == bool(loaded.findings)
    for finding in loaded.findings:
        _holds(finding)
    assert len(set(loaded.findings)) == len(loaded.findings)
    return loaded.findings


def _holds(finding: Finding) -> None:
    assert finding.severity is Severity.FAULT
    assert finding.rule.startswith("data.")
    assert finding.origin.file
    assert finding.says.strip()
    assert finding.example or finding.rule not in SHOWING_RULES, finding


def test_the_shop_to_spoil_has_no_fault(shop: Path) -> None:
    assert load_shop(shop).findings == ()


# --- text --------------------------------------------------------------------------------------

Edit = Callable[[str, int], str]


def _lines(change: Callable[[list[str], int], list[str]]) -> Edit:
    def edit(text: str, at: int) -> str:
        lines = text.splitlines(keepends=True) or [""]
        return "".join(change(lines, at % len(lines)))

    return edit


def _insert(junk: str) -> Edit:
    return lambda text, at: text[: at % (len(text) + 1)] + junk + text[at % (len(text) + 1) :]


EDITS: list[Edit] = [
    _lines(lambda lines, n: lines[:n] + lines[n + 1 :]),
    _lines(lambda lines, n: [*lines[:n], lines[n], *lines[n:]]),
    _lines(lambda lines, n: [*lines[:n], "  " + lines[n], *lines[n + 1 :]]),
    _lines(lambda lines, n: [*lines[:n], lines[n].lstrip(), *lines[n + 1 :]]),
    _lines(lambda lines, n: lines[n:] + lines[:n]),
    lambda text, at: text[: at % (len(text) + 1)],
    lambda text, at: text[: at % (len(text) + 1)] + text[at % (len(text) + 1) + 1 :],
    *(_insert(junk) for junk in TEXT_JUNK),
]


@settings(max_examples=60, deadline=None)
@given(
    name=st.sampled_from(sorted(FILES)),
    edits=st.lists(
        st.tuples(st.sampled_from(EDITS), st.integers(0, 20_000)), min_size=1, max_size=4
    ),
)
def test_spoiled_text_gives_faults(shop: Path, name: str, edits: list[tuple[Edit, int]]) -> None:
    text = FILES[name]
    for edit, at in edits:
        text = edit(text, at)
    _load_with(shop, name, text)


@settings(max_examples=25, deadline=None)
@given(name=st.sampled_from(sorted(FILES)), data=st.binary(max_size=200), at=st.integers(0, 5000))
def test_spoiled_bytes_give_faults(shop: Path, name: str, data: bytes, at: int) -> None:
    whole = FILES[name].encode()
    path = shop / name
    path.write_bytes(whole[:at] + data + whole[at:])
    try:
        loaded = load_shop(shop)
    finally:
        path.write_text(FILES[name], encoding="utf-8")
    for finding in loaded.findings:
        _holds(finding)


# --- trees -------------------------------------------------------------------------------------


def _paths(tree: Any, above: Path_ = ()) -> Iterator[Path_]:
    items = tree.items() if isinstance(tree, dict) else enumerate(tree)
    for step, value in items:
        yield (*above, step)
        if isinstance(value, dict | list):
            yield from _paths(value, (*above, step))


PATHS = [(name, path) for name in YAML_NAMES for path in _paths(TREES[name])]


def _with(tree: Any, path: Path_, value: Any) -> Any:
    whole = copy.deepcopy(_plain(tree))
    at = whole
    for step in path[:-1]:
        at = at[step]
    at[path[-1]] = value
    return whole


def _plain(tree: Any) -> Any:
    if isinstance(tree, dict):
        return {key: _plain(value) for key, value in tree.items()}
    return [_plain(value) for value in tree] if isinstance(tree, list) else tree


def _as_text(tree: Any) -> str:
    text: str = yaml.safe_dump(tree, sort_keys=False, allow_unicode=True)
    return text


def _said(name: str, path: Path_) -> str:
    return f"{spoken(NOUN_OF[name], path)}: "


@settings(max_examples=90, deadline=None)
@given(place=st.sampled_from(PATHS), junk=st.sampled_from(JUNK))
def test_a_junk_value_is_refused_with_an_example_that_is_taken(
    shop: Path, place: tuple[str, Path_], junk: Any
) -> None:
    name, path = place
    findings = _load_with(shop, name, _as_text(_with(TREES[name], path, junk)))
    told = [f for f in findings if f.says.startswith(_said(name, path)) and f.rule in VALUE_RULES]
    assert len(told) <= 1
    for finding in told:
        _example_is_taken(shop, name, path, finding)


def _example_is_taken(shop: Path, name: str, path: Path_, finding: Finding) -> None:
    tree, faults = parse_yaml("example:\n" + textwrap.indent(finding.example, "  "), "example.yml")
    assert tree is not None and not faults
    shown = _plain(tree)["example"]
    value = shown[0] if isinstance(shown, list) else shown[path[-1]]
    again = _load_with(shop, name, _as_text(_with(TREES[name], path, value)))
    bad = [f for f in again if f.says.startswith(_said(name, path)) and f.rule in VALUE_RULES]
    assert not bad, (finding, bad)


@settings(max_examples=40, deadline=None)
@given(place=st.sampled_from(PATHS), key=st.one_of(st.none(), st.sampled_from(KEYS)))
def test_a_key_left_out_or_renamed_gives_faults(
    shop: Path, place: tuple[str, Path_], key: str | None
) -> None:
    name, path = place
    whole = copy.deepcopy(_plain(TREES[name]))
    at = whole
    for step in path[:-1]:
        at = at[step]
    value = at.pop(path[-1])
    if isinstance(at, dict) and key is not None:
        at[key] = value
    _load_with(shop, name, _as_text(whole))


def test_every_noun_is_spoiled() -> None:
    assert {NOUN_OF[name] for name, _path in PATHS} == set(NOUNS)
