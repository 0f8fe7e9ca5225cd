"""What the marker of the kind ``auxiliary`` has: marks for projecting, for the distances and for completing, the lines
numbered, and the view on film. In whole marks of twelve these are 3, 5 and 4 (Irish Leaving Certificate 2004, higher level,
question 10: projections, heights, completing); the true sizes of a face have one of the four.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from sheetgen.exercises.drawing import Drawing
from sheetgen.exercises.given.scheme import NOTHING_LIKELY, given_marking
from sheetgen.exercises.kinds.auxiliary.dressing import AUXILIARY
from sheetgen.exercises.kinds.auxiliary.task import Task
from sheetgen.exercises.marking.overlay import overlay_pages
from sheetgen.exercises.marking.record import Marking, usual_marking
from sheetgen.exercises.marking.scheme import Part, Row, Scheme, off_each, rows_of
from sheetgen.exercises.marking.shares import shared
from sheetgen.exercises.missed import smooth_joins
from sheetgen.exercises.numbering import Numbered, numbered
from sheetgen.exercises.roles import Particulars
from sheetgen.ink import Page
from sheetgen.problem import Problem
from sheetgen.sheet import Settings

PROJECTED, CARRIED, COMPLETED = 3.0, 5.0, 4.0
"""Shares of the marks, as of the examination named above."""

TRUE_SIZES = 1.0
"""Of COMPLETED, for length and width of a true shape (common practice, no source)."""

SAME_CORNER = 3
"""Digits of a millimetre by which corners are told apart."""


def alone(task: Task) -> Drawing:
    """The drawing with the auxiliary view as its only one, its own right to the right."""
    return replace(task.drawing, views=(task.folded.turned.placed,), items=(), chosen=())


def scheme_for(task: Task, marking: Marking) -> Scheme:
    """The scheme of an auxiliary view."""
    lines = numbered(task.folded.turned.placed)
    sizes = 0.0 if task.asked.whole else TRUE_SIZES
    halves = shared(marking.halves, [PROJECTED, CARRIED, COMPLETED - sizes, sizes])
    counts = (len(task.folded.carried.projectors), len(corners_of(lines)))
    parts = [Part(name, each, (Row(name, count, each, off=off_each("line_work", each, marking)),))
             for name, count, each in zip(("projected", "carried"), counts, halves, strict=False) if each]
    if halves[2]:
        parts.append(Part(AUXILIARY, halves[2], rows_of(lines, halves[2], marking), view=True))
    if halves[3]:
        row = Row("true_sizes", 2, halves[3], off=off_each("line_work", halves[3], marking))
        parts.append(Part("true_sizes", halves[3], (row,)))
    return Scheme(marking, tuple(parts), {AUXILIARY: lines})


def corners_of(lines: tuple[Numbered, ...]) -> set[tuple[float, float]]:
    """Where visible lines begin and cease: the places whose distances are carried over."""
    seen = [line.shape for line in lines if line.sort in ("outlines", "curves")]
    ends = np.round([end for shape in seen for end in (shape.first, shape.last)], SAME_CORNER) + 0.0
    return {(float(u), float(v)) for u, v in ends}


def marking_sheet(problem: Problem, settings: Settings, task: Task, particulars: Particulars) -> tuple[Page, ...]:
    """The scheme, and the auxiliary view with its lines numbered. Raises: MarkingError if it has no room."""
    drawing, turned = alone(task), task.folded.turned
    scheme = scheme_for(task, particulars.marking or usual_marking())
    joins = replace(NOTHING_LIKELY, joins={AUXILIARY: smooth_joins(turned.view, turned.scale)} if task.asked.whole else {})
    return given_marking(problem, settings, drawing, scheme, particulars, joins)


def overlays(problem: Problem, settings: Settings, task: Task, particulars: Particulars) -> tuple[Page, ...]:
    """The auxiliary view on film."""
    return overlay_pages(problem, settings, alone(task), particulars)
