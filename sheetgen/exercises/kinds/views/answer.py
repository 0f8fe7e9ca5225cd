"""The answer sheet of the kind ``views``: these with their sizes, the spacing worked out, a small pictorial if there is room."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from sheetgen.exercises.beside import Scaled, plain_beside, taken_by, text_beside
from sheetgen.exercises.kinds.views.task import Task
from sheetgen.exercises.page import page_of
from sheetgen.exercises.roles import Particulars, Role
from sheetgen.exercises.spacing import notes_of_views, spacing_lines
from sheetgen.ink import Mark, Page
from sheetgen.problem import Problem
from sheetgen.refusals import Reason
from sheetgen.sheet import Settings
from sheetgen.sheet.free import Taken, outlines_of
from sheetgen.sheet.layout import SCALES
from sheetgen.sight import Sight

NOTE_HEIGHT = 2.5        # mm: notes and the arithmetic
LEAST_PICTORIAL = 38.0   # mm: a smaller one shows nothing
MOST_PICTORIAL = 90.0    # mm: a larger one rivals the views
STEP = 4.0               # mm by which one that is not to scale is tried smaller
CLEAR = 15.0             # mm kept free round the pictorial and its words


def answer_pages(problem: Problem, settings: Settings, task: Task, particulars: Particulars) -> tuple[Page, ...]:
    """Draw the answer sheet.

    Raises: RefusedError if it has no room for the spacing arithmetic.
    """
    drawing, paper = task.drawing, settings.paper
    # Nothing stands in the box of a view: nestled into the corner of an L it would seem to belong to it.
    taken = taken_by(drawing.marks, settings).with_boxes([view.box for view in drawing.views])
    # The arithmetic is part of the lesson, so it must fit.
    needed = notes_of_views(problem, settings)
    notes = text_beside(
        [*needed, *([""] if needed else []), *spacing_lines(problem, settings, drawing.layout)], taken, (paper.x0, paper.y0),
        Reason("there is no room on the answer sheet for the spacing arithmetic"),
        heights=(NOTE_HEIGHT,), widths=(80.0, 62.0, 50.0), margins=(6.0, 3.0))
    beside = small_pictorial(task.picture.view.sight, settings, taken.with_more(outlines_of(notes)))
    marks = [*drawing.marks, *notes, *beside]
    return (page_of(problem, settings, Role.ANSWER, drawing.layout.scale_name, particulars, marks),)


def small_pictorial(sight: Sight, settings: Settings, taken: Taken) -> list[Mark]:
    """The question's pictorial for reference, in the middle of a free room; none if no room is large enough to show anything."""
    paper = settings.paper
    return plain_beside(sight, settings, taken, (paper.x1, paper.y0 + 60.0), scales_beside(sight, settings), CLEAR)


def scales_beside(sight: Sight, settings: Settings) -> Iterator[Scaled]:
    """The standard scales at which it is small but shows something, then sizes that are not to scale, the largest first."""
    say, (low, high) = settings.wording.render, sight.view.extent
    largest = float((high - low).max())
    for name, scale in SCALES:
        if LEAST_PICTORIAL <= largest * scale <= MOST_PICTORIAL:
            yield scale, say("notes.isometric_full") if name == "1:1" else say("notes.isometric_reduced", scale=name)
    for extent in np.arange(min(MOST_PICTORIAL, largest), LEAST_PICTORIAL - STEP / 2, -STEP).tolist():
        yield extent / largest, say("notes.not_to_scale")
