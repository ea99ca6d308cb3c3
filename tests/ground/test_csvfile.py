from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.ground.csvfile import CsvRow, NumberError, parse_csv, parse_number, read_csv
from generator.ground.finding import Finding, Severity

COLUMNS = ["date", "mass", "stream-id"]


def rows_of(text: str) -> list[CsvRow]:
    rows, faults = parse_csv(text, "w.csv", COLUMNS, ["date"])
    assert faults == []
    return rows


def faults_of(text: str) -> list[Finding]:
    faults = parse_csv(text, "w.csv", COLUMNS, ["date"])[1]
    assert all(f.severity is Severity.FAULT for f in faults)
    return faults


def at(finding: Finding) -> tuple[str, int, int]:
    return finding.rule.removeprefix("data."), finding.origin.line, finding.origin.column


@pytest.mark.parametrize("delimiter", [",", ";", "\t"])
@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
def test_reads_what_a_spreadsheet_saves(delimiter: str, end: str) -> None:
    lines = ["date,mass,stream-id", "2026-01-05,3.5,bins", "", ",,", "2026-01-12,4,"]
    rows = rows_of(end.join(lines).replace(",", delimiter) + end)
    assert [dict(row.cells) for row in rows] == [
        {"date": "2026-01-05", "mass": "3.5", "stream-id": "bins"},
        {"date": "2026-01-12", "mass": "4", "stream-id": ""},
    ]
    assert [str(row.origin) for row in rows] == ["w.csv:2:1", "w.csv:5:1"]
    assert str(rows[0].origin_of("stream-id")) == "w.csv:2:16"


def test_decimal_commas_stand_between_semicolons() -> None:
    assert rows_of("date;mass\n1;3,5\n")[0]["mass"] == "3,5"


def test_quoted_cells_keep_their_breaks_and_the_lines_behind_them_count_right() -> None:
    rows = rows_of('date,mass,stream-id\n1,"two\nlines","a ""b"", c"\n2,,"x"\n')
    assert rows[0]["mass"] == "two\nlines"
    assert rows[0]["stream-id"] == 'a "b", c'
    assert str(rows[0].origin_of("stream-id")) == "w.csv:3:8"
    assert str(rows[1].origin_of("date")) == "w.csv:4:1"


def test_headers_are_known_whatever_their_case_and_hyphens() -> None:
    assert rows_of("Date,MASS,Stream ID\n1,2,3\n")[0]["stream-id"] == "3"


def test_the_delimiter_may_be_told_in_a_first_line() -> None:
    row = rows_of("sep=;\ndate;mass\n1;2\n")[0]
    assert (row["mass"], str(row.origin)) == ("2", "w.csv:3:1")


def test_empty_columns_and_cells_at_the_end_are_no_fault() -> None:
    assert rows_of("date,mass,,\n1,2,,,,\n")[0]["mass"] == "2"


def test_a_column_left_out_reads_as_empty() -> None:
    row = rows_of("date\n1\n")[0]
    assert row["mass"] == ""
    assert row.origin_of("mass") == row.origin


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("", [("empty-file", 1, 1)]),
        ("\n , ,\n", [("empty-file", 1, 1)]),
        ("date,mas\n1,2\n", [("csv-column", 1, 6)]),
        ("date,,mass\n1,2,3\n", [("csv-column", 1, 6)]),
        ("date,mass,Date\n1,2,3\n", [("csv-column", 1, 11)]),
        ("mass\n1\n", [("csv-column", 1, 1)]),
        ("date,mass\n1,2,3\n", [("csv-cells", 2, 5)]),
        ("date,mass\n1\n", [("csv-cells", 2, 1)]),
        ("date,mass\n,2\n", [("csv-blank", 2, 1)]),
        ('date,mass\n1,"2\n3,4\n', [("csv-quote", 2, 3)]),
        ('date,mass\n"1"x,2\n', [("csv-quote", 2, 1)]),
        (
            "date,mass\n1,2,3\n,4\n5,6\n7\n",
            [("csv-cells", 2, 5), ("csv-blank", 3, 1), ("csv-cells", 5, 1)],
        ),
    ],
)  # fmt: skip
def test_every_fault_is_found_at_its_place(text: str, wanted: list[tuple[str, int, int]]) -> None:
    assert [at(f) for f in faults_of(text)] == wanted


def test_a_faulty_row_is_left_out_and_the_others_are_read() -> None:
    rows, faults = parse_csv("date,mass\n1,2\n3\n4,5\n", "w.csv", COLUMNS)
    assert [row["date"] for row in rows] == ["1", "4"]
    assert len(faults) == 1


def test_faults_say_what_is_meant_and_show_a_right_header() -> None:
    fault = faults_of("date;mas\n1;2\n")[0]
    assert fault.says == "There is no column `mas` in this table."
    assert fault.mend == "Did you mean `mass`?"
    assert fault.example == "date;mass;stream-id"


@pytest.mark.parametrize("data", ["date\ncafé\n".encode("latin-1"), "date\n1\n".encode("utf-16")])
def test_what_is_not_utf8_is_a_fault(data: bytes, tmp_path: Path) -> None:
    path = tmp_path / "w.csv"
    path.write_bytes(data)
    rows, faults = read_csv(path, "w.csv", COLUMNS)
    assert rows == []
    assert [f.rule for f in faults] == ["data.not-utf8"]


def test_a_byte_order_mark_is_taken(tmp_path: Path) -> None:
    path = tmp_path / "w.csv"
    path.write_bytes(b"\xef\xbb\xbfdate,mass\r\n1,2\r\n")
    rows, faults = read_csv(path, "w.csv", COLUMNS, ["date"])
    assert faults == []
    assert rows[0]["date"] == "1"


def test_a_file_that_is_not_there_is_a_fault(tmp_path: Path) -> None:
    rows, faults = read_csv(tmp_path / "w.csv", "w.csv", COLUMNS)
    assert (rows, [f.rule for f in faults]) == ([], ["data.unreadable-file"])


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("12", 12.0), ("1,5", 1.5), ("1.5", 1.5), (".5", 0.5), ("0,250", 0.25), ("0.250", 0.25),
        ("1 250", 1250.0), ("1\u202f250,5", 1250.5), ("1 250,5", 1250.5), ("1.250,5", 1250.5),
        ("1,250.5", 1250.5), ("1'250.50", 1250.5), ("1.250.000", 1_250_000.0),
        ("1,250,000.25", 1_250_000.25), ("1250.500", 1250.5), ("1.250,500", 1250.5),
        ("-3,5", -3.5), ("−3", -3.0), (" 7 ", 7.0), ("12.3456", 12.3456),
    ],
)  # fmt: skip
def test_reads_numbers_as_spreadsheets_write_them(text: str, wanted: float) -> None:
    assert parse_number(text) == wanted


@pytest.mark.parametrize("text", ["1.250", "1,250", "12.500", "999,999", "-1.250"])
def test_asks_whether_three_digits_are_thousands(text: str) -> None:
    with pytest.raises(NumberError, match="may mean"):
        parse_number(text)


def test_the_question_shows_both_answers() -> None:
    with pytest.raises(NumberError) as caught:
        parse_number("1.250")
    assert caught.value.says == "`1.250` may mean 1250 or 1.25."
    assert [parse_number(t) for t in ("1250", caught.value.example)] == [1250.0, 1.25]


@pytest.mark.parametrize(
    "text", ["", "-", "x", "3 kg", "1.2.3", "1,25,000", "12 50", "1e3", "nan", "inf", "5,", "٣",
             "1.250,5.0", "1.250.000,5,5", "--3", "9" * 400]
)  # fmt: skip
def test_refuses_what_is_no_number(text: str) -> None:
    with pytest.raises(NumberError) as caught:
        parse_number(text)
    assert parse_number(caught.value.example) == 12.5


@given(
    value=st.decimals(-(10**9), 10**9, places=2),
    style=st.sampled_from([", .", ". ,", "  ,", "' ."]),
)
def test_grouped_numbers_with_two_decimals_read_back(value: object, style: str) -> None:
    group, point = style[0], style[2]
    text = f"{value:,.2f}".replace(",", "_").replace(".", point).replace("_", group)
    assert parse_number(text) == float(f"{value:.2f}")


CELL = st.text(st.characters(codec="utf-8", exclude_categories=["C", "Z"]), min_size=1, max_size=8)


@given(
    table=st.lists(st.tuples(CELL, CELL, CELL), min_size=1, max_size=6),
    delimiter=st.sampled_from([",", ";", "\t"]),
)
def test_quoted_tables_read_back(table: list[tuple[str, str, str]], delimiter: str) -> None:
    lines = [COLUMNS, *table]
    text = "\n".join(delimiter.join('"' + c.replace('"', '""') + '"' for c in r) for r in lines)
    rows = rows_of(text)
    assert [tuple(row[column] for column in COLUMNS) for row in rows] == table


@given(
    text=st.text()
    | st.lists(st.sampled_from(["date", "mass", ",", ";", "\t", '"', "\n", "\r", "1", " "])).map(
        "".join
    )
)
def test_no_text_ends_in_a_traceback(text: str) -> None:
    rows, faults = parse_csv(text, "w.csv", COLUMNS, ["date"])
    lines = text.count("\n") + text.count("\r") + 1
    places = [f.origin for f in faults] + [o for row in rows for o in row.origins.values()]
    assert all(1 <= place.line <= lines and place.column >= 1 for place in places)


@given(text=st.text() | st.text("0123456789.,' -"))
def test_junk_is_no_number(text: str) -> None:
    try:
        assert abs(parse_number(text)) < 1e41
    except NumberError as error:
        assert error.says and error.mend


def test_a_decimal_comma_between_commas_is_seen() -> None:
    (finding,) = faults_of("date,mass\n2026-01-12,1,62\n")
    assert "write it with a point, `1.62`" in finding.mend
    assert finding.example == "1.62"
