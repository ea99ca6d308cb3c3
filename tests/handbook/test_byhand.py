"""Which hand-written files are published, and where they would write over what is made."""

from __future__ import annotations

from pathlib import Path

import pytest

from generator.handbook import byhand
from tests.building import lay_out


def test_nothing_hidden_and_no_data_is_taken_along(tmp_path: Path) -> None:
    folder = lay_out(tmp_path / "bench")
    names = ["notes.md", "pictures/press.jpg", ".draft.md", ".git/x.md", "list.csv", "a/b.YAML"]
    for name in names:
        path = folder / "content" / name
        path.parent.mkdir(exist_ok=True)
        path.write_text("x", encoding="utf-8")
    shop = folder / "content" / "shop"
    found = byhand.files_in(byhand.folder_beside(shop), shop)
    assert list(found) == ["notes.md", "pictures/press.jpg"]


def test_a_shop_kept_by_itself_has_no_hand_written_pages(tmp_path: Path) -> None:
    (tmp_path / "letters.md").write_text("Private", encoding="utf-8")
    assert byhand.folder_beside(tmp_path / "shop") is None
    assert byhand.files_in(None, tmp_path / "shop") == {}


@pytest.mark.parametrize(
    ("name", "address"),
    [
        ("notes.md", "notes.html"),
        ("stations/README.md", "stations/index.html"),
        ("a.b.markdown", "a.b.html"),
        ("pictures/press.jpg", "pictures/press.jpg"),
    ],
)
def test_a_file_is_published_where_mkdocs_would_put_it(name: str, address: str) -> None:
    assert byhand.address_of(name) == address
