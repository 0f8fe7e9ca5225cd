"""What the marker of the kind ``pictorial`` has: the scheme with the lines of the pictorial numbered, and the film.

Its parts are those by which boards mark isometric drawings: what helped to draw, bases and edges, axes and direction (CBSE class
XII); their shares are common practice, no source.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from types import MappingProxyType

import numpy as np

from sheetgen.exercises.drawing import PLAIN, Drawing
from sheetgen.exercises.given.scheme import given_marking
from sheetgen.exercises.kinds.pictorial.task import Task
from sheetgen.exercises.marking.overlay import overlay_pages
from sheetgen.exercises.marking.record import Marking, usual_marking
from sheetgen.exercises.marking.scheme import CHECKS, Part, Row, Scheme, off_each
from sheetgen.exercises.marking.shares import shared
from sheetgen.exercises.numbering import Numbered, numbered
from sheetgen.exercises.roles import Particulars
from sheetgen.ink import Page
from sheetgen.problem import Problem
from sheetgen.projection import Straight
from sheetgen.sheet import Settings
from sheetgen.sight import PlacedView
from sheetgen.units import PARALLEL

BOX, DIRECTION = 0.12, 0.06
"""Of all marks: the box that helps to draw, and the side that is shown with its arrow of sight (1 of 8 to 10, and half as much;
CBSE class XII)."""

SORTS: Mapping[str, str] = MappingProxyType({"along": "outlines", "sloping": "outlines", "curves": "curves", "centre": "centre"})
"""The sorts of lines of a pictorial, and as which sort of a marking template each counts."""


def alone(task: Task) -> Drawing:
    """The drawing with the pictorial as its only view."""
    return replace(task.drawing, views=(task.figure.view,), items=(), chosen=(), dressing=PLAIN)


def sorted_lines(view: PlacedView) -> tuple[Numbered, ...]:
    """The lines of a pictorial: those along the axes, straight ones that are not, curves; each sort in the order of views."""
    found: dict[str, list[Numbered]] = {"along": [], "sloping": [], "curves": []}
    axes = view.view.frame.flat_vectors(np.eye(3))
    for line in numbered(view):
        shape = line.shape
        if not isinstance(shape, Straight):
            found["curves"].append(line)
            continue
        way = (shape.q - shape.p) / shape.length
        off = np.abs(axes[:, 0] * way[1] - axes[:, 1] * way[0]) / np.hypot(axes[:, 0], axes[:, 1])
        found["along" if (off < PARALLEL).any() else "sloping"].append(line)
    order = [(sort, line.shape) for sort, those in found.items() for line in those]
    return tuple(Numbered(number, sort, shape) for number, (sort, shape) in enumerate(order, 1))


def scheme_for(task: Task, marking: Marking) -> Scheme:
    """The scheme: the box, the lines by their sorts, the direction, line work."""
    view, lines = task.figure.view, sorted_lines(task.figure.view)
    template, name = marking.template, task.figure.view.view.name
    work = template.parts["line_work"] / sum(template.parts.values())
    box, counted, direction, rest = shared(marking.halves, [BOX, 1 - BOX - DIRECTION - work, DIRECTION, work])
    rows = _rows(lines, len(task.figure.centres), counted, marking)
    parts = [
        _checked("box", box, "arrangement", marking), Part(name, counted, rows, view=True),
        _checked("direction", direction, "wrong_side", marking), _checked("bold", rest, "line_work", marking)]
    return Scheme(marking, tuple(part for part in parts if part.halves), {view.view.name: lines})


def _checked(name: str, halves: int, fault: str, marking: Marking) -> Part:
    """A part of which some things are looked at."""
    return Part(name, halves, (Row(name, len(CHECKS[name]), halves, off=off_each(fault, halves, marking)),))


def _rows(lines: Sequence[Numbered], centres: int, halves: int, marking: Marking) -> tuple[Row, ...]:
    """A row for each sort of lines that there is; all in one where there are too few half marks for each."""
    counts = {sort: sum(line.sort == sort for line in lines) for sort in SORTS} | {"centre": centres}
    sorts = [sort for sort, count in counts.items() if count]
    if halves < len(sorts):
        return (Row("lines", len(lines), halves, 1, off_each("outlines", halves, marking)),)
    weights = [marking.template.lines[SORTS[sort]] * counts[sort] for sort in sorts]
    first, rows = 1, list[Row]()
    for sort, share in zip(sorts, shared(halves, weights if sum(weights) else [1.0] * len(sorts)), strict=True):
        numbered_from = first if sort != "centre" else 0
        rows.append(Row(sort, counts[sort], share, numbered_from, off_each(SORTS[sort], share, marking)))
        first += counts[sort]
    return tuple(row for row in rows if row.halves)


def marking_sheet(problem: Problem, settings: Settings, task: Task, particulars: Particulars) -> tuple[Page, ...]:
    """The scheme of the pictorial. Raises: MarkingError if it has no room."""
    drawing = alone(task)
    scheme = scheme_for(task, particulars.marking or usual_marking())
    return given_marking(problem, settings, drawing, scheme, particulars)


def overlays(problem: Problem, settings: Settings, task: Task, particulars: Particulars) -> tuple[Page, ...]:
    """The pictorial on film."""
    return overlay_pages(problem, settings, alone(task), particulars)
