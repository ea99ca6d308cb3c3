"""What a wheel carries, and that it works away from the checkout."""

from __future__ import annotations

import os
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest
from hatchling.builders.wheel import WheelBuilder

from tests.building import ROOT, names_in


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("dist")
    (built,) = WheelBuilder(str(ROOT)).build(directory=str(folder), versions=["standard"])
    return Path(built)


@pytest.fixture(scope="module")
def names(wheel: Path) -> list[str]:
    with zipfile.ZipFile(wheel) as packed:
        return packed.namelist()


def _tracked(folder: str) -> set[str]:
    return {
        name
        for name in names_in(ROOT / folder)
        if not {"__pycache__", "pictures"} & {*Path(name).parts}
    }


@pytest.mark.parametrize("folder", ["templates", "site_config", "content"])
def test_it_carries_what_is_not_code(names: list[str], folder: str) -> None:
    packed = {name.split(f"_data/{folder}/")[1] for name in names if f"_data/{folder}/" in name}
    assert packed == _tracked(folder) - {"shop/competence.csv"}


def test_it_carries_the_code_and_the_tables(names: list[str]) -> None:
    for suffix in ("py", "yml"):
        ours = {
            f"generator/{name}" for name in names_in(ROOT / "generator") if name.endswith(suffix)
        }
        packed = {n for n in names if n.endswith(suffix) and "_data" not in n}
        assert packed == ours


def test_it_carries_nothing_private_or_left_over(names: list[str]) -> None:
    assert [n for n in names if "competence.csv" in n or "__pycache__" in n or "tests/" in n] == []
    assert {name.split("/")[0].split("-")[0] for name in names} == {"generator", "benchleaf"}


def test_a_register_of_competence_that_lies_there_is_left_out(tmp_path: Path) -> None:
    for name in ("pyproject.toml", "README.md", "LICENSE"):
        (tmp_path / name).write_bytes((ROOT / name).read_bytes())
    for name in ("generator/__init__.py", "templates/a.j2", "site_config/a.css", "content/a.md"):
        (tmp_path / name).parent.mkdir(exist_ok=True)
        (tmp_path / name).write_text('__version__ = "1"\n', encoding="utf-8")
    (tmp_path / "content" / "shop").mkdir()
    (tmp_path / "content" / "shop" / "competence.csv").write_text("Canary", encoding="utf-8")
    (built,) = WheelBuilder(str(tmp_path)).build(directory=str(tmp_path), versions=["standard"])
    with zipfile.ZipFile(built) as packed:
        assert "generator/_data/content/a.md" in packed.namelist()
        assert [name for name in packed.namelist() if "competence" in name] == []


def test_it_makes_a_handbook_away_from_the_checkout(wheel: Path, tmp_path: Path) -> None:
    home = tmp_path / "installed"
    with zipfile.ZipFile(wheel) as packed:
        packed.extractall(home)

    def run(*words: str) -> str:
        ran = subprocess.run(
            [sys.executable, *words],
            cwd=tmp_path,
            env={**os.environ, "PYTHONPATH": str(home), "PYTHONSAFEPATH": "1"},
            capture_output=True,
            text=True,
            check=False,
        )
        assert ran.returncode == 0, ran.stdout + ran.stderr
        return ran.stdout

    assert run("-c", "import generator; print(generator.__file__)").startswith(str(home))
    run("-c", "from generator.cli import main; main(['new', 'mine'])")
    run("-m", "mkdocs", "build", "--strict", "-q", "-f", "mine/mkdocs.yml")
    pages = [name for name in names_in(tmp_path / "mine" / "site") if name.endswith(".html")]
    assert len(pages) > 100
