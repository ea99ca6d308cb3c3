"""What was set before, by a hash of all that went into it. Safe to delete at any time."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterable
from pathlib import Path

_KEPT_S = 14 * 24 * 3600.0


class Cache:
    """A folder of finished files, each named by the hash of what it was made from."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self._used: set[str] = set()

    def get(self, key: str, make: Callable[[], bytes]) -> bytes:
        """What is kept under the key, else what is made and kept now."""
        kept = self.read(key)
        return self.keep(key, make()) if kept is None else kept

    def read(self, key: str) -> bytes | None:
        """What is kept under the key, None where nothing is."""
        self._used.add(key)
        try:
            return (self.folder / key).read_bytes()
        except FileNotFoundError:
            return None

    def has(self, keys: Iterable[str]) -> bool:
        """Whether something is kept under every key."""
        return all((self.folder / key).is_file() for key in keys)

    def keep(self, key: str, made: bytes) -> bytes:
        """Keep what was made, whole or not at all even where a build is broken off."""
        self.folder.mkdir(parents=True, exist_ok=True)
        fresh = self.folder / f"{key}.new"
        fresh.write_bytes(made)
        fresh.replace(self.folder / key)
        return made

    def sweep(self) -> None:
        """Drop what this run did not use and nobody has made for two weeks."""
        if not self.folder.is_dir():
            return
        limit = time.time() - _KEPT_S
        for path in self.folder.iterdir():
            if path.name not in self._used and path.stat().st_mtime < limit:
                path.unlink(missing_ok=True)
