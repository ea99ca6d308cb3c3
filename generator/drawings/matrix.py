"""Likelihood against severity, with how many hazards stand where."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from generator.drawings.ink import Drawing, Item, Label, Pen, Rect

_CELL, _LEFT, _TOP = 56.0, 36.0, 8.0
_SOFT_FROM = ((17, 0.34), (10, 0.2), (5, 0.09), (1, 0.0))
"""From which score a cell is how dark, so that bands can be told in grey."""


def draw(counts: Mapping[tuple[int, int], int], title: str, axes: tuple[str, str]) -> Drawing:
    """Five by five cells, the worst at the top right.

    Parameters
    ----------
    counts
        How many hazards by likelihood and severity.
    title
        What the picture is called.
    axes
        What runs across and what runs up, in words.
    """
    said = ", ".join(f"{likely} × {bad}: {n}" for (likely, bad), n in sorted(counts.items()))
    side = 5 * _CELL
    items = [item for n in range(25) for item in _cell(counts, n // 5 + 1, n % 5 + 1)]
    items.append(Label(_LEFT + side / 2, _TOP + side + 40, axes[0], 13, anchor="middle"))
    items.append(Label(13, _TOP + side / 2, axes[1], 13, anchor="middle", turn=-90))
    return Drawing(_LEFT + side + 1, _TOP + side + 48, tuple(items), title, said)


def _cell(counts: Mapping[tuple[int, int], int], likelihood: int, severity: int) -> Iterator[Item]:
    x, y = _LEFT + (severity - 1) * _CELL, _TOP + (5 - likelihood) * _CELL
    soft = next(dark for least, dark in _SOFT_FROM if likelihood * severity >= least)
    yield Rect(x, y, _CELL, _CELL, Pen(fill="ink", soft=soft))
    yield Rect(x, y, _CELL, _CELL, Pen(stroke="line-strong", width=1))
    if count := counts.get((likelihood, severity)):
        yield Label(x + _CELL / 2, y + _CELL / 2 + 7, str(count), 20, bold=True, anchor="middle")
    if severity == 1:
        yield Label(_LEFT - 8, y + _CELL / 2 + 5, str(likelihood), 13, anchor="end")
    if likelihood == 1:
        yield Label(x + _CELL / 2, y + _CELL + 18, str(severity), 13, anchor="middle")
