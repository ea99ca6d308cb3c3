"""Hands the words of the reference tables to Babel, so that they stand in the catalogue."""

from __future__ import annotations

from collections.abc import Iterator
from typing import IO, Any

import yaml

_SENTENCES = "title name reason text note notes caution refers words use form what cite species"
_LISTS = "rating_note avoid_reason filler_materials filler_forms means"
_KEYS = frozenset(f"{_SENTENCES} {_LISTS}".split())

Message = tuple[int, str, str, list[str]]


def extract(
    fileobj: IO[bytes],
    keywords: Any,  # noqa: ARG001 - Babel hands these to every method
    comment_tags: Any,  # noqa: ARG001
    options: Any,  # noqa: ARG001
) -> Iterator[Message]:
    """A Babel extraction method for ``reference/*.yml``: line, function, message, comments."""
    tree = yaml.compose(fileobj.read().decode("utf-8"), Loader=yaml.SafeLoader)
    for node in _words(tree, spoken=False):
        yield node.start_mark.line + 1, "_", node.value, []


def _words(node: Any, *, spoken: bool) -> Iterator[yaml.ScalarNode]:
    """Every string at or below a key that holds words."""
    if isinstance(node, yaml.MappingNode):
        for key, child in node.value:
            if _is_term(child):
                yield key
            yield from _words(child, spoken=spoken or key.value in _KEYS)
    elif isinstance(node, yaml.SequenceNode):
        for child in node.value:
            yield from _words(child, spoken=spoken)
    elif spoken and node.tag == "tag:yaml.org,2002:str":
        yield node


def _is_term(node: Any) -> bool:
    """Whether a row explains the word it stands under."""
    rows = node.value if isinstance(node, yaml.MappingNode) else ()
    return any(key.value == "means" for key, _child in rows)
