"""What of a generated page is kept from those who read every tag of it for nothing.

Nothing in an HTML block is Markdown, and of a drawing and of most tags nothing is kept in a search
index. More than half of a build went into reading them.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

_GAP = "\n\n"
_MARK = re.compile(r"<!--set aside (\d+)-->")
_ID = re.compile(r'\sid="([^"]+)"')
_DRAWING = re.compile(r"<svg\b.*?</svg>", re.DOTALL)
_IN_WORDS = re.compile(r"</?(?:a|abbr|b|em|i|strong)\b[^<>]*>")
_BETWEEN_WORDS = re.compile(
    r"(?:\s*</?(?!(?:h[1-6]|p|code|pre|li|[ou]l|su[bp]|script|style)\b)[a-z][^<>]*>)+\s*"
)


def set_aside(markdown: str) -> tuple[str, tuple[str, ...]]:
    """A page with a mark for each HTML block, and the blocks in their order."""
    pieces = markdown.rstrip("\n").split(_GAP)
    at = [number for number, piece in enumerate(pieces) if piece.startswith("<")]
    blocks = tuple(pieces[number] for number in at)
    for block, number in enumerate(at):
        pieces[number] = f"<!--set aside {block}-->"
    return _GAP.join(pieces), blocks


def put_back(html: str, blocks: Sequence[str]) -> str:
    """The page with what was set aside where its marks stand."""
    return _MARK.sub(lambda mark: blocks[int(mark[1])], html)


def anchors(blocks: Sequence[str]) -> frozenset[str]:
    """The ids that links may lead to."""
    return frozenset(id_ for block in blocks for id_ in _ID.findall(block))


def to_search(html: str) -> str:
    """A converted page as its words are indexed: no drawings, and of tags what an index keeps.

    Two cells of a table stay two words.
    """
    return _BETWEEN_WORDS.sub(" ", _IN_WORDS.sub("", _DRAWING.sub("", html)))
