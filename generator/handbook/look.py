"""The look's own files, as every published handbook carries them."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from generator.ground.resources import resource

PLAIN_SHEETS = tuple(
    f"assets/css/{name}.css" for name in ("tokens", "type", "parts", "running", "bench", "sessions", "print")
)
"""Style sheets that know no theme, in the order they are to be linked."""


def files() -> Iterator[tuple[str, Path]]:
    """Each file's address below the site's root, and where it lies."""
    root = resource("site_config")
    for path in sorted((root / "assets").rglob("*")):
        if path.is_file():
            yield path.relative_to(root).as_posix(), path


def plain_files() -> Iterator[tuple[str, Path]]:
    """Those of them that make sense under any theme: plain sheets and type."""
    for address, path in files():
        if address in PLAIN_SHEETS or address.startswith("assets/fonts/"):
            yield address, path
