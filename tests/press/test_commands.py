"""The commands that print labels and note print runs."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from generator.cli import main
from tests.press import reading
from tests.press.conftest import DAY, DEMONSTRATION
from tests.small import folder_with

_DAY = ("--as-of", DAY.isoformat())


def run(*words: str | Path) -> Result:
    made = CliRunner().invoke(main, [str(word) for word in words])
    assert made.exception is None or isinstance(made.exception, SystemExit), made.exception
    return made


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    """The demonstration shop in a folder of its own, with its site's settings beside it."""
    folder = tmp_path / "content" / "shop"
    folder.mkdir(parents=True)
    for path in DEMONSTRATION.iterdir():
        (folder / path.name).write_bytes(path.read_bytes())
    (tmp_path / "mkdocs.yml").write_text("site_name: x\nsite_url: https://somewhere.example/\n")
    return folder


def test_a_print_run_is_noted_and_added_to(shop: Path) -> None:
    assert run("printed", "floor-plan", "--shop", shop, *_DAY).exit_code == 0
    assert run("printed", "--station", "platen-press", "--shop", shop, *_DAY).exit_code == 0
    lines = (shop / "printed.csv").read_text(encoding="utf-8").splitlines()
    assert lines[0] == "date,sheet,content"
    assert lines[1].startswith("2026-11-24,floor-plan,") and len(lines[1].split(",")[2]) == 16
    assert any(",station-platen-press," in line for line in lines)
    assert run("printed", "--changed", "--shop", shop, *_DAY).exit_code == 0
    assert run("printed", "--changed", "--shop", shop, *_DAY).exit_code != 0, "all is current now"


def test_a_sheet_that_is_not_there_is_told_with_the_nearest(shop: Path) -> None:
    made = run("printed", "flor-plan", "--shop", shop, *_DAY)
    assert made.exit_code != 0 and "floor-plan" in made.output
    assert not (shop / "printed.csv").exists()


def test_nothing_named_is_nothing_noted(shop: Path) -> None:
    assert "--all" in run("printed", "--shop", shop, *_DAY).output
    assert not (shop / "printed.csv").exists()


def test_labels_of_a_started_sheet(shop: Path, tmp_path: Path) -> None:
    settings = (shop / "shop.yml").read_text(encoding="utf-8")
    named = re.sub("(?m)^printer:$", "printer:\n  label_sheet: a4-24-64x34", settings)
    assert named != settings
    (shop / "shop.yml").write_text(named, encoding="utf-8")
    target = tmp_path / "labels.pdf"
    made = run("labels", target, "--from", "7", "--for", "flake", "--shop", shop, *_DAY)
    assert made.exit_code == 0, made.output
    count = int(made.output.split(": ")[1].split()[0])
    assert len(reading.page_sizes(target.read_bytes())) == -(-(count + 6) // 24)


def test_a_label_the_sheet_has_not_is_told(shop: Path, tmp_path: Path) -> None:
    made = run("labels", tmp_path / "x.pdf", "--from", "9", "--shop", shop, *_DAY)
    assert made.exit_code != 0 and "8 labels" in made.output
    assert not (tmp_path / "x.pdf").exists()


def test_a_shop_that_fills_no_container_needs_no_label(tmp_path: Path) -> None:
    made = run("labels", tmp_path / "x.pdf", "--shop", folder_with(tmp_path), *_DAY)
    assert made.exit_code != 0 and "no such label" in made.output
