from __future__ import annotations

import errno
import os
from pathlib import Path
from typing import Any

import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st

from generator.ground import yamlfile
from generator.ground.finding import Finding, Severity
from generator.ground.origin import Origin
from generator.ground.report import as_terminal
from generator.ground.syntaxfault import PLAIN
from generator.ground.textfile import LARGEST
from generator.ground.yamlfile import (
    DEEPEST,
    MOST_ALIASES,
    UNREADABLE,
    Located,
    LocatedList,
    parse_yaml,
    read_yaml,
)

PARSERS = [yaml.SafeLoader, *([yaml.CSafeLoader] if hasattr(yaml, "CSafeLoader") else [])]


@pytest.fixture(params=PARSERS, ids=lambda parser: parser.__name__)
def either_parser(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(yamlfile, "_LOADER", request.param)


def read(text: str) -> Located:
    mapping, faults = parse_yaml(text, "a.yml")
    assert faults == []
    assert mapping is not None
    return mapping


def faults_in(text: str) -> list[Finding]:
    faults = parse_yaml(text, "a.yml")[1]
    assert all(f.severity is Severity.FAULT and f.rule.startswith("data.") for f in faults)
    return faults


def at(finding: Finding) -> tuple[str, int, int]:
    return finding.rule.removeprefix("data."), finding.origin.line, finding.origin.column


TEXT = """\
# the saws
band-saw:
  name: Band saw
  size: 600 x 400 mm
  accepts: [hdpe,  pp]
  upkeep:
    - {every: 3 months}
    - words
  é: "quoted: text"
  key: 7
"""


@pytest.mark.usefixtures("either_parser")
def test_every_value_knows_where_it_was_written() -> None:
    shop = read(TEXT)
    saw = shop["band-saw"]
    assert shop.key_origins == {"band-saw": Origin("a.yml", 2, 1)}
    assert isinstance(saw, Located)
    assert str(saw.origin) == "a.yml:3:3"
    assert {key: (o.line, o.column) for key, o in saw.origins.items()} == {
        "name": (3, 9), "size": (4, 9), "accepts": (5, 12), "upkeep": (7, 5), "é": (9, 6),
        "key": (10, 8),
    }  # fmt: skip
    assert isinstance(saw["accepts"], LocatedList)
    assert [(o.line, o.column) for o in saw["accepts"].origins] == [(5, 13), (5, 20)]
    assert saw["upkeep"].origins[1] == Origin("a.yml", 8, 7)
    assert saw["upkeep"][0].origins["every"] == Origin("a.yml", 7, 15)
    assert saw == {
        "name": "Band saw", "size": "600 x 400 mm", "accepts": ["hdpe", "pp"],
        "upkeep": [{"every": "3 months"}, "words"], "é": "quoted: text", "key": 7,
    }  # fmt: skip


@pytest.mark.usefixtures("either_parser")
@pytest.mark.parametrize(
    ("written", "value"),
    [
        ("no", "no"), ("off", "off"), ("yes", "yes"), ("on", "on"), ("y", "y"),
        ("true", True), ("False", False), ("9:30", "9:30"), ("1:30:00", "1:30:00"),
        ("2024-05-01", "2024-05-01"), ("007", "007"), ("0x10", "0x10"), ("0o7", "0o7"),
        ("1_000", "1_000"), ("12", 12), ("-3", -3), ("+7", 7), ("0", 0), ("1.5", 1.5),
        (".5", 0.5), ("1e3", 1000.0), ("", None), ("~", None), ("null", None), ("'12'", "12"),
        ('"true"', "true"), ("nan", "nan"), ("750 mm", "750 mm"),
        ("|\n  two\n  lines", "two\nlines"),
    ],
)  # fmt: skip
def test_scalars_are_read_as_yaml_1_2_reads_them(written: str, value: Any) -> None:
    read_back = read(f"a: {written}")["a"]
    assert read_back == value
    assert type(read_back) is type(value)


def test_numbers_keep_what_was_written() -> None:
    shop = read("a: 1.10\nb: [1.20]")
    assert shop.written["a"] == "1.10"
    assert shop["b"].written[0] == "1.20"


@pytest.mark.usefixtures("either_parser")
@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("a: 1\nb: 2\na: 3\n", ("duplicate-key", 3, 1)),
        ("a:\n\tb: 1\n", ("tab", 2, 1)),
        ("a: words\n  \tmore\n", ("tab", 2, 3)),
        ("a:\n  - b\n\t- c\n", ("tab", 3, 1)),
        ("a: !!str 12\n", ("tag", 1, 4)),
        ("a: !thing {b: 1}\n", ("tag", 1, 4)),
        ("a: !!python/object/apply:os.system [ls]\n", ("tag", 1, 4)),
        ("a: *b\n", ("alias", 1, 4)),
        ("a: &b [*b]\n", ("alias", 1, 8)),
        ("a: 1\n---\nb: 2\n", ("several-documents", 2, 1)),
        ("a: .nan\n", ("not-a-number", 1, 4)),
        ("a: -.inf\n", ("not-a-number", 1, 4)),
        ("a: 1e999\n", ("not-a-number", 1, 4)),
        (f"a: {'9' * 5000}\n", ("not-a-number", 1, 4)),
        ("404: x\n", ("key", 1, 1)),
        ("true: x\n", ("key", 1, 1)),
        ("? [a, b]\n: x\n", ("key", 1, 3)),
        ("a: 1\nb: c\x07\n", ("control-character", 2, 5)),
        ("a: 1\nb\x00: c\n", ("control-character", 2, 2)),
        ("a: c\u2028\n", ("control-character", 1, 5)),
        ('a: "\\0"\n', ("control-character", 1, 4)),
        ("", ("empty-file", 1, 1)),
        ("# nothing yet\n", ("empty-file", 1, 1)),
        ("---\n", ("empty-file", 1, 1)),
        ("- a\n", ("not-a-mapping", 1, 1)),
        ("words\n", ("not-a-mapping", 1, 1)),
        ("a: b: c\n", ("syntax", 1, 5)),
        ("a: [1, 2\nb: 3\n", ("syntax", 1, 4)),
        ("x: 1\na: {b: 1\n", ("syntax", 2, 4)),
        ("x: 1\na: 'b\n", ("syntax", 2, 4)),
        ("a: @b\n", ("syntax", 1, 4)),
        ("a: - b\n", ("syntax", 1, 4)),
        ("a: ]\n", ("syntax", 1, 4)),
        ("a:\n   b: 1\n  c: 2\n", ("syntax", 3, 3)),
        ("a: 1\nb:2\n", ("syntax", 2, 1)),
    ],
)  # fmt: skip
def test_every_trap_is_a_fault_at_its_place(
    text: str, wanted: tuple[str, int, int], tmp_path: Path
) -> None:
    path = tmp_path / "a.yml"
    path.write_bytes(text.encode())
    faults = read_yaml(path, "a.yml")[1]
    assert [at(f) for f in faults] == [wanted]
    assert faults[0].mend


def test_a_duplicate_key_names_both_lines_and_keeps_the_first() -> None:
    shop, faults = parse_yaml("a:\n  b: 1\n  c: 2\n  b: 3\n", "a.yml")
    assert shop == {"a": {"b": 1, "c": 2}}
    assert faults[0].says == "The key `b` is on line 4 and already on line 2."


def test_all_faults_are_collected_and_the_rest_is_read() -> None:
    shop, faults = parse_yaml("a: .nan\na: 1\nb: !x 1\nc: *d\n5: x\ne: 750 mm\n", "a.yml")
    assert [f.rule.removeprefix("data.") for f in faults] == [
        "not-a-number", "duplicate-key", "tag", "alias", "key",
    ]  # fmt: skip
    assert shop == {"a": UNREADABLE, "b": UNREADABLE, "c": UNREADABLE, "e": "750 mm"}


def test_faults_before_a_syntax_error_are_kept() -> None:
    assert [at(f)[0] for f in faults_in("a: .nan\nb: [\n")] == ["not-a-number", "syntax"]


def test_an_alias_gives_the_value_it_names() -> None:
    shop = read("a: &x {b: 1}\nc: *x\n")
    assert shop["c"] == {"b": 1}
    assert shop.origins["c"] == Origin("a.yml", 2, 4)


def test_a_few_aliases_are_taken_and_many_are_not() -> None:
    def text(n: int) -> str:
        return "a: &a 1\nb: [" + ", ".join(["*a"] * n) + "]\n"

    assert read(text(MOST_ALIASES))["b"] == [1] * MOST_ALIASES
    assert [at(f)[0] for f in faults_in(text(MOST_ALIASES + 1))] == ["too-many-aliases"]


def test_an_alias_bomb_does_not_go_off() -> None:
    lines = ["a0: &a0 [x, x, x, x, x, x, x, x, x]"]
    lines += [f"a{n}: &a{n} [{', '.join([f'*a{n - 1}'] * 9)}]" for n in range(1, 10)]
    assert [at(f)[0] for f in faults_in("\n".join(lines))] == ["too-many-aliases"]


@pytest.mark.usefixtures("either_parser")
@pytest.mark.parametrize("bracket", ["[", "{a: ", "- ", "? "])
def test_deep_nesting_stops_before_it_hurts(bracket: str) -> None:
    assert [at(f)[0] for f in faults_in("a:\n " + bracket * 5000)] == ["too-deep"]


def test_sensible_nesting_is_read() -> None:
    deep = DEEPEST - 1
    assert read("a: " + "[" * deep + "]" * deep)
    assert faults_in("a: " + "[" * DEEPEST + "]" * DEEPEST)


def test_a_byte_order_mark_is_taken(tmp_path: Path) -> None:
    path = tmp_path / "a.yml"
    path.write_bytes(b"\xef\xbb\xbfa: 1\r\nb: 2\r\n")
    shop, faults = read_yaml(path, "a.yml")
    assert (shop, faults) == ({"a": 1, "b": 2}, [])
    assert shop.origins["a"] == Origin("a.yml", 1, 4)


@pytest.mark.parametrize(
    ("data", "place"),
    [
        ("a: 1\nb: café\n".encode("latin-1"), (2, 7)),
        ("a: 1\n".encode("utf-16"), (1, 1)),
        (b"\xef\xbb\xbfa: \xff\n", (1, 4)),
    ],
)
def test_what_is_not_utf8_is_a_fault(data: bytes, place: tuple[int, int], tmp_path: Path) -> None:
    path = tmp_path / "a.yml"
    path.write_bytes(data)
    shop, faults = read_yaml(path, "a.yml")
    assert shop is None
    assert [at(f) for f in faults] == [("not-utf8", *place)]


def test_a_file_that_is_too_large_is_not_read(tmp_path: Path) -> None:
    path = tmp_path / "a.yml"
    path.write_bytes(b"a: 1\n" + b"#" * LARGEST)
    shop, faults = read_yaml(path, "a.yml")
    assert shop is None
    assert [f.says for f in faults] == ["a.yml is 5.0 MB, more than the 5 MB a data file may have."]


def _nothing(path: Path) -> None:
    assert not path.exists()


def _folder(path: Path) -> None:
    path.mkdir()


def _pipe(path: Path) -> None:
    os.mkfifo(path)


def _link_to_itself(path: Path) -> None:
    path.symlink_to(path)


def _link_to_nowhere(path: Path) -> None:
    path.symlink_to(path.parent / "nowhere.yml")


@pytest.mark.parametrize("make", [_nothing, _folder, _pipe, _link_to_itself, _link_to_nowhere])
def test_what_is_no_readable_file_is_a_fault(make: Any, tmp_path: Path) -> None:
    path = tmp_path / "a.yml"
    make(path)
    shop, faults = read_yaml(path, "a.yml")
    assert shop is None
    assert [at(f) for f in faults] == [("unreadable-file", 0, 0)]


def test_a_file_one_may_not_read_is_a_fault(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "a.yml"
    path.write_text("a: 1\n")

    def refuse(*_args: object) -> None:
        raise PermissionError(errno.EACCES, "Permission denied")

    monkeypatch.setattr(Path, "open", refuse)  # root, who runs tests in CI, may read everything
    assert [at(f)[0] for f in read_yaml(path, "a.yml")[1]] == ["unreadable-file"]


def test_a_syntax_fault_reads_in_plain_words() -> None:
    assert as_terminal(faults_in("note: Open: weekdays\n"), False) == (
        "a.yml:1:11: fault: Two `: ` stand in this line, so it cannot be told where the value"
        " ends.\n"
        "    Put quotes around text with a colon in it.\n"
        '    for instance: note: "Open: weekdays only"'
    )


@pytest.mark.parametrize(
    ("text", "line", "column", "begins"),
    [
        ('a: "one\nb: two\nc: "three"\n', 1, 4, "The quote opened here"),
        ("a:\n  b: 'one\n  c: 'two'\n", 2, 6, "The quote opened here"),
        ("a:\n  b: one\n    c: two\n", 3, 6, "A key cannot stand here"),
        ("a: “Open: weekdays”\n", 1, 4, "These are printed quotes"),
        ("a:\n  - “750 mm”\n", 2, 5, "These are printed quotes"),
    ],
)
def test_a_slip_is_told_where_it_was_made(text: str, line: int, column: int, begins: str) -> None:
    (finding,) = faults_in(text)
    assert (finding.origin.line, finding.origin.column) == (line, column)
    assert finding.says.startswith(begins)


def test_printed_quotes_inside_a_text_are_text() -> None:
    assert faults_in("a: “Stop” stands on it\nb: '“Stop”'\n") == []


@pytest.mark.parametrize("plain", PLAIN, ids=lambda plain: plain.complaint)
def test_the_examples_shown_for_syntax_faults_are_right(plain: Any) -> None:
    if plain.example:
        read(plain.example.replace("{character}", "@"))


SCALARS = (
    st.booleans()
    | st.none()
    | st.integers(-(10**17), 10**17)
    | st.floats(-1e9, 1e9)
    | st.text(st.characters(codec="utf-8", exclude_categories=["C", "Z"]), max_size=12)
)
DATA = st.dictionaries(
    st.from_regex(r"[a-z]{1,8}", fullmatch=True),
    st.recursive(
        SCALARS,
        lambda inner: (
            st.lists(inner, max_size=4)
            | st.dictionaries(st.from_regex(r"[a-z]{1,8}", fullmatch=True), inner, max_size=4)
        ),
        max_leaves=12,
    ),
    min_size=1,
)


def quoted(dumper: yaml.SafeDumper, text: str) -> yaml.Node:
    return dumper.represent_scalar("tag:yaml.org,2002:str", text, style='"')


class Quoting(yaml.SafeDumper):
    """Writes all text in quotes, so that YAML 1.1 and 1.2 agree on what it is."""

    def ignore_aliases(self, _data: Any) -> bool:
        return True


Quoting.add_representer(str, quoted)


@given(data=DATA, flow=st.booleans())
def test_what_is_written_is_read_back_with_its_places(data: dict[str, Any], flow: bool) -> None:
    text = yaml.dump(data, Dumper=Quoting, default_flow_style=flow, allow_unicode=True)
    shop, faults = parse_yaml(text, "a.yml")
    assert faults == []
    assert shop == data
    lines = text.splitlines()
    for key, origin in shop.key_origins.items():
        assert lines[origin.line - 1][origin.column - 1 :].startswith(f'"{key}"')


YAML_LIKE = st.lists(
    st.sampled_from(
        ["a", "b: ", "c:\n", "- ", "  ", "\n", "\t", "[", "]", "{", "}", "&x ", "*x", "!", "!!str ",
         '"', "'", "|", ">", "#", "%", "@", "---\n", "...\n", "? ", ": ", ",", ".nan", "1e999",
         "\\",          "<<: ", "é", "\r", "\x00", "\x85", "\ufeff", "😀"]
    )
).map("".join)  # fmt: skip


@pytest.mark.parametrize("parser", PARSERS, ids=lambda parser: parser.__name__)
@given(text=YAML_LIKE | st.text())
def test_no_text_ends_in_a_traceback(parser: Any, text: str) -> None:
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(yamlfile, "_LOADER", parser)
        shop, faults = parse_yaml(text, "a.yml")
    assert shop is not None or faults
    lines = text.count("\n") + text.count("\r") + text.count("\x85") + 3
    assert all(0 <= f.origin.line <= lines and f.origin.column >= 0 for f in faults)
    assert as_terminal(faults, True) or not faults


@given(data=st.binary() | YAML_LIKE.map(lambda text: text.encode()))
def test_no_bytes_end_in_a_traceback(tmp_path_factory: pytest.TempPathFactory, data: bytes) -> None:
    path = tmp_path_factory.getbasetemp() / "junk.yml"
    path.write_bytes(data)
    shop, faults = read_yaml(path, "junk.yml")
    assert shop is not None or faults


def test_a_few_aliases_that_repeat_much_are_stopped() -> None:
    """Each repeats the one before twice: few aliases, and a million values."""
    lines = [f"a0: &a0 [{', '.join(['x'] * 1000)}]"]
    lines += [f"a{n}: &a{n} [*a{n - 1}, *a{n - 1}]" for n in range(1, 10)]
    tree, faults = parse_yaml("\n".join(lines), "bomb.yml")
    assert tree is None
    assert [(f.rule, f.origin.line) for f in faults] == [("data.too-many-aliases", 5)]
