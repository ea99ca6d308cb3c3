"""What of a generated page is set aside while others read it, and put back afterwards.

Nothing in an HTML block is Markdown, and nothing in a drawing is to be found by search, yet a
converter and an indexer read every tag. More than half of a build went into that.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

_BLOCK = re.compile(r"^<.*?(?=\n\n|\n?\Z)", re.MULTILINE | re.DOTALL)
_DRAWING = re.compile(r"<svg\b.*?</svg>", re.DOTALL)
_MARK = re.compile(r"<!--set aside (\d+)-->")
_ID = re.compile(r'<[a-z][^<>]*?\sid="([^"]+)"')


def set_aside(markdown: str) -> tuple[str, tuple[str, ...]]:
    """A page with a mark for each HTML block, and the blocks in their order."""
    return _without(_BLOCK, markdown)


def without_drawings(html: str) -> tuple[str, tuple[str, ...]]:
    """A converted page with a mark for each drawing, and the drawings in their order."""
    return _without(_DRAWING, html)


def put_back(html: str, kept: Sequence[str]) -> str:
    """The page with what was set aside where its marks stand."""
    return _MARK.sub(lambda mark: kept[int(mark[1])], html)


def _without(pattern: re.Pattern[str], text: str) -> tuple[str, tuple[str, ...]]:
    kept = tuple(pattern.findall(text))
    numbers = iter(range(len(kept)))
    return pattern.sub(lambda _kept: f"<!--set aside {next(numbers)}-->", text), kept


def anchors(blocks: Sequence[str]) -> frozenset[str]:
    """The ids that links may lead to."""
    return frozenset(id_ for block in blocks for id_ in _ID.findall(block))
