"""The commands and their exit statuses."""

from __future__ import annotations

import json
import re
import shutil
import sys
from pathlib import Path

import pytest
import yaml
from click.testing import CliRunner, Result

from generator.cli import main
from tests.building import CONTENT, ROOT, lay_out, names_in, read_config, tree
from tests.small import SMALLEST

THREE = {
    "machines": "granulator: {name: Granulator, kind: granulator, station: cuting}\n",
    "stations": """
cutting:
  number: 1
  name: Cutting
  purpose: Cut
  zone: work
  at: 3000, 3200 mm
  size: 1200 x 800
  use: {alone: authorised}
""",
    "roles": "keeper: {name: Keeper, does: Opens, least_age: 18 years}\nkeeper: {name: Other}\n",
}


def _run(*words: str | Path) -> Result:
    run = CliRunner().invoke(main, [str(word) for word in words])
    assert run.exception is None or isinstance(run.exception, SystemExit), run.exception
    return run


def test_three_slips_in_three_files_are_told_at_once(tmp_path: Path) -> None:
    folder = lay_out(tmp_path / "bench", THREE)
    run = _run("check", "--shop", folder / "content" / "shop")
    assert run.exit_code == 2
    faults = [line for line in run.output.splitlines() if ": fault:" in line]
    assert [line.split(": fault:")[0] for line in faults] == [
        "machines.yml:1:59",
        "roles.yml:2:1",
        "stations.yml:8:9",
    ]
    assert run.output.count("for instance:") == 3


def test_check_tells_of_hand_written_pages_too(tmp_path: Path) -> None:
    folder = lay_out(tmp_path / "bench")
    (folder / "content" / "notes.md").write_text("[=room.celing]", encoding="utf-8")
    run = _run("check", "--shop", folder / "content" / "shop")
    assert run.exit_code == 2
    assert "notes.md:1:1: fault:" in run.output


def test_check_speaks_json(tmp_path: Path) -> None:
    folder = lay_out(tmp_path / "bench", THREE)
    told = json.loads(_run("check", "--json", "--shop", folder / "content" / "shop").output)
    assert {row["file"] for row in told} == {"machines.yml", "roles.yml", "stations.yml"}
    assert {row["severity"] for row in told} == {"fault"}


def test_a_finding_that_says_stop_has_a_status_of_its_own(tmp_path: Path) -> None:
    pvc = "pvc: {code: PVC, name: Pipe, status: refused, why: It gives off acid}\n"
    machines = (SMALLEST / "machines.yml").read_text("utf-8") + (
        "  heat: {heat_up: 30 min, cool_down: 1 h, highest: 250 °C}\n"
        "  settings: [{polymer: pvc, melt: 180 °C}]\n"
    )
    folder = lay_out(tmp_path / "bench", {"polymers": pvc, "machines": machines})
    run = _run("check", "--shop", folder / "content" / "shop")
    assert run.exit_code == 1
    assert ": stop:" in run.output


def test_a_folder_that_is_not_there_is_told(tmp_path: Path) -> None:
    run = _run("check", "--shop", tmp_path / "nowhere")
    assert run.exit_code == 2
    assert "no shop folder" in run.output


def test_a_new_shop_is_a_copy_of_the_demonstration(tmp_path: Path) -> None:
    run = _run("new", tmp_path / "mine")
    assert run.exit_code == 0
    assert f"cd {tmp_path / 'mine'} && mkdocs serve" in run.output
    copied = tree(tmp_path / "mine" / "content")
    ours = {name: text for name, text in tree(CONTENT).items() if not name.startswith("pictures/")}
    assert copied == ours


def test_new_writes_over_nothing(tmp_path: Path) -> None:
    (tmp_path / "letter.txt").write_text("Dear", encoding="utf-8")
    run = _run("new", tmp_path)
    assert run.exit_code == 1
    assert "is not empty" in run.output
    assert names_in(tmp_path) == ["letter.txt"]


def test_a_new_shop_starts_with_the_settings_of_the_demonstration(tmp_path: Path) -> None:
    _run("new", tmp_path / "mine")
    ours = yaml.safe_load((ROOT / "mkdocs.yml").read_text("utf-8"))
    del ours["exclude_docs"]
    ours["plugins"] = ["search", "benchleaf"]  # a shop's own day is today
    assert read_config(tmp_path / "mine") == ours


@pytest.mark.parametrize("command", ["check", "export", "new"])
def test_every_command_explains_itself(command: str) -> None:
    run = _run(command, "--help")
    assert run.exit_code == 0
    assert len(run.output.splitlines()) > 5


def test_the_version_is_told() -> None:
    assert _run("--version").output.startswith("benchleaf, version ")


def test_the_last_line_of_a_report_counts_what_was_found() -> None:
    result = CliRunner().invoke(main, ["check", "--shop", "content/no-such-shop"])
    shown = result.output.rstrip().splitlines()
    assert re.fullmatch(r"\d+ faults?", shown[-1])


def test_a_timetable_is_proposed_shown_and_written(tmp_path: Path) -> None:
    """Accepted as it is proposed, it holds, and its proof belongs to it."""
    folder = tmp_path / "shop"
    shutil.copytree(CONTENT / "shop", folder)
    before = (folder / "sessions.yml").read_text(encoding="utf-8")
    words = ("timetable", "family-saturday", "--shop", folder, "--slot", "2", "--seed", "3")
    shown = _run(*words)
    assert shown.exit_code == 0
    assert "Proven best" in shown.output
    assert (folder / "sessions.yml").read_text(encoding="utf-8") == before
    written = _run(*words, "--write")
    assert "Written to sessions.yml." in written.output
    after = (folder / "sessions.yml").read_text(encoding="utf-8")
    assert "proof: best; slots 2 min; seed 3" in after
    assert [line for line in after.splitlines() if "#" in line] == [
        line for line in before.splitlines() if "#" in line
    ]
    told = _run("check", "--shop", folder, "--as-of", "2026-11-24").output
    assert "Family hour" not in told
    assert "The file holds it already." in _run(*words).output


def test_a_session_that_cannot_fit_is_explained(tmp_path: Path) -> None:
    folder = tmp_path / "shop"
    shutil.copytree(CONTENT / "shop", folder)
    path = folder / "sessions.yml"
    path.write_text(path.read_text("utf-8").replace("end: 12:00\n", "end: 11:05\n"), "utf-8")
    text = path.read_text("utf-8")
    path.write_text(text[: text.rindex("  timetable:")], "utf-8")
    told = _run("timetable", "family-saturday", "--shop", folder)
    assert told.exit_code == 2  # the other session's lines no longer lie within its hours
    path.write_text(text[: text.index("school-class:")] + text[text.index("family-saturday:") :
                    text.rindex("  timetable:")], "utf-8")  # fmt: skip
    told = _run("timetable", "family-saturday", "--shop", folder)
    assert told.exit_code == 1
    assert "No timetable fits. These cannot all hold:" in told.output
    assert "everything is over by 10:53, when tidying begins" in told.output


def test_a_session_that_is_not_there_is_told_with_the_nearest() -> None:
    told = _run("timetable", "school-clas", "--shop", CONTENT / "shop")
    assert told.exit_code == 1
    assert "Did you mean `school-class`?" in told.output


def test_without_the_solver_the_command_says_what_installs_it(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    for name in [n for n in sys.modules if n.startswith("ortools") or n.endswith(
        ("sessions.solver", "sessions.proposing", "sessions.feasible"))]:  # fmt: skip
        monkeypatch.delitem(sys.modules, name)
    monkeypatch.setitem(sys.modules, "ortools", None)
    told = _run("timetable", "family-saturday", "--shop", CONTENT / "shop")
    assert told.exit_code == 1
    assert 'pip install "benchleaf[solve]"' in told.output
