"""The look's own files, as every published handbook carries them."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from generator.ground.resources import resource

PLAIN_SHEETS = tuple(
    f"assets/css/{name}.css"
    for name in ("tokens", "type", "parts", "running", "bench", "sessions", "print")
)
"""Style sheets that know no theme, in the order they are to be linked."""

SCRIPTS = {"onboarding": ("onboarding",), "bench": ("bench-work", "bench")}
"""What a page of a kind does beyond what every page does, by the names of its scripts, in order."""


def scripts_of(kind: str) -> tuple[str, ...]:
    """The addresses of the scripts of a page of a kind, in the order they are to run."""
    return tuple(f"assets/js/{name}.js" for name in ("benchleaf", *SCRIPTS.get(kind, ())))


def files() -> Iterator[tuple[str, Path]]:
    """Each file's address below the site's root, and where it lies."""
    root = resource("site_config")
    for path in sorted((root / "assets").rglob("*")):
        if path.is_file():
            yield path.relative_to(root).as_posix(), path


def plain_files() -> Iterator[tuple[str, Path]]:
    """Those of them that make sense under any theme: plain sheets, scripts of pages and type."""
    wanted = {*PLAIN_SHEETS, *(script for kind in SCRIPTS for script in scripts_of(kind))}
    for address, path in files():
        if address in wanted or address.startswith("assets/fonts/"):
            yield address, path
