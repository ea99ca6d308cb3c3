"""Pages are the same whether their templates were compiled at an earlier build or now."""

from __future__ import annotations

import tempfile
from collections.abc import Iterator
from pathlib import Path

import pytest

from generator.handbook.render import forget_templates, render


@pytest.fixture(autouse=True)
def _own_place(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path))
    forget_templates()
    yield
    forget_templates()


def _page() -> str:
    return render("glossary", "glossary", terms=[])


def test_a_page_of_kept_templates_is_the_same(tmp_path: Path) -> None:
    first = _page()
    assert list(tmp_path.rglob("*.cache"))
    forget_templates()
    assert _page() == first


def test_a_page_is_made_where_nothing_can_be_kept(monkeypatch: pytest.MonkeyPatch) -> None:
    first = _page()
    monkeypatch.setattr(tempfile, "tempdir", "/nowhere/at/all")
    forget_templates()
    assert _page() == first
