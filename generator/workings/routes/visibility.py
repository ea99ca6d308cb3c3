"""What can be seen from a point: the floor in sight, as one polygon.

Round the eye, between one corner's direction and the next, one face is nearest all the way. So
the polygon is put together from such wedges, exactly: no rays at set angles.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
import numpy.typing as npt
from shapely import Polygon
from shapely.geometry.polygon import orient

from generator.workings.footprint import Point

Floats = npt.NDArray[np.float64]

_SAME_ANGLE = 1e-9
_BEHIND = 1e-12


class Scene:
    """A room with what hides the view in it.

    Parameters
    ----------
    parts
        The floor that is left when everything that hides the view is taken off it.
    """

    def __init__(self, parts: Sequence[Polygon]) -> None:
        rings = [np.asarray(r.coords) for p in parts for r in (p.exterior, *p.interiors)]
        starts = [ring[:-1] for ring in rings]
        steps = [np.diff(ring, axis=0) for ring in rings]
        self._start: Floats = np.concatenate(starts) if starts else np.empty((0, 2))
        self._step: Floats = np.concatenate(steps) if steps else np.empty((0, 2))

    def seen_from(self, eye: Point) -> Polygon:
        """The floor in sight of a point on it; an empty polygon where nothing surrounds it."""
        away = self._start - np.asarray(eye)
        angles = _directions(away)
        if len(angles) < 3:
            return Polygon()
        nexts = np.append(angles[1:], angles[0] + math.tau)
        wall = self._nearest(away, (angles + nexts) / 2)
        near = self._on(away, wall, angles)
        far = self._on(away, wall, nexts)
        points = np.stack([near, far], axis=1).reshape(-1, 2) + np.asarray(eye)
        return orient(Polygon(_without_doubles(points)).buffer(0))

    def _nearest(self, away: Floats, angles: Floats) -> npt.NDArray[np.int64]:
        """The face nearest in each direction."""
        return np.asarray(np.argmin(self._distances(away, angles), axis=1))

    def _distances(self, away: Floats, angles: Floats) -> Floats:
        """How far each face [column] is in each direction [row], infinite where it is not."""
        cos, sin = np.cos(angles)[:, None], np.sin(angles)[:, None]
        step_x, step_y = self._step.T
        slant = cos * step_y - sin * step_x
        with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
            far = (away[:, 0] * step_y - away[:, 1] * step_x) / slant
            share = (away[:, 0] * sin - away[:, 1] * cos) / slant
        met = (np.abs(slant) > _BEHIND) & (far > 0) & (share >= 0) & (share <= 1)
        return np.asarray(np.where(met, far, np.inf))

    def _on(self, away: Floats, wall: npt.NDArray[np.int64], angles: Floats) -> Floats:
        """The points of the lines of some faces in some directions, one each."""
        ray = np.stack([np.cos(angles), np.sin(angles)], axis=1)
        start, step = away[wall], self._step[wall]
        far = _cross(start, step) / _cross(ray, step)
        return np.asarray(ray * far[:, None])


def _directions(away: Floats) -> Floats:
    """The directions of the corners, in order, each once."""
    angles = np.unique(np.arctan2(away[:, 1], away[:, 0]))
    return angles[np.diff(angles, prepend=-np.inf) > _SAME_ANGLE]


def _without_doubles(points: Floats) -> Floats:
    return points[np.any(np.abs(points - np.roll(points, 1, axis=0)) > 1e-6, axis=1)]


def _cross(a: Floats, b: Floats) -> Floats:
    return np.asarray(a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0])
