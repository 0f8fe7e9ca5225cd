"""Overlays: each view of the answer alone, at the scale asked for, to be printed on film and laid over a script. Sheet mm."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from sheetgen.exercises.drawing import Drawing
from sheetgen.exercises.roles import Particulars
from sheetgen.ink import Mark, Page, Text, dashed, fitted
from sheetgen.problem import Problem
from sheetgen.sheet import PAPERS, Paper, Settings
from sheetgen.sheet.checkbar import check_bar_on
from sheetgen.sheet.viewmarks import view_marks
from sheetgen.sight import PlacedView

LINES = (("view", 5.0), ("code", 3.5), ("film", 2.5))
"""What stands under a view, as the wording calls it, and the heights of its lettering, mm."""

FOOT, PITCH = 15.0, 3.5
"""mm from the edge of the film to the last line, and between two of them."""

CLEAR = 12.0
"""mm kept free round a view: centre lines stick out of it, and a film is held at its edges."""


def overlay_pages(problem: Problem, settings: Settings, drawing: Drawing, particulars: Particulars) -> tuple[Page, ...]:
    """A film for each view of ``drawing``."""
    return tuple(_film(problem, settings, drawing, view, particulars) for view in drawing.views)


def _film(problem: Problem, settings: Settings, drawing: Drawing, view: PlacedView, particulars: Particulars) -> Page:
    say = settings.wording.render
    size = (view.view.extent[1] - view.view.extent[0]) * view.scale
    paper = _paper(settings.paper, size.tolist())
    foot = FOOT + sum(height + PITCH for _, height in LINES)
    left, right = paper.x0 + CLEAR, paper.width - CLEAR
    corner = np.array([(left + right - size[0]) / 2, (foot + paper.height - size[1]) / 2])
    placed = PlacedView.cornered(view.sight, view.scale, np.round(corner, 1))
    values = {"view": say("overlay.view", view=drawing.name(view.view.name, settings), scale=drawing.layout.scale_name),
              "code": say("overlay.code", code=particulars.code, title=problem.title), "film": say("overlay.film")}
    marks: list[Mark] = [*view_marks(placed), *check_bar_on(paper, say("check_bar"))]
    y = foot
    for name, height in LINES:
        y -= height + PITCH
        text, fit, face = fitted(values[name], right - left, height)
        marks.append(Text(text, (left, y), fit, face=face))
    return Page(paper.width, paper.height, dashed(marks))


def _paper(course: Paper, size: Sequence[float]) -> Paper:
    """A4, in which film is sold, if the view has room on it; else the course's paper."""
    film, foot = PAPERS["A4"], FOOT + sum(height + PITCH for _, height in LINES)
    fits = size[0] <= film.width - film.x0 - 2 * CLEAR and size[1] <= film.height - foot - CLEAR
    return film if fits and course.name in ("A2", "A3", "A4") else course
