"""Overlays: each view of the answer alone, at the scale asked for, to be printed on film and laid over a script. Sheet mm.

Without a code a film has room for it: on papers it is added when the films are bound (``coded``).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

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
    marks += [_line(paper, name, said) for name, said in values.items() if name != "code" or particulars.code]
    return Page(paper.width, paper.height, dashed(marks))


def coded(page: Page, said: str) -> Page:
    """A film that was drawn without a code, with what is ``said`` where the code would stand."""
    paper = next(paper for paper in PAPERS.values() if (paper.width, paper.height) == (page.width, page.height))
    return replace(page, marks=[*page.marks, _line(paper, "code", said)])


def _line(paper: Paper, name: str, said: str) -> Text:
    """One of LINES."""
    place, heights = [called for called, _ in LINES].index(name), [height for _, height in LINES]
    left, right = paper.x0 + CLEAR, paper.width - CLEAR
    text, fit, face = fitted(said, right - left, heights[place])
    return Text(text, (left, FOOT + sum(height + PITCH for height in heights[place + 1:])), fit, face=face)


def _paper(course: Paper, size: Sequence[float]) -> Paper:
    """A4, in which film is sold, if the view has room on it; else the course's paper."""
    film, foot = PAPERS["A4"], FOOT + sum(height + PITCH for _, height in LINES)
    fits = size[0] <= film.width - film.x0 - 2 * CLEAR and size[1] <= film.height - foot - CLEAR
    return film if fits and course.name in ("A2", "A3", "A4") else course
