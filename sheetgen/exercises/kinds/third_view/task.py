"""What the sheets of the kind ``third-view`` have in common: three views, sizes on two of them, and which is asked for."""

from __future__ import annotations

from dataclasses import dataclass

from sheetgen.exercises.drawing import Drawing, drawing_of
from sheetgen.exercises.given.assumed import assumed, called
from sheetgen.exercises.kinds.third_view.asked import Asked, views_to_ask
from sheetgen.exercises.spacing import notes_of_views
from sheetgen.problem import Problem
from sheetgen.refusals import Reason, RefusedError, UnsuitedError
from sheetgen.sheet import MISSING, Settings
from sheetgen.sight import PlacedView
from sheetgen.solid import Plane


@dataclass(frozen=True, eq=False)
class Task:
    """``drawing``: all three views, with the sizes on the two that are given."""

    drawing: Drawing
    asked: Asked
    lines: tuple[str, ...]

    @property
    def given(self) -> tuple[PlacedView, ...]:
        """The views that are given, on the sheet."""
        return tuple(view for view in self.drawing.views if view.view.name != self.asked.view)

    @property
    def third(self) -> PlacedView:
        """That which is asked for, on the sheet."""
        return next(view for view in self.drawing.views if view.view.name == self.asked.view)

    @property
    def option(self) -> int:
        """What a code has of it: 1, 3, 5 for the front, top and side view with one answer, 2, 4, 6 with any."""
        view = "side" if self.asked.view in ("left", "right") else self.asked.view
        return 1 + 2 * MISSING.index(view) + (self.asked.found.count > 1)


def task_of(problem: Problem, settings: Settings) -> Task:
    """Of the views that are certain and whose two others can be drawn with all sizes, the first on whose drawing a strict reader
    marks nothing, or else that on which he marks least.

    Raises: RefusedError if there is none.
    """
    reasons, suited, found = list[Reason](), False, list[tuple[tuple[int, int], Asked, Drawing]]()
    for asked in views_to_ask(problem, settings):
        if isinstance(asked, RefusedError):
            reasons += asked.reasons
            suited |= not isinstance(asked, UnsuitedError)
            continue
        suited = True
        try:
            drawing = drawing_of(problem, settings, asked.views, asked)
        except RefusedError as error:
            reasons += error.reasons
            continue
        found.append((_marked(drawing), asked, drawing))
        if not any(found[-1][0]):
            break
    if not found:
        raise (RefusedError if suited else UnsuitedError)(reasons)
    _, asked, drawing = min(found, key=lambda one: one[0])
    return Task(drawing, asked, tuple(lines_of(problem, settings, asked, drawing.layout.scale_name)))


def _marked(drawing: Drawing) -> tuple[int, int]:
    """How much a strict reader marks on a drawing: what it is sent back for, and what else."""
    return sum(1 for _ in drawing.read.serious()), sum(1 for _ in drawing.read.slight())


def served(problem: Problem, settings: Settings) -> Asked:
    """The first of the views that are certain. Raises: RefusedError if none is."""
    errors = list[RefusedError]()
    for asked in views_to_ask(problem, settings):
        if isinstance(asked, Asked):
            return asked
        errors.append(asked)
    suited = not all(isinstance(error, UnsuitedError) for error in errors)
    raise (RefusedError if suited else UnsuitedError)(reason for error in errors for reason in error.reasons)


def lines_of(problem: Problem, settings: Settings, asked: Asked, scale_name: str) -> list[str]:
    """What is given, what is asked for, and what may be assumed."""
    say = settings.wording.render
    scale = say("scale.full", scale=scale_name) if scale_name == "1:1" else say("scale.reduced", scale=scale_name)
    first, second = (called(view, settings) for view in asked.given)
    lines = [say("third.given", first=first, second=second, scale=scale, projection=say(f"projection.{settings.projection}")),
             say("third.task", view=called(asked.view, settings)), assumed(asked.found.assuming, settings)]
    if problem.symmetry:
        lines.append(say(f"question.symmetry_{''.join(sorted(problem.symmetry))}"))
    lines.append(say("third.hidden"))
    if problem.symmetry or any(not isinstance(surface, Plane) for surface in problem.solid.surfaces):
        lines.append(say("third.centre_lines"))
    lines += notes_of_views(problem, settings)
    if asked.found.count > 1:
        lines.append(say("third.any"))
    return lines
