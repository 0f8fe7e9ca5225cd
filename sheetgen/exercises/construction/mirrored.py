"""Sloping lines that are mirror images of each other, so that one of them is told and the others by it. View millimetres."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from sheetgen.exercises.construction.board import SAME_PLACE, Board
from sheetgen.exercises.construction.places import Places
from sheetgen.exercises.construction.record import AnswerLine
from sheetgen.geometry import Array


def mirrored(
    board: Board, places: Places, view: str, slopes: Sequence[AnswerLine], *, about_axes: bool
) -> list[tuple[AnswerLine, str]]:
    """The sloping lines of a view to be told of, each with what tells of its mirror images: about the ``centre`` line of the
    view, ``both`` centre lines or, ``about_axes``, the ``axis`` of what is round; "" if it has none."""
    middle = board.box(view)[2] / 2
    alike = [k for k in (0, 1) if places.alike(board.axis(view, k))]
    left = sorted(slopes, key=lambda line: tuple(np.round(line.ends.mean(axis=0), 2).tolist()))
    found = list[tuple[AnswerLine, str]]()
    while left:
        line = left.pop(0)
        images = [_image(line.ends, k, float(middle[k])) for k in alike]
        if len(alike) > 1:
            images.append(_image(images[0], 1, float(middle[1])))
        mates = [other for other in left if any(_same(other.ends, image) for image in images)]
        about = "" if not mates else "both" if len(mates) > 1 else "centre"
        if not mates and about_axes:
            mates = [other for other in left if any(_faces(line.ends, other.ends, k) for k in (0, 1))][:1]
            about = "axis" if mates else ""
        left = [other for other in left if other not in mates]
        found.append((line, about))
    return found


def _image(ends: Array, across: int, middle: float) -> Array:
    """The mirror image of two ends (2, 2) about a line square to an axis of the view."""
    image = ends.copy()
    image[:, across] = 2 * middle - image[:, across]
    return image


def _same(one: Array, other: Array) -> bool:
    return min(float(np.abs(one - other).max()), float(np.abs(one - other[::-1]).max())) < SAME_PLACE


def _faces(one: Array, other: Array, across: int) -> bool:
    """Whether two lines are mirror images about some line square to an axis of the view."""
    middle = float(one[:, across].mean() + other[:, across].mean()) / 2
    return _same(other, _image(one, across, middle))
