"""One slip is one message, however many places it is met at."""

from __future__ import annotations

import csv
import shutil
from pathlib import Path

import pytest

from generator.ground.finding import Finding
from generator.ground.resources import resource
from generator.shop.load import load_shop


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """The demonstration shop's data, to be spoilt."""
    return Path(shutil.copytree(resource("content") / "shop", tmp_path / "shop"))


def _only(folder: Path) -> Finding:
    (finding,) = load_shop(folder).findings
    return finding


def test_an_id_in_capitals_is_named_once_and_found_by_what_it_should_be(folder: Path) -> None:
    path = folder / "stations.yml"
    text = path.read_text(encoding="utf-8")
    assert "\ngranulator-bay:" in text
    path.write_text(text.replace("\ngranulator-bay:", "\nGranulator Bay:"), encoding="utf-8")
    finding = _only(folder)
    assert finding.rule == "data.id"
    assert finding.example == "granulator-bay:"


@pytest.mark.parametrize(
    ("log", "one", "other"),
    [("weigh-ins", "donor", "polymer"), ("batches", "date", "step"), ("trials", "mould", "date")],
)
def test_swapped_columns_are_one_message(folder: Path, log: str, one: str, other: str) -> None:
    path = folder / f"{log}.csv"
    with path.open(encoding="utf-8", newline="") as file:
        head, *rows = csv.reader(file)
    swapped = {one: other, other: one}
    with path.open("w", encoding="utf-8", newline="") as file:
        csv.writer(file).writerows([[swapped.get(name, name) for name in head], *rows])
    finding = _only(folder)
    assert finding.rule == "data.csv-swapped"
    assert {f"`{one}`", f"`{other}`"} <= set(finding.says.split())


def test_a_few_wrong_cells_are_not_taken_for_swapped_columns(folder: Path) -> None:
    path = folder / "weigh-ins.csv"
    head, first, *rows = path.read_text(encoding="utf-8").splitlines()
    cells = first.split(",")
    cells[1], cells[2] = cells[2], cells[1]
    path.write_text("\n".join([head, ",".join(cells), *rows, ""]), encoding="utf-8")
    assert {f.rule for f in load_shop(folder).findings} == {"data.unknown-id"}


@pytest.mark.parametrize("noun", ["roles", "polymers", "tools"])
def test_a_noun_that_is_not_there_is_one_message(folder: Path, noun: str) -> None:
    (folder / f"{noun}.yml").unlink()
    finding = _only(folder)
    assert f"{noun}.yml holds nothing to find them in" in finding.says


def test_the_folder_around_the_shops_is_pointed_on(folder: Path) -> None:
    finding = _only(folder.parent)
    assert finding.mend == f"Did you mean `{str(folder.parent)[-80:]}/shop`?"
