"""What the marker of the kind ``third-view`` has: its lines numbered with their marks, every view that is right, and the film."""

from __future__ import annotations

from dataclasses import replace

from sheetgen.exercises.drawing import Drawing
from sheetgen.exercises.given.scheme import NOTHING_LIKELY, Right, given_marking, scheme_by_lines
from sheetgen.exercises.kinds.third_view.task import Task
from sheetgen.exercises.marking.overlay import overlay_pages
from sheetgen.exercises.marking.record import usual_marking
from sheetgen.exercises.missed import smooth_joins
from sheetgen.exercises.numbering import numbered
from sheetgen.exercises.roles import Particulars
from sheetgen.ink import Page
from sheetgen.problem import Problem
from sheetgen.projection import view_of
from sheetgen.sheet import Settings


def alone(task: Task) -> Drawing:
    """The drawing with the view that is asked for as its only one."""
    return replace(task.drawing, views=(task.third,), items=(), chosen=())


def marking_sheet(problem: Problem, settings: Settings, task: Task, particulars: Particulars) -> tuple[Page, ...]:
    """The scheme of the third view, and where several are right, these. Raises: MarkingError if it has no room."""
    drawing, third = alone(task), task.third
    scheme = scheme_by_lines(drawing, particulars.marking or usual_marking(), {task.asked.view: numbered(third)})
    joins = replace(NOTHING_LIKELY, joins={task.asked.view: smooth_joins(third.view, third.scale)})
    return given_marking(problem, settings, drawing, scheme, particulars, joins, _right(problem, settings, task))


def _right(problem: Problem, settings: Settings, task: Task) -> Right | None:
    """Every view that agrees with the two given, if there are several."""
    others = task.asked.found.others
    if not others:
        return None
    views = (task.third.view, *(view_of(other.solid, task.asked.view) for other in others))
    return Right(views, settings.wording.render("third.all", count=len(views)))


def overlays(problem: Problem, settings: Settings, task: Task, particulars: Particulars) -> tuple[Page, ...]:
    """The third view on film."""
    return overlay_pages(problem, settings, alone(task), particulars)
