"""Small shops for tests: the smallest that holds, with whole files written over."""

from __future__ import annotations

import shutil
from pathlib import Path

from generator.ground.report import as_terminal
from generator.shop.load import load_shop
from generator.shop.shop import Shop

SMALLEST = Path(__file__).parent / "shops" / "smallest"


def folder_with(folder: Path, **files: str) -> Path:
    """Copy the smallest shop into ``folder`` and write files over it.

    A name's underscores stand for hyphens and ``_csv`` for the ending: ``weigh_ins_csv``.
    """
    for path in SMALLEST.iterdir():
        if path.suffix in (".yml", ".csv"):
            shutil.copy(path, folder / path.name)
    for name, text in files.items():
        stem, ending = (name[:-4], ".csv") if name.endswith("_csv") else (name, ".yml")
        (folder / (stem.replace("_", "-") + ending)).write_text(text, encoding="utf-8")
    return folder


def shop_with(folder: Path, **files: str) -> Shop:
    """The smallest shop with files written over; fails with the faults where it does not load."""
    loaded = load_shop(folder_with(folder, **files))
    assert loaded.shop is not None, as_terminal(loaded.findings, colour=False)
    return loaded.shop
