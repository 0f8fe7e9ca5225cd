"""The question sheet of the kind ``views``: a dimensioned pictorial, what is to be drawn, the title block."""

from __future__ import annotations

from functools import partial

from sheetgen.exercises.drawing import Drawing
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


def question_pages(problem: Problem, settings: Settings, drawing: Drawing, particulars: Particulars) -> tuple[Page, ...]:
    """Draw the question sheet, which asks for the views of ``drawing`` at its scale.

    Raises: RefusedError if no placing of the sizes on the pictorial keeps the rules, or the text has no room.
    """
    picture, column = picture_of(problem, settings, partial(lines_of, problem, settings, drawing.layout))
    scale = drawing.layout.scale_name
    return (page_of(problem, settings, Role.QUESTION, scale, particulars, picture.marks, column.marks),)


def lines_of(problem: Problem, settings: Settings, layout: Layout, pictorial: str) -> list[str]:
    """What is to be drawn, at which scale, and what the pictorial cannot show; its own scale, if that is another."""
    say, scale_name = settings.wording.render, layout.scale_name
    scale = say("scale.full", scale=scale_name) if scale_name == "1:1" else say("scale.reduced", scale=scale_name)
    lines = [say("question.task", scale=scale, projection=say(f"projection.{settings.projection}"))]
    arrow, views = say("letters.arrow"), tuple(layout.places)
    lines += [
        say("question.view", letter=say(f"letters.{letter}"), view=say(f"named.{view}", arrow=arrow),
            last="yes" if view == views[-1] else "no")
        for letter, view in zip(LETTERS, views, strict=False)
    ]
    if problem.symmetry:
        lines.append(say("question.symmetries" if len(problem.symmetry) > 1 else "question.symmetry"))
    lines.append(say("question.hidden"))
    if problem.symmetry or any(not isinstance(surface, Plane) for surface in problem.solid.surfaces):
        lines.append(say("question.centre_lines"))
    lines.append(say("question.dimension"))
    notes = [say(f"notes.{note}") for note in problem.notes]
    if pictorial != scale_name:
        notes.append(say("notes.isometric_full") if pictorial == "1:1" else say("notes.isometric_reduced", scale=pictorial))
    return lines + (["", *notes] if notes else [])
