"""The handbook through MkDocs: what is published, what stops a build, what a saved file does."""

from __future__ import annotations

import datetime as dt
from pathlib import Path
from typing import Any

import pytest

from generator.handbook import book
from tests.building import AS_OF, build, lay_out, names_in, read_config, tree, write_config
from tests.pages import seen
from tests.small import shop_with

ROLES = (Path(__file__).parent / "shops" / "smallest" / "roles.yml").read_text("utf-8")


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return lay_out(tmp_path / "bench")


def _write(folder: Path, name: str, content: str | bytes) -> None:
    path = folder / "content" / name
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(content.encode() if isinstance(content, str) else content)


# --- what is published -------------------------------------------------------------------------


def test_the_pages_are_those_of_the_book(folder: Path, tmp_path: Path) -> None:
    (tmp_path / "shop").mkdir()
    shop = shop_with(tmp_path / "shop")
    made = book.make(shop, dt.date.fromisoformat(AS_OF), "en")
    built = build(folder)
    assert built.status == 0, built.said
    pages = {name for name in names_in(built.site) if name.endswith(".html")}
    assert pages == {page.address for page in made.pages} | {"404.html"}


def test_a_hand_written_page_joins_with_the_shops_facts(folder: Path) -> None:
    _write(folder, "notes.md", "# Notes\n\nThe bench is [=room.ceiling] high.\n")
    built = build(folder)
    assert built.status == 0, built.said
    assert "The bench is 2800\u202fmm high." in built.page("notes.html")
    assert "notes.html" in seen(built.page("index.html")).links


@pytest.mark.parametrize("shop", ["shop", "./shop", "shop/", "../content/shop"])
def test_no_data_is_published_however_the_shops_folder_is_named(tmp_path: Path, shop: str) -> None:
    folder = lay_out(tmp_path / "bench", shop=shop)
    for name in ("shop/competence.csv", "competence.csv", "shop/notes.md", "lists/People.CSV"):
        _write(folder, name, "Canary\n")
    built = build(folder)
    assert built.status == 0, built.said
    assert [name for name, content in tree(built.site).items() if b"Canary" in content] == []
    assert [name for name in names_in(built.site) if name.endswith((".yml", ".csv"))] == []


def test_links_keep_to_file_names_whatever_the_settings_say(folder: Path) -> None:
    write_config(folder, {**read_config(folder), "use_directory_urls": True})
    built = build(folder)
    assert built.status == 0, built.said
    assert (built.site / "stations" / "cutting.html").is_file()


def test_the_search_index_lies_there_as_a_script_too(folder: Path) -> None:
    built = build(folder)
    script = (built.site / "search" / "search_index.js").read_text("utf-8")
    index = (built.site / "search" / "search_index.json").read_text("utf-8")
    assert script == f"var __index = {index}"


def test_a_shop_may_order_its_own_navigation(folder: Path) -> None:
    write_config(
        folder, {**read_config(folder), "nav": [{"In": "index.md"}, {"Cut": "stations/cutting.md"}]}
    )
    built = build(folder)
    assert built.status == 0, built.said
    assert "stations/cutting.html" in seen(built.page("index.html")).links


def test_pages_are_dated_by_the_data_and_not_by_the_clock(folder: Path) -> None:
    write_config(folder, {**read_config(folder), "site_url": "https://bench.example/"})
    sitemap = build(folder).page("sitemap.xml")
    assert sitemap.count(f"<lastmod>{AS_OF}</lastmod>") == sitemap.count("<url>") > 10


# --- what stops a build ------------------------------------------------------------------------

MACHINE = """granulator:
  name: Granulator
  kind: granulator
  station: cuting
"""


def _fault(folder: Path, name: str, content: str | bytes) -> tuple[dict[str, bytes], Any]:
    """Build, then spoil one file and build again."""
    good = build(folder)
    assert good.status == 0, good.said
    before = tree(good.site)
    _write(folder, name, content)
    return before, build(folder)


@pytest.mark.parametrize(
    ("name", "content", "said"),
    [
        ("shop/machines.yml", MACHINE, ["machines.yml:4:12: fault:", "`cutting`"]),
        ("shop/machines.yml", "granulator: [\n", ["machines.yml:"]),
        ("shop/roles.yml", ROLES + ROLES, ["roles.yml:5:1: fault:", "keeper"]),
        (
            "notes.md",
            "# Notes\n\nUnder [=room.celing].\n",
            ["notes.md:3:7: fault:", "`room.celing`", "`ceiling`"],
        ),
        ("notes.md", b"# Caf\xe9\n", ["notes.md:1:6: fault:", "UTF-8"]),
        ("stations/cutting.md", "# Mine\n", ["stations/cutting.md: fault:"]),
        ("README.md", "# Mine\n", ["README.md: fault:"]),
        ("data/shop.json", "{}", ["data/shop.json: fault:"]),
    ],
)
def test_a_fault_leaves_the_last_good_site_standing(
    folder: Path, name: str, content: str | bytes, said: list[str]
) -> None:
    before, spoilt = _fault(folder, name, content)
    assert spoilt.status != 0
    assert [words for words in said if words not in spoilt.said] == []
    assert "Traceback" not in spoilt.said
    assert tree(spoilt.site) == before


def test_all_faults_are_told_at_once(folder: Path) -> None:
    _write(folder, "one.md", "[=room.celing] [=shop.nam]\n")
    _write(folder, "stations/cutting.md", "# Mine\n")
    said = build(folder).said
    assert said.count(": fault:") == 3


@pytest.mark.parametrize(
    ("settings", "said"),
    [
        ({"as_of": "next week"}, "as_of: `next week` is no date"),
        ({"language": "eo"}, "language: the shop has no `eo`; it is written in en."),
        ({"shop": "shopp"}, "no shop folder"),
    ],
)
def test_a_setting_that_cannot_be_meant_is_told(
    tmp_path: Path, settings: dict[str, str], said: str
) -> None:
    built = build(lay_out(tmp_path / "bench", **settings))
    assert built.status != 0
    assert said in built.said


def test_a_clock_that_cannot_be_read_is_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "noon")
    built = build(lay_out(tmp_path / "bench", as_of=""))
    assert built.status != 0
    assert "SOURCE_DATE_EPOCH is `noon`" in built.said


def test_a_broken_link_in_a_hand_written_page_fails_a_strict_build(folder: Path) -> None:
    _write(folder, "notes.md", "# Notes\n\n[away](stations/cuting.md) [up](index.md#nowhere)\n")
    built = build(folder)
    assert built.status != 0
    assert "stations/cuting.md" in built.said
    assert "#nowhere" in built.said
