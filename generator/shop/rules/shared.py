"""What several rules do: find doubles and circles."""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Iterator, Mapping, Sequence
from typing import TypeVar

from generator.ground.wording import _
from generator.shop.names import short

K = TypeVar("K", bound=Hashable)
N = TypeVar("N", bound=Hashable)


def doubles(pairs: Iterable[tuple[K, N]]) -> Iterator[tuple[K, N, N]]:
    """Each key met again: the key, what had it first, what has it now."""
    first: dict[K, N] = {}
    for key, holder in pairs:
        if key in first:
            yield key, first[key], holder
        else:
            first[key] = holder


def circles(after: Mapping[str, Sequence[str]]) -> Iterator[list[str]]:
    """Each circle once, as the ids in it in order; ids that are not keys are passed over.

    Walked without recursion, because a log of batches may be a chain of thousands.
    """
    done: set[str] = set()
    for start in after:
        trail = {} if start in done else {start: iter(after[start])}
        while trail:
            here = next(reversed(trail))
            step = next((id_ for id_ in trail[here] if id_ in after and id_ not in done), None)
            if step is None:
                done.add(here)
                del trail[here]
            elif step in trail:
                ids = list(trail)
                yield ids[ids.index(step) :]
            else:
                trail[step] = iter(after[step])


def in_words(circle: Sequence[str]) -> str:
    """The circle told from its first id back to it."""
    return _(" after ").join(f"`{short(id_)}`" for id_ in (*circle, circle[0]))
