"""Handbooks built for tests: a folder as ``benchleaf new`` leaves it, and what MkDocs says."""

from __future__ import annotations

import shutil
import subprocess
import sys
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import yaml
from click.testing import CliRunner
from mkdocs.__main__ import cli as mkdocs

from generator.ground.resources import resource
from tests.small import folder_with

ROOT = Path(__file__).resolve().parent.parent
CONTENT = resource("content")
AS_OF = "2026-10-21"
"""The day of the small handbooks."""


@dataclass(frozen=True)
class Built:
    """What a build left, what it said and the status it ended with."""

    site: Path
    said: str
    status: int

    def page(self, address: str) -> str:
        return (self.site / address).read_text(encoding="utf-8")


def lay_out(folder: Path, files: Mapping[str, str] | None = None, **settings: Any) -> Path:
    """The smallest shop's handbook, ready to build; ``settings`` go to the plugin.

    ``files`` holds files to write over the smallest shop's, as :func:`tests.small.folder_with`
    takes them.
    """
    (folder / "content" / "shop").mkdir(parents=True)
    folder_with(folder / "content" / "shop", **(files or {}))
    config = yaml.safe_load((resource("templates") / "start" / "mkdocs.yml").read_text())
    config["plugins"] = ["search", {"benchleaf": {"as_of": AS_OF, **settings}}]
    write_config(folder, config)
    return folder


def write_config(folder: Path, config: Mapping[str, Any]) -> None:
    (folder / "mkdocs.yml").write_text(yaml.safe_dump(dict(config)), encoding="utf-8")


def read_config(folder: Path) -> dict[str, Any]:
    config: dict[str, Any] = yaml.safe_load((folder / "mkdocs.yml").read_text(encoding="utf-8"))
    return config


def build(folder: Path, *options: str) -> Built:
    """Run ``mkdocs build --strict`` on what :func:`lay_out` left."""
    settings = str(folder / "mkdocs.yml")
    site = folder / "site"
    run = CliRunner().invoke(
        mkdocs, ["build", "--strict", "-f", settings, "-d", str(site), *options]
    )
    assert run.exception is None or isinstance(run.exception, SystemExit), run.exception
    return Built(site, run.output, run.exit_code)


def build_demonstration(site: Path, folder: Path = ROOT) -> Built:
    """Build the demonstration shop's handbook as a process of its own, as the README says."""
    command = [sys.executable, "-m", "mkdocs", "build", "--strict", "-d", str(site)]
    ran = subprocess.run(command, cwd=folder, capture_output=True, text=True, check=False)
    return Built(site, ran.stdout + ran.stderr, ran.returncode)


def tree(folder: Path) -> dict[str, bytes]:
    """Every file below a folder, by its path."""
    return {name: (folder / name).read_bytes() for name in names_in(folder)}


def names_in(folder: Path) -> list[str]:
    return sorted(_names_in(folder))


def _names_in(folder: Path) -> Iterator[str]:
    for path in folder.rglob("*"):
        if path.is_file():
            yield path.relative_to(folder).as_posix()


def copy_demonstration(folder: Path) -> Path:
    """The demonstration shop's whole folder, to be changed by a test."""
    shutil.copytree(CONTENT, folder / "content")
    shutil.copy(ROOT / "mkdocs.yml", folder / "mkdocs.yml")
    return folder
