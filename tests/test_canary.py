"""The search for a name that must not get out finds it wherever it could hide."""

from __future__ import annotations

import gzip
import io
import json
import zipfile
from pathlib import Path
from typing import Literal

import pytest
import typst

from tests import canary


def _zipped(text: str) -> bytes:
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as file:
        file.writestr("page.html", text)
    return packed.getvalue()


def _set(folder: Path, text: str) -> bytes:
    (folder / "sheet.typ").write_text(f"#set document(title: [Sheet])\n{text}\n", encoding="utf-8")
    return bytes(typst.compile(str(folder / "sheet.typ"), pdf_standards=["ua-1"]))


@pytest.mark.parametrize("form", canary.FORMS)
def test_a_name_is_found_plain_escaped_and_packed(
    form: Literal["NFC", "NFD"], tmp_path: Path
) -> None:
    name = canary.written(form)
    assert canary.is_in("page.html", f"<p>{name}</p>".encode())
    assert canary.is_in("search_index.json", json.dumps({"text": name}).encode())
    assert canary.is_in("sitemap.xml.gz", gzip.compress(name.encode()))
    assert canary.is_in("export.zip", _zipped(name))
    assert canary.is_in("sheet.pdf", _set(tmp_path, f"Done by {name}."))


def test_nothing_is_found_where_there_is_nothing(tmp_path: Path) -> None:
    assert not canary.is_in("page.html", b"<p>A canary in a mine</p>")
    assert not canary.is_in("sheet.pdf", _set(tmp_path, "Done by the keeper."))
