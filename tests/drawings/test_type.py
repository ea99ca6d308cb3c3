from __future__ import annotations

import base64
import unicodedata
from importlib import resources

import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from playwright.sync_api import Browser

from generator.drawings import type

WORDS = st.text(st.characters(codec="utf-8", exclude_categories=("Cc", "Cs")), max_size=60)
SENTENCES = [
    "Push with the wooden pusher. The knives are 310 mm below the lip.",
    "AVATAR To Wave, Tyre: Yes. 10 200 × 7,5 °C",
    "Tür, Größe, œuvre, Zażółć gęślą jaźń",
    "Ļöçķ îţ öûţ, ţûŕñ îţ",
]
"""All of it in letters that the type has, so that both shapers set it in the same font."""


@given(WORDS, st.floats(4, 200), st.booleans())
@example("a" * 60, 4.0, False)
@example("\u00ad\u00ad", 4.0, False)
@example("मशीन की सफ़ाई", 20.0, True)
def test_no_line_is_wider_than_its_room(text: str, room: float, bold: bool) -> None:
    one_letter = max((type.width(letter, 3, bold) for letter in text), default=0)
    for line in type.wrap(text, 3, max(room, one_letter * 3 + 2), bold=bold):
        assert type.width(line, 3, bold) <= max(room, one_letter * 3 + 2) + 1e-6


@given(st.lists(st.text("abcdefghij", min_size=1, max_size=12), max_size=30), st.floats(40, 200))
def test_wrapping_loses_no_word(words: list[str], room: float) -> None:
    assert " ".join(type.wrap(" ".join(words), 3, room)).split() == words


@given(WORDS, st.integers(1, 3), st.floats(20, 80))
def test_what_has_no_room_is_cut_and_told(text: str, most: int, room: float) -> None:
    fitted = type.fit(text, 3, room, most)
    assert len(fitted.lines) <= most
    assert fitted.cut == (len(type.wrap(text, 3, room)) > most)
    assert not fitted.cut or fitted.lines[-1].endswith("…")
    assert fitted.width <= room + 1e-6 or len(fitted.lines[0]) < 4


@given(WORDS, st.floats(0.1, 50), st.booleans())
def test_width_grows_with_size(text: str, size: float, bold: bool) -> None:
    assert type.width(text, 2 * size, bold) == pytest.approx(2 * type.width(text, size, bold))
    assert type.width(text, size, bold) >= 0


def test_letters_that_lean_together_are_kerned() -> None:
    assert type.width("AV", 10) < type.width("A", 10) + type.width("V", 10)


def test_bold_is_wider() -> None:
    assert type.width("Granulator", 10, bold=True) > type.width("Granulator", 10)


@pytest.mark.parametrize(
    ("text", "lines"),
    [
        ("injection-moulding", ["injection-", "moulding"]),
        ("Spritz\u00adgieß\u00admaschine", ["Spritzgieß-", "maschine"]),
        ("granulatorgranulator", ["granulatorgr-", "anulator"]),  # an "a" more: 18.8 wide
        ("10\u00a0200\u00a0mm off", ["10\u00a0200\u00a0mm", "off"]),
        ("射出成形機の金型", ["射出成形機の", "金型"]),
        ("", []),
    ],
)
def test_where_lines_break(text: str, lines: list[str]) -> None:
    assert type.wrap(text, 3, 18.2) == lines


def test_an_accent_stays_on_its_letter() -> None:
    text = "e\u0301" * 40
    for line in type.wrap(text, 3, 12):
        assert not unicodedata.combining(line[0])


def test_text_is_cut_at_a_word() -> None:
    assert type.fit("Push with the wooden pusher only", 4, 30, 1).lines == ("Push with the…",)


@pytest.mark.browser
def test_widths_are_the_browsers(browser: Browser) -> None:
    """An independent shaper, with the same files, sets the same widths."""
    names = {False: "Regular", True: "Bold"}
    folder = resources.files("fontpkg_atkinson_hyperlegible") / "files"
    files = {
        bold: base64.b64encode((folder / f"AtkinsonHyperlegible-{name}.ttf").read_bytes()).decode()
        for bold, name in names.items()
    }
    faces = "".join(
        f"@font-face{{font-family:own{int(bold)};src:url(data:font/ttf;base64,{data})}}"
        for bold, data in files.items()
    )
    page = browser.new_page()
    words = "<p style='font-family:own0'>a<b style='font-family:own1'>a"
    page.set_content(f"<style>{faces}</style>{words}")
    page.evaluate("document.fonts.ready")
    measure = """([text, font]) => {
        const context = document.createElement('canvas').getContext('2d');
        context.font = font;
        return context.measureText(text).width;
    }"""
    for text in SENTENCES:
        for bold in files:
            seen = page.evaluate(measure, [text, f"100px own{int(bold)}"])
            assert type.width(text, 100, bold) == pytest.approx(seen, rel=0.002)
    page.close()
