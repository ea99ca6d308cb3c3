"""The handbook as plain Markdown, built by a generator that knows nothing of it."""

from __future__ import annotations

import json
import re
from dataclasses import dataclass
from pathlib import Path

import pytest
import yaml
from click.testing import CliRunner

from generator.cli import main
from generator.handbook.look import PLAIN_SHEETS
from tests.building import AS_OF, CONTENT, Built, build, lay_out, names_in
from tests.pages import seen


@dataclass(frozen=True)
class Exported:
    folder: Path
    plain: Built


def _export(target: Path, shop: Path, as_of: str = AS_OF) -> tuple[int, str]:
    run = CliRunner().invoke(main, ["export", str(target), "--shop", str(shop), "--as-of", as_of])
    return run.exit_code, run.output


@pytest.fixture(scope="module")
def exported(tmp_path_factory: pytest.TempPathFactory, handbook: Path) -> Exported:
    """The demonstration shop's export, built by plain MkDocs with a theme of its own."""
    folder = tmp_path_factory.mktemp("export")
    day = json.loads((handbook / "data" / "shop.json").read_text("utf-8"))["as_of"]
    status, said = _export(folder / "docs", CONTENT / "shop", day)
    assert status == 0, said
    config = {
        "site_name": "Plain",
        "theme": "mkdocs",
        "use_directory_urls": False,
        "extra_css": [*PLAIN_SHEETS],
        "plugins": [],
    }
    (folder / "mkdocs.yml").write_text(yaml.safe_dump(config), encoding="utf-8")
    return Exported(folder / "docs", build(folder))


def test_plain_mkdocs_finds_nothing_wrong(exported: Exported) -> None:
    assert exported.plain.status == 0, exported.plain.said
    assert "WARNING" not in exported.plain.said


def _pages(site: Path) -> set[str]:
    return {name for name in names_in(site) if name.endswith(".html")}


def test_it_has_the_pages_of_the_handbook(exported: Exported, handbook: Path) -> None:
    assert _pages(exported.plain.site) == _pages(handbook)


def test_each_page_has_the_same_words(exported: Exported, handbook: Path) -> None:
    """Whatever the theme puts round it, what a page says comes through in its order."""
    different = []
    boards = {name for name in _pages(handbook) if name.endswith("-board.html")}
    for name in sorted(_pages(handbook) - boards - {"404.html"}):
        article = re.search(r"<article.*</article>", _text(handbook / name), re.DOTALL)
        assert article, name
        ours, plain = _words(article[0]), iter(_words(_text(exported.plain.site / name)))
        if len(ours) < 4 or not all(words in plain for words in ours):
            different.append(name)
    assert different == []


def test_a_board_is_the_same_file(exported: Exported, handbook: Path) -> None:
    boards = [name for name in _pages(handbook) if name.endswith("-board.html")]
    assert boards
    for name in boards:
        assert (exported.plain.site / name).read_bytes() == (handbook / name).read_bytes()


def _text(page: Path) -> str:
    return page.read_text(encoding="utf-8")


def _words(page: str) -> list[str]:
    return [" ".join(run.split()) for run in seen(page).words]


def test_its_links_lead_somewhere(exported: Exported) -> None:
    site = exported.plain.site
    broken = [
        f"{name}: {link}"
        for name in _pages(site) - {"404.html"}
        for link in seen(site / name).links
        if not re.match(r"[a-z]+:|//|#|$", link)
        and not (site / name).parent.joinpath(re.split("[#?]", link)[0]).exists()
    ]
    assert broken == []


def test_the_same_data_goes_along(exported: Exported, handbook: Path) -> None:
    for name in ("data/shop.json", "data/findings.json"):
        assert (exported.folder / name).read_bytes() == (handbook / name).read_bytes()


def test_no_data_file_of_the_shop_goes_along(tmp_path: Path) -> None:
    folder = lay_out(tmp_path / "bench")
    for name in ("shop/competence.csv", "competence.csv", "notes.md"):
        (folder / "content" / name).write_text("Canary", encoding="utf-8")
    _export(tmp_path / "out", folder / "content" / "shop")
    names = names_in(tmp_path / "out")
    assert [n for n in names if "Canary" in (tmp_path / "out" / n).read_text("latin-1")] == [
        "notes.md"
    ]
    assert [n for n in names if n.endswith((".csv", ".yml"))] == []


def test_facts_are_set_into_hand_written_pages(tmp_path: Path) -> None:
    folder = lay_out(tmp_path / "bench")
    (folder / "content" / "notes.md").write_text("[=room.ceiling]\n", encoding="utf-8")
    assert _export(tmp_path / "out", folder / "content" / "shop")[0] == 0
    assert (tmp_path / "out" / "notes.md").read_text("utf-8") == "2800\u202fmm\n"


@pytest.mark.parametrize(
    ("name", "content", "said"),
    [
        ("notes.md", "[=room.celing]\n", "notes.md:1:1: fault"),
        ("stations/cutting.md", "# Mine\n", "stations/cutting.md: fault"),
        ("shop/machines.yml", "granulator: 1\n", "machines.yml:1"),
    ],
)
def test_a_fault_leaves_nothing_half_written(
    tmp_path: Path, name: str, content: str, said: str
) -> None:
    folder = lay_out(tmp_path / "bench")
    path = folder / "content" / name
    path.parent.mkdir(exist_ok=True)
    path.write_text(content, encoding="utf-8")
    status, output = _export(tmp_path / "out", folder / "content" / "shop")
    assert status == 2
    assert said in output
    assert not (tmp_path / "out").exists()


def test_a_folder_that_holds_something_is_left_alone(tmp_path: Path) -> None:
    (tmp_path / "out").mkdir()
    (tmp_path / "out" / "letter.txt").write_text("Dear", encoding="utf-8")
    shop = lay_out(tmp_path / "bench") / "content" / "shop"
    status, said = _export(tmp_path / "out", shop)
    assert status == 1
    assert "is not empty; name a new folder" in said
    assert names_in(tmp_path / "out") == ["letter.txt"]


def test_a_language_the_shop_does_not_have_is_told(tmp_path: Path) -> None:
    shop = lay_out(tmp_path / "bench") / "content" / "shop"
    words = ["export", str(tmp_path / "out"), "--shop", str(shop), "--language", "eo"]
    run = CliRunner().invoke(main, words)
    assert run.exit_code == 1
    assert "the shop has no `eo`; it is written in en." in run.output


def test_facts_are_told_in_the_language_of_the_export(tmp_path: Path) -> None:
    folder = lay_out(tmp_path / "bench")
    (folder / "content" / "notes.md").write_text("[=room.doors.green-door.exit]", encoding="utf-8")
    words = ["--shop", str(folder / "content" / "shop"), "--language", "pseudo"]
    assert CliRunner().invoke(main, ["export", str(tmp_path / "out"), *words]).exit_code == 0
    assert (tmp_path / "out" / "notes.md").read_text("utf-8").startswith("ýéš")


def test_a_folder_that_cannot_be_made_is_told_in_a_line(tmp_path: Path) -> None:
    (tmp_path / "letter").write_text("Dear", encoding="utf-8")
    shop = lay_out(tmp_path / "bench") / "content" / "shop"
    status, said = _export(tmp_path / "letter" / "out", shop)
    assert status == 1
    assert said.startswith("Error: ")


def test_a_drawing_is_not_black_all_over_where_no_sheet_is_called_for(exported: Exported) -> None:
    text = (exported.folder / "index.md").read_text("utf-8")
    assert text.count("<style>:where(:root) {") == 1
    used = set(re.findall(r"var\((--[a-z-]+)\)", "".join(re.findall(r"<svg.*?</svg>", text))))
    assert used
    assert used <= set(re.findall(r"(--[a-z-]+):", text))
