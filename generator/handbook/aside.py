"""A generated page's HTML blocks, set aside while its Markdown is converted.

Nothing in them is Markdown, yet a converter reads every tag. Half of a build went into that.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

_BLOCK = re.compile(r"^<.*?(?=\n\n|\n?\Z)", re.MULTILINE | re.DOTALL)
_MARK = re.compile(r'<div data-set-aside="(\d+)"></div>')
_ID = re.compile(r'<[a-z][^<>]*?\sid="([^"]+)"')


def set_aside(markdown: str) -> tuple[str, tuple[str, ...]]:
    """A page with a mark for each HTML block, and the blocks in their order."""
    blocks = tuple(_BLOCK.findall(markdown))
    numbers = iter(range(len(blocks)))
    return _BLOCK.sub(
        lambda _block: f'<div data-set-aside="{next(numbers)}"></div>', markdown
    ), blocks


def put_back(html: str, blocks: Sequence[str]) -> str:
    """The converted page with its blocks where their marks stand."""
    return _MARK.sub(lambda mark: blocks[int(mark[1])], html)


def anchors(blocks: Sequence[str]) -> frozenset[str]:
    """The ids that links may lead to."""
    return frozenset(id_ for block in blocks for id_ in _ID.findall(block))
