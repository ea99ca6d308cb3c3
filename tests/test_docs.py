"""What README.md and DEVELOPERS.md show is what happens."""

from __future__ import annotations

import re
import shlex
from pathlib import Path

import pytest
from click.testing import CliRunner

from generator.cli import main
from generator.handbook.facts import fill
from generator.shop.shop import Shop
from tests.building import CONTENT, ROOT, copy_demonstration

README = (ROOT / "README.md").read_text(encoding="utf-8")
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")


def _blocks(text: str, language: str) -> list[str]:
    return re.findall(rf"^```{language}\n(.*?)^```", text, re.MULTILINE | re.DOTALL)


def test_two_commands_set_it_up_and_ci_runs_them_as_they_stand() -> None:
    commands = [line for block in _blocks(README, "sh") for line in block.splitlines()]
    assert len(commands) == 2
    run = (ROOT / ".ci" / "run").read_text(encoding="utf-8").splitlines()
    assert run[-2:] == commands


def test_the_picture_is_there_and_small() -> None:
    (picture,) = re.findall(r"^!\[[^\]]{30,}\]\((.+)\)$", README, re.MULTILINE)
    content = (ROOT / picture).read_bytes()
    assert content.startswith(b"\x89PNG")
    assert 20_000 < len(content) < 400_000


def _shown_commands() -> list[str]:
    return re.findall(r"^\| `(benchleaf [^`]+)` \|", README, re.MULTILINE)


def test_every_command_is_shown() -> None:
    assert {line.split()[1] for line in _shown_commands()} == set(main.commands)


@pytest.mark.parametrize("line", [*_shown_commands(), "benchleaf --help"])
def test_a_command_shown_runs(line: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(copy_demonstration(tmp_path / "bench"))
    words = shlex.split(line.replace("DIR", str(tmp_path / "out")))[1:]
    run = CliRunner().invoke(main, words)
    assert run.exit_code == (1 if words == ["check"] and ": stop:" in run.output else 0), run.output


def test_a_module_shown_is_there() -> None:
    modules = set(re.findall(r"python -m (tests\.[\w.]+)", DEVELOPERS))
    assert len(modules) >= 4
    for module in modules:
        path = ROOT / module.replace(".", "/")
        assert path.with_suffix(".py").is_file(), module


def test_the_folders_told_of_are_those_there_are() -> None:
    told = set(re.findall(r"^\| `(\w+)/` \|", DEVELOPERS, re.MULTILINE))
    there = {p.parent.name for p in (ROOT / "generator").glob("*/__init__.py")}
    assert told == there


def test_every_file_told_of_is_there() -> None:
    named = set(re.findall(r"`([\w./*-]+/[\w./*-]*|[\w-]+\.(?:py|yml|md))`", DEVELOPERS + README))
    assert len(named) > 20
    roots = [ROOT, ROOT / "generator", CONTENT, CONTENT / "shop", *(ROOT / "generator").glob("*/")]
    made = {
        "shop/competence.csv",
        "site/",
        "site/index.html",
        "generator/_data/",
        ".venv/bin",
        "assets/css/",
        "assets/js/",
    }
    lost = {n for n in named - made if not any([*root.glob(n.rstrip("/"))] for root in roots)}
    assert lost == set()


def test_the_yaml_shown_is_the_shops() -> None:
    (shown,) = _blocks(README, "yaml")
    comment, *lines = shown.splitlines()
    text = (ROOT / comment.removeprefix("# ")).read_text(encoding="utf-8")
    assert lines[0] in text.splitlines()
    record = text.split(f"\n{lines[0]}\n")[1].split("\n\n")[0]
    assert [line for line in lines[1:] if line not in record.splitlines()] == []


def test_the_faults_shown_are_those_told(tmp_path: Path) -> None:
    shop = copy_demonstration(tmp_path / "bench") / "content" / "shop"
    for name, old, new in (
        ("stations.yml", "size: 1000 x 1200 mm", "size: 1000 x 1200"),
        ("machines.yml", "  station: granulator-bay\n", "  station: granulater-bay\n"),
    ):
        text = (shop / name).read_text(encoding="utf-8")
        assert text.count(old) == 1
        (shop / name).write_text(text.replace(old, new), encoding="utf-8")
    told = CliRunner().invoke(main, ["check", "--shop", str(shop)]).stdout
    (shown,) = _blocks(README, "text")
    assert _without_lines(told) == _without_lines(shown)


def _without_lines(report: str) -> str:
    return re.sub(r":\d+:\d+: fault", ":0:0: fault", report)


def test_the_facts_shown_are_facts(demonstration: Shop) -> None:
    (shown,) = _blocks(README, "markdown")
    filled = fill(shown, demonstration, "README.md")
    assert filled.faults == ()
    assert "[=" not in filled.markdown
    assert "not recorded" not in filled.markdown
