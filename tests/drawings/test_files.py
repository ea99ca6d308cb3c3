"""A drawing carried away as a file says what the page's drawing says, and needs nothing else."""

import re
import xml.etree.ElementTree as ET

from generator.drawings import sheet
from generator.drawings.atlas import Atlas
from generator.drawings.files import to_file
from generator.drawings.foot import Foot
from generator.drawings.ink import FIXED, TOKENS, Drawing, Label, Pen, Rect, labels_of

FOOT = Foot("The shop", "PL-01", "2026-03-14", "0" * 64)
_SVG = "{http://www.w3.org/2000/svg}"


def test_the_plan_sheet_is_a2_in_millimetres(demonstration: Atlas) -> None:
    root = ET.fromstring(to_file(sheet.draw(demonstration, FOOT)))
    assert (root.get("width"), root.get("height")) == ("594mm", "420mm")


def test_every_label_is_text_in_the_file(demonstration: Atlas) -> None:
    drawing = sheet.draw(demonstration, FOOT)
    written = [text.text for text in ET.fromstring(to_file(drawing)).iter(f"{_SVG}text")]
    assert sorted(written) == sorted(label.text for label in labels_of(drawing.items))


def test_colours_are_fixed_and_nothing_is_fetched(demonstration: Atlas) -> None:
    text = to_file(sheet.draw(demonstration, FOOT)).decode()
    assert "var(" not in text
    known = {*TOKENS.values(), *FIXED.values(), "none", "url(#hatch)"}
    used = set(re.findall(r'(?:fill|stroke)="([^"]+)"', text))
    assert used <= known
    for address in re.findall(r"url\(([^)]{1,40})", text):
        assert address.startswith(("#", "data:font/woff2"))


def test_markup_in_a_name_stays_text() -> None:
    name = "<script>alert(1)</script> & co"
    drawing = Drawing(
        40, 20, (Rect(0, 0, 40, 20, Pen("sheet")), Label(2, 10, name, 4)), name, name, "mm"
    )
    root = ET.fromstring(to_file(drawing))
    assert [text.text for text in root.iter(f"{_SVG}text")] == [name]
    assert list(root.iter(f"{_SVG}script")) == []


def test_two_files_of_one_drawing_are_alike(demonstration: Atlas) -> None:
    drawing = sheet.draw(demonstration, FOOT)
    assert to_file(drawing) == to_file(drawing)
