"""The pictorial as it is drawn: its lines, the arrow of sight, centre lines, thin box and rhombi. Sheet millimetres."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property
from itertools import product

import numpy as np
import shapely

from sheetgen.exercises.kinds.pictorial.circles import centre_lines, circles_of, is_round, rhombus_lines
from sheetgen.exercises.kinds.pictorial.thin import IN_THE_INK, LEAST, clear_of_ink, ink_of
from sheetgen.geometry import Array
from sheetgen.ink import Mark, Pen, Stroke, Text, moved
from sheetgen.placing import PlacingError, Surroundings, choose, gathered, marks_of, sight_arrow
from sheetgen.projection.linework import Linework
from sheetgen.refusals import Reason, RefusedError
from sheetgen.sheet import Settings
from sheetgen.sheet.free import boxes_of
from sheetgen.sheet.paper import Box
from sheetgen.sheet.viewmarks import view_marks
from sheetgen.sight import PlacedView, Sight
from sheetgen.units import SAME_POINT

AROUND = 100.0
"""mm round a pictorial within which its arrow of sight is placed; it stands much nearer."""

TITLE, UNDER, UNDER_ARROW = 3.5, 6.5, 5.0
"""mm: height of the title of the pictorial, and how far it stands under the pictorial, and under the arrow of sight: beside the
arrow's letter, or over it, both would read as one."""


@dataclass(frozen=True, eq=False)
class Figure:
    """The pictorial where ``view`` stands; ``arrow``: that of sight, with its letter."""

    view: PlacedView
    arrow: tuple[Mark, ...]

    @cached_property
    def lines(self) -> list[Mark]:
        """Its visible lines."""
        return view_marks(self.view, hidden=False, centres=False)

    @cached_property
    def centres(self) -> list[Mark]:
        """The centre lines of circles that are seen whole, but for where edges run along them."""
        edges = ink_of([mark for mark in self.lines if isinstance(mark, Stroke) and not mark.curved], IN_THE_INK)
        found = list[Mark]()
        for line in centre_lines(self.view):
            along = [part for part in shapely.get_parts(shapely.intersection(shapely.LineString(line), edges))
                     if part.length > 4 * IN_THE_INK]
            left = shapely.difference(shapely.LineString(line), shapely.union_all(along)) if along else shapely.LineString(line)
            found += [Stroke(shapely.get_coordinates(part), Pen.CENTRE)
                      for part in shapely.get_parts(left) if part.length > 2 * LEAST]
        return found

    @cached_property
    def box(self) -> list[Stroke]:
        """The box that encloses the part, but for the three edges behind it."""
        return box_round(self.view, np.zeros(3), self.view.view.solid.size)

    @cached_property
    def rhombi(self) -> list[Stroke]:
        """Round each circle that is drawn as an ellipse."""
        return [Stroke(line, Pen.CONSTRUCTION) for circle in circles_of(self.view) if not is_round(self.view, circle)
                for line in rhombus_lines(self.view, circle)]

    @cached_property
    def thin(self) -> list[Stroke]:
        """Box and rhombi, clear of the lines."""
        return clear_of_ink([*self.box, *self.rhombi], [*self.lines, *self.centres])

    @cached_property
    def arrow_box(self) -> Box:
        """Round the arrow and its letter."""
        boxes = boxes_of(self.arrow)
        (x0, y0), (x1, y1) = boxes[:, :2].min(axis=0).tolist(), boxes[:, 2:].max(axis=0).tolist()
        return x0, y0, x1, y1

    def title(self, settings: Settings) -> Text:
        """Its title, under the middle of all that is drawn, the arrow too, where that has room."""
        x0, y0, x1, _ = self.view.box
        foot = min(y0 - UNDER, self.arrow_box[1] - UNDER_ARROW)
        words = settings.wording.render(f"views.{self.view.view.name}")
        return Text(words, ((x0 + x1) / 2, foot - TITLE), TITLE, anchor="middle")

    @property
    def bare(self) -> list[Mark]:
        """The drawing without what helped to draw it."""
        return [*self.centres, *self.lines, *self.arrow]

    @property
    def marks(self) -> list[Mark]:
        """All of it."""
        return [*self.thin, *self.bare]

    def moved(self, dx: float, dy: float) -> Figure:
        """The same elsewhere."""
        return Figure(replace(self.view, origin=self.view.origin + np.array([dx, dy])), tuple(moved(self.arrow, dx, dy)))


def figure_of(sight: Sight, scale: float, settings: Settings) -> Figure:
    """The pictorial with its own (0, 0) at that of the sheet. Raises: RefusedError if the arrow of sight has no room."""
    seen = replace(sight.view, linework=Linework(sight.view.linework.visible, ()))
    figure = Figure(PlacedView(Sight(seen), scale, np.zeros(2)), ())
    view = figure.view
    x0, y0, x1, y1 = view.box
    area = (x0 - AROUND, y0 - AROUND, x1 + AROUND, y1 + AROUND)
    thin = [stroke.points for stroke in (*figure.box, *figure.rhombi)]
    around = Surroundings(view.coarse("visible"), thin, (), area, (view.shadow,))
    arrow = sight_arrow(view, settings.wording.render("letters.arrow_front"), 0)
    try:
        return Figure(view, tuple(marks_of(choose(around, gathered([arrow]), 1))))
    except PlacingError as found:
        raise RefusedError([Reason(f"in the pictorial, the arrow of sight: {found.reason}")]) from None


def box_round(view: PlacedView, low: Array, high: Array) -> list[Stroke]:
    """The edges of a box between two corners (3,) that a reader sees: all but those that meet in its farthest corner."""
    far, found = view.view.frame.toward < 0, list[Stroke]()
    for axis in range(3):
        rest = [other for other in range(3) if other != axis]
        if high[axis] - low[axis] < SAME_POINT:
            continue
        for ends in product((False, True), repeat=2):
            if all(end == bool(far[other]) for end, other in zip(ends, rest, strict=True)):
                continue
            corner = low.copy()
            corner[rest] = np.where(ends, high[rest], low[rest])
            found.append(Stroke(view.paper(np.stack([corner, corner + (high - low)[axis] * np.eye(3)[axis]])), Pen.CONSTRUCTION))
    return found
