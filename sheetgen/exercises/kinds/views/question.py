"""The question sheet of the kind ``views``: a dimensioned pictorial, what is to be drawn, the title block."""

from __future__ import annotations

from functools import partial

from sheetgen.exercises.drawing import drawing_of
from sheetgen.exercises.kinds.views.task import Task
from sheetgen.exercises.page import page_of
from sheetgen.exercises.picture import picture_of
from sheetgen.exercises.roles import Particulars, Role
from sheetgen.ink import Page
from sheetgen.problem import Problem
from sheetgen.sheet import Settings
from sheetgen.sheet.layout import Layout
from sheetgen.solid import Plane

LETTERS = ("first", "second", "third", "fourth")
"""Of the views that are asked for, in their order, as the wording calls its letters."""


def task_of(problem: Problem, settings: Settings) -> Task:
    """The views, and the pictorial with the words that ask for them at their scale.

    Raises: RefusedError if no placing of the sizes on either keeps the rules, or the text has no room.
    """
    drawing = drawing_of(problem, settings)
    lines, enlarged = partial(lines_of, problem, settings, drawing.layout), drawing.layout.scale > 1.0
    return Task(drawing, *picture_of(problem, settings, lines, enlarged=enlarged))


def question_pages(problem: Problem, settings: Settings, task: Task, particulars: Particulars) -> tuple[Page, ...]:
    """Draw the question sheet."""
    scale = task.drawing.layout.scale_name
    return (page_of(problem, settings, Role.QUESTION, scale, particulars, task.picture.marks, task.column.marks),)


def lines_of(problem: Problem, settings: Settings, layout: Layout, pictorial: str) -> list[str]:
    """What is to be drawn, at which scale, and what the pictorial cannot show; its own scale, if that is another."""
    say, scale_name = settings.wording.render, layout.scale_name
    scale = say("scale.full", scale=scale_name) if scale_name == "1:1" else say("scale.reduced", scale=scale_name)
    lines = [say("question.task", scale=scale, projection=say(f"projection.{settings.projection}"))]
    views, arrows = tuple(layout.places), {view: say(f"letters.arrow_{view}") for view in settings.arrows}
    lines += [
        say("question.view", letter=say(f"letters.{letter}"), view=say(f"named.{view}", arrow=arrows.get(view, "")),
            last="yes" if view == views[-1] else "no")
        for letter, view in zip(LETTERS, views, strict=False)
    ]
    if problem.symmetry:
        lines.append(say(f"question.symmetry_{''.join(sorted(problem.symmetry))}"))
    lines.append(say("question.hidden"))
    if problem.symmetry or any(not isinstance(surface, Plane) for surface in problem.solid.surfaces):
        lines.append(say("question.centre_lines"))
    lines += [say("question.dimension"), say("question.sheet")]
    notes = [say(f"notes.{note.key}", **note.values) for note in problem.notes]
    if pictorial != scale_name:
        notes.append(say("notes.isometric_full") if pictorial == "1:1" else say("notes.isometric_reduced", scale=pictorial))
    return lines + (["", *notes] if notes else [])
