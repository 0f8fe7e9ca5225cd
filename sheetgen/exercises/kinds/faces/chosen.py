"""The faces that are asked for with their letters, and the numbers of areas and lines that tell them. Sheet millimetres."""

from __future__ import annotations

import math
from collections.abc import Collection, Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from sheetgen.exercises.kinds.faces.showing import AROUND, Room, Showing, Shown, UnclearError
from sheetgen.geometry import Array
from sheetgen.ink import text_width
from sheetgen.projection import Straight
from sheetgen.refusals import Reason, RefusedError

LETTERS = "ABCDEFGHKLMNPRSTU"
"""Without I and J, which are taken for 1, and O and Q, for 0 (common practice, no source).
Those of arrows of sight are left out."""

LETTER, NUMBER = 5.0, 3.5
"""mm, heights of capitals: of letters on the pictorial, of numbers in the views (ISO 3098 series)."""

DOT = 0.1
"""mm, half the line that stands for a small area to which a leader is led."""

LEAST, MOST = 4, 8
"""Faces that are asked for: fewer are no exercise, more no table that is filled in one sitting (common practice, no source)."""


@dataclass(frozen=True, eq=False)
class Lettered:
    """A face that is asked for: its ``letter``, its place (2,) on the pictorial, and by view its number, None where it does not
    show."""

    letter: str
    place: Array
    row: tuple[int | None, ...]


@dataclass(frozen=True, eq=False)
class Pointed:
    """A number in a view: in the middle (2,) of an ``area`` of the sheet, or at the end of a leader to a line, which has none; a
    small area is a short line in its middle."""

    number: int
    inside: Array | None
    line: Straight | None
    area: shapely.Polygon | None


@dataclass(frozen=True, eq=False)
class Chosen:
    """What is asked for, and by view the numbers that stand there."""

    faces: tuple[Lettered, ...]
    pointed: tuple[tuple[Pointed, ...], ...]

    @property
    def dots(self) -> bool:
        """Whether a leader ends in a dot, in an area too small for its number."""
        return any(one.area is not None and one.inside is None for those in self.pointed for one in those)


def half_diagonal(text: str, height: float) -> float:
    """mm from the middle of a text to its corner."""
    return math.hypot(text_width(text, height), height) / 2


def choose_faces(pictorial: Showing, views: Sequence[Showing], arrows: Collection[str]) -> Chosen:
    """Letter the faces that show in every view so that one can point at them or not at all, no two of them alike, the largest on
    the pictorial first, if they are too many; number what they show as, and what other such faces do. ``arrows``: letters of
    arrows of sight, which no face has.

    Raises: RefusedError for a part with too few.
    """
    letter = half_diagonal("M", LETTER) + AROUND
    rows: dict[tuple[Shown, ...], tuple[int, Room]] = {}
    for face, room in sorted(_lettered(pictorial, letter).items(), key=lambda found: -round(found[1].radius, 3)):
        try:
            row = tuple(view.of(face) for view in views)
        except UnclearError:
            continue
        if sum(shown is not None for shown in row) >= 2:
            rows.setdefault(row, (face, room))
    if len(rows) < LEAST:
        raise RefusedError([Reason("too few flat faces that one can point at in every view", f"{len(rows)}, wanted {LEAST}")])
    numbers = _numbers(rows, views)
    kept = sorted(list(rows.items())[:MOST], key=lambda found: _reading(found[1][1].middle))
    letters = [letter for letter in LETTERS if letter not in arrows]
    faces = (Lettered(letters[k], room.middle, tuple(shown and numbers[v, shown] for v, shown in enumerate(row)))
             for k, (row, (_, room)) in enumerate(kept))
    return Chosen(tuple(faces), tuple(
        tuple(_pointed(view, shown, numbers[v, shown]) for w, shown in numbers if w == v) for v, view in enumerate(views)))


def _lettered(pictorial: Showing, radius: float) -> dict[int, Room]:
    """The widest room of each face on the pictorial that takes a letter."""
    found: dict[int, Room] = {}
    for room in pictorial.rooms:
        face = room.area.face
        if pictorial.faces.plain[face] and room.radius >= radius and (
                face not in found or room.radius > found[face].radius):
            found[face] = room
    return found


def _numbers(rows: Sequence[tuple[Shown, ...]] | dict[tuple[Shown, ...], tuple[int, Room]], views: Sequence[Showing]
             ) -> dict[tuple[int, tuple[str, int]], int]:
    """The number of each thing that is pointed at, by view and what it is: from 1 on through the views, in each from the top down
    and from the left."""
    shown = {(v, one) for row in rows for v, one in enumerate(row) if one is not None}
    order = sorted(shown, key=lambda found: (found[0], _reading(_middle(views[found[0]], found[1])), found[1]))
    return {found: number for number, found in enumerate(order, 1)}


def _middle(view: Showing, shown: tuple[str, int]) -> Array:
    what, number = shown
    if what == "area":
        return view.rooms[number].middle
    line = view.lines[number]
    return np.asarray((line.p + line.q) / 2 * view.view.scale + view.view.origin)


def _pointed(view: Showing, shown: tuple[str, int], number: int) -> Pointed:
    what, index = shown
    if what == "line":
        return Pointed(number, None, view.lines[index], None)
    room, there = view.rooms[index], view.view
    area = shapely.transform(room.area.polygon, lambda points: points * there.scale + there.origin)
    if room.radius >= half_diagonal(str(number), NUMBER) + AROUND:
        return Pointed(number, room.middle, None, area)
    middle, half = (room.middle - there.origin) / there.scale, np.array([DOT, 0.0])
    return Pointed(number, None, Straight(middle - half, middle + half), area)


def _reading(point: Array) -> tuple[float, float]:
    return -round(float(point[1]), 1), round(float(point[0]), 1)
