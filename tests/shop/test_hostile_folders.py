"""Whatever the folder holds, reading it ends in faults and never in a traceback."""

from __future__ import annotations

import os
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from generator.ground.report import as_json, as_terminal
from generator.ground.wording import PSEUDO, use
from generator.shop.load import load_shop
from generator.shop.place import MOST_FAULTS
from tests import shops


def _expected(name: str) -> str:
    return (shops.HERE / name / shops.EXPECTED).read_text(encoding="utf-8")


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return shops.assemble("smallest", tmp_path / "shop")


def _rules(folder: Path) -> set[str]:
    loaded = load_shop(folder)
    assert loaded.shop is None
    assert as_terminal(loaded.findings, colour=True)
    assert len(as_json(loaded.findings)) == len(loaded.findings)
    return {finding.rule for finding in loaded.findings}


def _replace(folder: Path, name: str, make: Callable[[Path], object]) -> None:
    (folder / name).unlink()
    make(folder / name)


@pytest.mark.parametrize("where", ["missing", "shop/roles.yml", "nul\0", "\udcff", "x" * 5000])
def test_a_folder_that_cannot_be_read(folder: Path, where: str) -> None:
    assert _rules(folder.parent / where) == {"data.no-folder"}


@pytest.mark.parametrize("name", ["shop.yml", "room.yml", "stations.yml", "machines.yml"])
@pytest.mark.parametrize(
    "make",
    [
        lambda path: path.mkdir(),
        lambda path: path.symlink_to("nowhere"),
        lambda path: path.symlink_to(path.name),
        os.mkfifo,
        lambda path: path.write_bytes(os.urandom(5000)),
        lambda path: path.write_bytes(b"\0" * 100),
        lambda path: path.write_bytes(b"a: " + b"[" * 100_000),
        lambda path: path.write_bytes(b"{" * 100_000),
        lambda path: path.write_bytes(b"a: 1\n" * 1_200_000),
        lambda path: path.write_text("- " * 50_000 + "a"),
        lambda path: path.write_text("a: &a\n  b: *a\n"),
    ],
    ids=[
        "folder", "link to nowhere", "link to itself", "pipe", "noise", "nul", "deep list",
        "deep mapping", "huge", "deep dashes", "itself",
    ],
)  # fmt: skip
def test_a_file_that_is_no_file_of_ours(
    folder: Path, name: str, make: Callable[[Path], object]
) -> None:
    _replace(folder, name, make)
    assert _rules(folder)


@pytest.mark.parametrize("name", ["weigh-ins.csv", "batches.csv"])
@pytest.mark.parametrize("make", [Path.mkdir, lambda path: path.symlink_to("nowhere")])
def test_a_log_that_is_no_file(folder: Path, name: str, make: Callable[[Path], object]) -> None:
    make(folder / name)
    assert _rules(folder) == {"data.unreadable-file"}


def test_a_noun_folder_with_odd_names(folder: Path) -> None:
    (folder / "machines.yml").unlink()
    machines = folder / "machines"
    machines.mkdir()
    (machines / "loop").symlink_to(machines)
    (machines / "list.yaml").write_text("- a")
    (machines / "\udcff.yml").write_text("granulator: 1")
    (machines / "dir.yml").mkdir()
    assert "data.unknown-file" in _rules(folder)


def test_a_noun_folder_that_is_a_link_to_the_shop(folder: Path) -> None:
    (folder / "machines.yml").unlink()
    (folder / "machines").symlink_to(folder)
    assert _rules(folder)


def test_names_no_file_system_should_have(folder: Path) -> None:
    for name in ("\udcffstations.yml", "stati\nons.yml", "stations.YML", "ROOM.yml"):
        (folder / name).write_text("a: 1")
    assert _rules(folder) == {"data.unknown-file"}


def test_what_people_may_do_is_never_read(folder: Path) -> None:
    """Nothing that leads to a published page may hold it."""
    os.mkfifo(folder / "competence.csv")  # opening it would never end
    loaded = load_shop(folder)
    assert loaded.shop is not None and not loaded.findings
    assert "competence" not in repr(loaded.shop)


def test_hidden_files_editors_copies_and_pictures_are_nobodys_mistake(folder: Path) -> None:
    for name in (".DS_Store", ".stations.yml.swp", "~$stock.csv", "stations.yml~", "plan.jpg"):
        (folder / name).write_text("x")
    (folder / "photos").mkdir()
    assert load_shop(folder).findings == ()


def test_loading_leaves_the_folder_as_it_was(folder: Path) -> None:
    before = {path: path.read_bytes() for path in folder.iterdir()}
    load_shop(folder)
    assert {path: path.read_bytes() for path in folder.iterdir()} == before


def test_the_same_folder_gives_the_same_faults(folder: Path) -> None:
    shutil.copytree(shops.HERE / "keys", folder, dirs_exist_ok=True)
    assert load_shop(folder).findings == load_shop(folder).findings


def test_of_very_many_faults_the_first_are_told(folder: Path) -> None:
    """Nobody reads more at once, and looking for them all would take minutes."""
    stations = "".join(f"Station {n}: {{hieght: {n}, ziel: a, use: b}}\n" for n in range(20_000))
    (folder / "stations.yml").write_text(stations)
    keys = "".join(f"      key{n}: 1\n" for n in range(20_000))
    (folder / "polymers.yml").write_text(f"pp:\n  own:\n{keys}")
    rows = "".join(f"2026-13-{n:02},donor{n},pp,1.250\n" for n in range(5_000))
    (folder / "weigh-ins.csv").write_text(f"date,donor,polymer,kg\n{rows}")
    findings = load_shop(folder).findings
    for name in ("stations.yml", "polymers.yml", "weigh-ins.csv"):
        told = [finding for finding in findings if finding.origin.file == name]
        assert len(told) == MOST_FAULTS + 1
        assert told[0].rule == "data.more-faults" and told[0].origin.line == 0


@pytest.mark.parametrize("name", [n for n in shops.names() if "fault:" in _expected(n)])
def test_every_sentence_of_a_fault_goes_through_the_catalogue(name: str) -> None:
    """In the pseudo-language no sentence stands as it is written in the code."""
    with use(PSEUDO):
        told = shops.report(name)
    plain = shops.report(name)
    assert told != plain
    assert not set(told.split("\n")) & {line for line in plain.split("\n") if " fault: " in line}
