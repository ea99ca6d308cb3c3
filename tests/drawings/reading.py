"""Reads a drawing back from its SVG, and measures what is written on it."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from dataclasses import dataclass
from xml.etree import ElementTree as ET

from generator.drawings import type
from generator.drawings.ink import Box, Drawing, Label, labels_of

SVG = "{http://www.w3.org/2000/svg}"
SLACK = 0.02
"""The writer rounds to a hundredth of a unit."""

_NUMBER = re.compile(r"-?\d+(?:\.\d+)?")


@dataclass(frozen=True)
class Written:
    """A text element: its words and the upright box they take up."""

    text: str
    size: float
    box: Box


def elements(svg: str) -> Iterator[ET.Element]:
    """Every element of a drawing, its root first; fails where it is no XML."""
    return ET.fromstring(svg).iter()


def texts(svg: str) -> list[Written]:
    """Every text on a drawing, measured with the type's own metrics."""
    return [_written(e) for e in elements(svg) if e.tag == f"{SVG}text"]


def _written(element: ET.Element) -> Written:
    turn = _NUMBER.findall(element.get("transform", "0"))[0]
    label = Label(
        float(element.attrib["x"]),
        float(element.attrib["y"]),
        element.text or "",
        float(element.attrib["font-size"]),
        bold=element.get("font-weight") == "700",
        anchor=element.get("text-anchor", "start"),
        turn=float(turn),
    )
    return Written(label.text, label.size, box_of(label))


def box_of(label: Label) -> Box:
    """The upright box round a label's capitals and its whole advance."""
    width = type.width(label.text, label.size, label.bold)
    start = {"start": 0.0, "middle": -width / 2, "end": -width}[label.anchor]
    height = label.size * type.ASCENT
    corners = [(start, -height), (start + width, -height), (start, 0.0), (start + width, 0.0)]
    angle = math.radians(label.turn)
    points = [
        (
            label.x + x * math.cos(angle) - y * math.sin(angle),
            label.y + x * math.sin(angle) + y * math.cos(angle),
        )
        for x, y in corners
    ]
    xs, ys = zip(*points, strict=True)
    return min(xs), min(ys), max(xs) - min(xs), max(ys) - min(ys)


def outside(inner: Box, outer: Box) -> bool:
    """Whether a box leaves another by more than the writer's rounding."""
    return (
        inner[0] < outer[0] - SLACK
        or inner[1] < outer[1] - SLACK
        or inner[0] + inner[2] > outer[0] + outer[2] + SLACK
        or inner[1] + inner[3] > outer[1] + outer[3] + SLACK
    )


def overflowing(drawing: Drawing) -> list[str]:
    """The labels that leave the box their layout gave them, or the sheet."""
    sheet = (0.0, 0.0, drawing.width, drawing.height)
    return [
        label.text
        for label in labels_of(drawing.items)
        if outside(box_of(label), label.box or sheet) or outside(box_of(label), sheet)
    ]


def overlapping(boxes: list[tuple[str, Box]]) -> list[tuple[str, str]]:
    """Pairs of boxes that share more than a touch."""
    return [
        (name, other)
        for i, (name, a) in enumerate(boxes)
        for other, b in boxes[i + 1 :]
        if a[0] + SLACK < b[0] + b[2]
        and b[0] + SLACK < a[0] + a[2]
        and a[1] + SLACK < b[1] + b[3]
        and b[1] + SLACK < a[1] + a[3]
    ]
