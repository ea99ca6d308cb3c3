"""Where a fact was written: the file, line and column every record carries to the last page."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, order=True)
class Origin:
    """A place in one of the shop's files.

    ``file`` is the path relative to the shop folder with forward slashes
    (``stations.yml``, ``machines/press.yml``, ``stock.csv``). ``line`` and
    ``column`` count from 1; 0 means the whole file.
    """

    file: str
    line: int = 0
    column: int = 0

    def __str__(self) -> str:
        if not self.line:
            return self.file
        if not self.column:
            return f"{self.file}:{self.line}"
        return f"{self.file}:{self.line}:{self.column}"
