"""A name that must not get out: where it is put, and every way in which it could come through."""

from __future__ import annotations

import csv
import gzip
import io
import json
import unicodedata
import zipfile
from collections.abc import Iterator
from pathlib import Path
from typing import Literal

import pikepdf
import pypdf

from generator.shop.logs import LOGS, file_of_log
from generator.workings.for_readers import own_words
from tests.building import tree

NAME = "Zoë Çanary-Ñandú"
FORMS: tuple[Literal["NFC"], Literal["NFD"]] = ("NFC", "NFD")


def written(form: Literal["NFC", "NFD"]) -> str:
    """The name in a normal form of Unicode."""
    return unicodedata.normalize(form, NAME)


def put_in_logs(shop: Path) -> int:
    """Write the name into every column of own words of every log; how many cells it is in."""
    return sum(_put_in(shop / file_of_log(log), own_words(row)) for log, row in LOGS.items())


def _put_in(path: Path, columns: tuple[str, ...]) -> int:
    if not columns or not path.exists():
        return 0
    with path.open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    for number, row in enumerate(rows):
        name = written(FORMS[number % len(FORMS)])
        row |= {column: f"{row.get(column) or ''} {name}".strip() for column in columns}
    with path.open("w", encoding="utf-8", newline="") as file:
        writer = csv.DictWriter(file, list(dict.fromkeys([*rows[0], *columns])))
        writer.writeheader()
        writer.writerows(rows)
    return len(rows) * len(columns)


def put_in_registers(content: Path) -> None:
    """Write the name into registers of competence, one where it is kept and some astray."""
    for form in FORMS:
        row = f"{written(form)},granulator,authorised,2026-10-01\n"
        for place in ("shop/competence.csv", "competence.csv", f"{form}/Competence.CSV"):
            path = content / place
            path.parent.mkdir(exist_ok=True)
            with path.open("a", encoding="utf-8") as file:
                file.write(row)


# --- where it could come through ---------------------------------------------------------------


def traces(folder: Path) -> list[str]:
    """Files below a folder in which the name, or a part of it, can be found by any reading."""
    return [name for name, content in tree(folder).items() if is_in(name, content)]


def is_in(name: str, content: bytes) -> bool:
    """Whether a file's bytes hold the name, packed or not, in either form or escaped."""
    readings = list(_readings(name, content))
    return any(spelling in reading for reading in readings for spelling in _spellings())


def _spellings() -> set[bytes]:
    words = {part for form in FORMS for part in (written(form), *written(form).split())}
    plain = {word.encode(code) for word in words for code in ("utf-8", "utf-16-be")}
    return plain | {json.dumps(word)[1:-1].encode() for word in words}


def _readings(name: str, content: bytes) -> Iterator[bytes]:
    yield content
    if name.endswith(".gz"):
        yield gzip.decompress(content)
    elif name.endswith((".zip", ".xlsx")):
        with zipfile.ZipFile(io.BytesIO(content)) as packed:
            yield from (packed.read(entry) for entry in packed.namelist())
    elif name.endswith(".pdf"):
        yield from _in_pdf(content)


def _in_pdf(content: bytes) -> Iterator[bytes]:
    """A PDF's unpacked streams and strings, and its text as a reader copies it."""
    unpacked = io.BytesIO()
    with pikepdf.open(io.BytesIO(content)) as pdf:
        pdf.save(
            unpacked,
            stream_decode_level=pikepdf.StreamDecodeLevel.generalized,
            object_stream_mode=pikepdf.ObjectStreamMode.disable,
            compress_streams=False,
        )
    yield unpacked.getvalue()
    for page in pypdf.PdfReader(io.BytesIO(content)).pages:
        text = page.extract_text()
        yield text.encode()
        yield "".join(text.split()).encode()
