"""Thin lines of a pictorial, kept clear of its other lines: which of them give way, and for how far. Sheet millimetres."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

import numpy as np
import shapely

from sheetgen.exercises.construction.thin import clear_of_lines, legs_of
from sheetgen.geometry import Array
from sheetgen.ink import Mark, Pen, Stroke, flattened, width_of

IN_THE_INK = 0.33
"""mm from the middle of a thick line: a thin one nearer by lies in its ink or beside it."""

WHITE = 0.7
"""mm of white that parallel lines leave between them at least (ISO 128-2, from memory)."""

LEANS = 0.02
"""Sine: straight lines that lean less to each other (1.1 degrees) run beside each other."""

LEAST = 1.0
"""mm: shorter pieces of thin lines are not drawn."""

THICK = (Pen.OUTLINE, Pen.EARLIER_OUTLINE, Pen.SMALL)
"""The pens beside whose lines a thin one would only blur them."""


def clear_of_ink(thin: Iterable[Stroke], drawn: Sequence[Mark]) -> list[Stroke]:
    """Thin lines, each drawn once, but for where they would run along others, lie in the ink of thick ones, or leave too little
    white beside a line that runs their way. It is they that give way, a shorter one to a longer: moved onto the other line they
    would be untrue, and a larger scale has no room where the views have none."""
    strokes = [mark for mark in drawn if isinstance(mark, Stroke)]
    ink = ink_of([stroke for stroke in strokes if stroke.pen in THICK], IN_THE_INK)
    there, found = [leg for stroke in strokes if not stroke.curved for leg in _legs(stroke)], list[Stroke]()
    for stroke in clear_of_lines(thin, drawn):
        line = flattened(stroke)
        left = shapely.difference(shapely.LineString(line), ink)
        if not stroke.curved:
            left = shapely.difference(left, shapely.union_all(list(_beside(line, there))))
        pieces = [Stroke(shapely.get_coordinates(part), Pen.CONSTRUCTION)
                  for part in shapely.get_parts(left) if part.length >= LEAST]
        there += [leg for piece in pieces if not stroke.curved for leg in _legs(piece)]
        found += pieces
    return found


def ink_of(strokes: Sequence[Stroke], reach: float) -> shapely.Geometry:
    """All places no farther than ``reach`` from strokes."""
    return shapely.MultiLineString([flattened(stroke) for stroke in strokes]).buffer(reach)


def _legs(stroke: Stroke) -> Iterator[tuple[Array, float]]:
    """The straight pieces (2, 2) of a stroke, each with its width."""
    yield from ((np.stack(leg), width_of(stroke.pen)) for leg in legs_of(stroke))


def _beside(line: Array, legs: Iterable[tuple[Array, float]]) -> Iterator[shapely.Geometry]:
    """All places so near beside those of the ``legs`` that run as a thin ``line`` (2, 2) does that it would leave too little
    white there."""
    way, thin = _unit(line), width_of(Pen.CONSTRUCTION)
    for leg, width in legs:
        other = _unit(leg)
        if abs(way[0] * other[1] - way[1] * other[0]) < LEANS:
            yield shapely.LineString(leg).buffer(WHITE + (thin + width) / 2, cap_style="flat")


def _unit(line: Array) -> Array:
    """The unit direction (2,) of a line (2, 2)."""
    way = line[1] - line[0]
    return np.asarray(way / np.hypot(*way))
