"""The code keeps to its own rules: style, types, who imports whom, small functions."""

from __future__ import annotations

import ast
import re
import statistics
import subprocess
import sys
import tomllib
from collections.abc import Iterator
from importlib.metadata import packages_distributions
from pathlib import Path
from typing import Any

import pytest

from tests.building import ROOT

CODE = sorted((ROOT / "generator").rglob("*.py"))
_TOOLS = Path(sys.executable).parent


@pytest.mark.parametrize(
    "command",
    [
        ["ruff", "check", "--no-cache", "."],
        ["ruff", "format", "--no-cache", "--check", "."],
        ["mypy"],
        ["lint-imports", "--no-cache"],
    ],
    ids=lambda command: " ".join(command[:2]),
)
def test_a_tool_finds_nothing(command: list[str]) -> None:
    ran = subprocess.run(
        [_TOOLS / command[0], *command[1:]], cwd=ROOT, capture_output=True, text=True, check=False
    )
    assert ran.returncode == 0, ran.stdout + ran.stderr


def _functions() -> Iterator[int]:
    """Lines of each function's body, without its docstring."""
    for path in CODE:
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.FunctionDef):
                body = node.body[1:] if ast.get_docstring(node) else node.body
                yield body[-1].end_lineno - body[0].lineno + 1 if body else 0  # type: ignore[operator]


def test_functions_stay_small() -> None:
    lines = sorted(_functions())
    assert statistics.median(lines) <= 6
    assert lines[len(lines) * 9 // 10] < 25


def _imported() -> set[str]:
    found = set()
    for path in CODE:
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Import):
                found |= {alias.name.split(".")[0] for alias in node.names}
            elif isinstance(node, ast.ImportFrom) and node.module:
                found.add(node.module.split(".")[0])
    return found - set(sys.stdlib_module_names) - {"generator"}


def _named(requirements: list[str]) -> set[str]:
    return {re.split(r"[\[<>=!~ ]", line)[0].lower() for line in requirements}


def _project() -> dict[str, Any]:
    settings = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    project: dict[str, Any] = settings["project"]
    return project


def test_what_is_imported_is_asked_for() -> None:
    project = _project()
    asked = _named([*project["dependencies"], *project["optional-dependencies"]["solve"]])
    carried = {"pydantic_core": "pydantic"}  # of one release with it
    homes = packages_distributions()
    missing = {
        module
        for module in _imported()
        if not asked & {home.lower() for home in homes[carried.get(module, module)]}
    }
    assert missing == set()


def test_the_lock_names_releases_and_nothing_else() -> None:
    lines = (ROOT / ".ci" / "requirements.lock").read_text(encoding="utf-8").splitlines()
    assert [line for line in lines if not re.fullmatch(r"[\w.-]+==[\w.+]+", line)] == []
    project = _project()
    extras = [line for extra in project["optional-dependencies"].values() for line in extra]
    asked = _named([*project["dependencies"], *extras]) - {project["name"]}
    assert asked - _named(lines) == set()
