"""Whole small shops, each with the report that reading it must give (``expected.txt``).

``smallest`` is a shop without a fault. Every other folder holds only what sets it apart from
``smallest``: files that replace or join its files, and ``absent``, which lists those to leave
out (``*`` leaves out all). ``python -m tests.update_golden`` writes the reports anew; read the
difference line by line before keeping it, as somebody who meets that fault for the first time.
"""

from __future__ import annotations

import shutil
import tempfile
from functools import cache
from pathlib import Path

from generator.ground.report import as_terminal, tally
from generator.shop.load import load_shop
from generator.shop.shop import Shop

HERE = Path(__file__).parent
SMALLEST = HERE / "smallest"
EXPECTED = "expected.txt"
_ABSENT = "absent"


def names() -> list[str]:
    """The shops there are."""
    return sorted(path.parent.name for path in HERE.glob(f"*/{EXPECTED}"))


def assemble(name: str, into: Path) -> Path:
    """Write the whole shop ``name`` into a folder that is not there yet."""
    own = HERE / name
    left_out = shutil.ignore_patterns(EXPECTED, _ABSENT, *_absent(own))
    shutil.copytree(SMALLEST, into, ignore=left_out)
    if own != SMALLEST:
        shutil.copytree(own, into, ignore=_not_data, dirs_exist_ok=True)
    return into


def _absent(own: Path) -> list[str]:
    path = own / _ABSENT
    return path.read_text(encoding="utf-8").split() if path.exists() else []


def _not_data(_folder: str, files: list[str]) -> set[str]:
    return {EXPECTED, _ABSENT} & set(files)


def report(name: str) -> str:
    """What a terminal shows when the shop is read."""
    with tempfile.TemporaryDirectory() as folder:
        findings = load_shop(assemble(name, Path(folder) / "shop")).findings
    shown = as_terminal(findings, colour=False)
    return f"{shown}\n\n{tally(findings)}\n" if findings else "no faults\n"


@cache
def small_shop() -> Shop:
    """``smallest``, read: one station, one machine, one polymer, one role."""
    loaded = load_shop(SMALLEST)
    assert loaded.shop is not None, loaded.findings
    return loaded.shop
