"""In the made-up language every fixed string is accented: one that is not went past the catalogue.

The shop's own text is veiled in other letters first, so that whatever plain word is left on a page
was written in the code, in a template or in a table.
"""

from __future__ import annotations

import dataclasses
import datetime as dt
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from babel.dates import format_date

from generator.ground import units
from generator.ground.wording import PSEUDO, Text
from generator.handbook import book
from generator.handbook.page import Book
from generator.reference.tables import raw, sources
from generator.shop.fields import Record
from generator.shop.records.logs import Logs
from generator.shop.shop import Shop
from tests.building import AS_OF, build, lay_out, names_in
from tests.pages import seen

_VEIL = str.maketrans(
    "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ",
    "абцдефгхийклмнопярстувшхузАБЦДЕФГХИЙКЛМНОПЯРСТУВШХУЗ",
)


_TEXTBOOKS = {
    "Textbook",
    "Textbook, Archimedes",
    "Textbook, densities of a mixture",
    "Carslaw and Jaeger, Conduction of Heat in Solids; Proc IMechE B 217 (2003) 709",
    "Senter and Smith, Automated Readability Index, AMRL-TR-66-220 (1967)",
    "Coleman and Liau, J Applied Psychology 60 (1975) 283",
}
"""Works that a working cites and no table does."""


_LOGGED = ("fault", "note", "why")
"""What a log holds in somebody's own words."""


def _veiled(value: Any) -> Any:
    """The same shop, its text in Cyrillic letters of the same number."""
    if isinstance(value, Text):
        return Text(str(value).translate(_VEIL))
    if isinstance(value, Record):
        fields = {name: _veiled(getattr(value, name)) for name in type(value).model_fields}
        copy = value.model_copy(update=fields)
        for looked_up in copy.__dict__.keys() - fields.keys():  # of the shop as it was
            del copy.__dict__[looked_up]
        return copy
    if isinstance(value, Logs):
        rows = {f.name: _veiled(getattr(value, f.name)) for f in dataclasses.fields(value)}
        return dataclasses.replace(value, **rows)
    if dataclasses.is_dataclass(value) and any(hasattr(value, name) for name in _LOGGED):
        words = {n: getattr(value, n).translate(_VEIL) for n in _LOGGED if hasattr(value, n)}
        return dataclasses.replace(value, **words)  # type: ignore[type-var]
    if isinstance(value, dict):
        return {key: _veiled(item) for key, item in value.items()}
    return tuple(map(_veiled, value)) if isinstance(value, tuple) else value


@pytest.fixture(scope="module")
def made(demonstration: Shop) -> Book:
    return book.make(_veiled(demonstration), dt.date.fromisoformat(AS_OF), PSEUDO)


_WORD = re.compile(r"(?<!\w)[A-Za-z][a-z]{2,}(?!\w)")


def _plain_words(run: str, allowed: re.Pattern[str]) -> list[str]:
    """Words of three letters and more that no catalogue gave."""
    return _WORD.findall(allowed.sub(" ", " ".join(run.split())))


def _ids(value: Any) -> Iterator[str]:
    """Ids as they are shown: of two words and more, or marked as code."""
    if isinstance(value, dict):
        yield from (key if "-" in key else f"`{key}`" for key in value)
        for item in value.values():
            yield from _ids(item)
    elif isinstance(value, Record):
        for name in type(value).model_fields:
            yield from _ids(getattr(value, name))


def _units(table: Any) -> Iterator[str]:
    """The units of a reference table, some of which are words of the trade."""
    if isinstance(table, dict):
        yield from (unit for key, unit in table.items() if key == "unit")
        for row in table.values():
            yield from _units(row)


def _allowed(shop: Shop) -> re.Pattern[str]:
    """What is the same in every language: files, dates by their locale, units, works cited, ids."""
    days = [dt.date(2026, month, 1) for month in range(1, 13)]
    months = [format_date(day, form, "en_GB") for day in days for form in ("MMMM", "MMM")]
    cited = {row.cite for row in sources().values()} | _TEXTBOOKS
    symbols = {unit.symbol for unit in units.UNITS.values()}
    symbols |= {unit for table in ("limits", "process") for unit in _units(raw(table))}
    codes = {polymer.code for polymer in shop.polymers.values()}
    same = sorted({*cited, *months, *symbols, *codes, *_ids(shop)} - {""}, key=len, reverse=True)
    words = "|".join(map(re.escape, same))
    file, placeholder = r"[\w/-]+\.(?:yml|csv)(?::\d+)*", r"\{\w+\}"
    fingerprint = "(?:[0-9a-f]{4} ){3}[0-9a-f]{4}"  # may be all letters
    return re.compile(rf"{file}|{placeholder}|{fingerprint}|(?<!\w)(?:{words})(?!\w)")


def _left(made: Book, shop: Shop) -> Iterator[str]:
    allowed, ids = _allowed(shop), {id_.strip("`") for id_ in _ids(shop)}
    for page in made.pages:
        for run in {*seen(page.body).words, page.title}:
            words = _plain_words(run, allowed)
            if words and run not in ids:
                yield f"{page.kind}: {' '.join(words)} in “{' '.join(run.split())[:90]}”"


def test_every_fixed_string_of_a_page_comes_from_the_catalogue(
    made: Book, demonstration: Shop
) -> None:
    assert len(made.pages) > 100
    assert sorted(set(_left(made, demonstration))) == []


def test_what_stands_round_a_page_comes_from_the_catalogue(tmp_path: Path) -> None:
    built = build(lay_out(tmp_path / "bench", language=PSEUDO))
    assert built.status == 0, built.said
    shop = re.compile("Millrace bench|Cutting|Granulator|Keeper|Polypropylene|21 October 2026")
    left = {}
    for name in names_in(built.site):
        if name.endswith(".html"):
            shell = re.sub(r"<article.*</article>", "", built.page(name), flags=re.DOTALL)
            runs = seen(shell).words
            left[name] = [words for run in runs if (words := _plain_words(run, shop))]
    assert len(left) > 10
    assert {name: words for name, words in left.items() if words} == {}
