"""Points on upright cones: each stands on a circle about the axis, which the top view shows true, and whose height the cone's
outline in the front view tells."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import shapely

from sheetgen.exercises.construction.board import Board
from sheetgen.exercises.construction.record import AnswerLine, Projector
from sheetgen.geometry import Array
from sheetgen.ink import Pen, Stroke, arc_curve
from sheetgen.solid import Cone
from sheetgen.units import SAME_COSINE

ON_DRAWN = 0.06
"""mm on paper: a point no farther from a drawn line lies on it."""


@dataclass(frozen=True, eq=False)
class Ring:
    """How the height of a point on a cone is found: an ``arc`` about the axis in the top view, to where the outline stands over
    it; ``projectors`` to the outline and level from there; ``places`` (2, 2) on the sheet, where the arc ends and on the
    outline."""

    arc: Stroke
    projectors: tuple[Projector, Projector]
    places: Array


def upright_cone(board: Board, curve: AnswerLine) -> Cone | None:
    """The cone with an upright axis that a curve lies on, if there is one."""
    placed = board.views[curve.view]
    surfaces = placed.view.solid.surfaces
    pairs = {tuple(sorted(pair)) for pair in placed.sight.pair[curve.stretches].tolist()}
    found = [surfaces[k] for pair in sorted(pairs) for k in pair]
    return next((cone for cone in found if isinstance(cone, Cone) and abs(cone.direction[2]) > 1 - SAME_COSINE), None)


def ring_of(board: Board, cone: Cone, point: Array, front: shapely.Geometry) -> Ring | None:
    """The ring of a ``point`` (3,) of the part; None where nothing is left of the outline at its height. ``front``: the lines of
    the front view on the sheet."""
    away = point[:2] - cone.point[:2]
    radius, turn = math.hypot(*away.tolist()), math.atan2(away[1], away[0])
    for sense in (1.0, -1.0) if away[0] >= 0 else (-1.0, 1.0):
        end = np.array([cone.point[0] + sense * radius, cone.point[1], point[2]])
        below, outline = board.views["top"].paper(end)[0], board.views["front"].paper(end)[0]
        if shapely.distance(front, shapely.Point(outline)) > ON_DRAWN:
            continue
        stop = 0.0 if sense > 0 else math.copysign(math.pi, turn)
        scale = board.views["top"].scale
        centre = board.views["top"].paper(np.array([*cone.point[:2], 0.0]))[0]
        a, b = np.array([radius * scale, 0.0]), np.array([0.0, radius * scale])
        arc = Stroke(arc_curve(centre, a, b, turn, stop), Pen.CONSTRUCTION, curved=True)
        here = board.views["front"].paper(point)[0]
        up = Projector(0, float(end[0]), "top", "front", np.stack([below, outline]), point=True)
        level = Projector(2, float(point[2]), "front", "front", np.stack([outline, here]), point=True)
        return Ring(arc, (up, level), np.stack([below, outline]))
    return None
