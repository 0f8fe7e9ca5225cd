"""What the sheets of the kind ``mistakes`` have in common: the part, its right views, the same with mistakes, and what is told of
them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import partial
from math import ceil

from sheetgen.exercises.beside import taken_by, text_beside
from sheetgen.exercises.column import Column, column_of
from sheetgen.exercises.drawing import Drawing, drawing_of
from sheetgen.exercises.kinds.mistakes.mistake import EXTRA, LEFT_OUT, PLACE, SIDE, TWICE, Mistake
from sheetgen.exercises.kinds.mistakes.planted import Planted, planted
from sheetgen.exercises.kinds.mistakes.struck import struck_out
from sheetgen.exercises.kinds.mistakes.telling import sentences
from sheetgen.exercises.kinds.views.question import LETTERS
from sheetgen.exercises.picture import Picture, picture_of
from sheetgen.exercises.rings import Target, rings_on
from sheetgen.geometry import Array
from sheetgen.ink import Mark
from sheetgen.placing import Placement, items_of
from sheetgen.problem import Problem
from sheetgen.projection import Shape
from sheetgen.refusals import Reason, RefusedError
from sheetgen.sheet import Settings
from sheetgen.sheet.free import Taken
from sheetgen.sight import PlacedView
from sheetgen.solid import far_ends

ROW, HALF_LINE = 8.0, 2.0
"""mm of a row in which a mistake is told, and of half a line of the smallest text."""

HEIGHTS, WIDTHS, MARGINS = (3.5, 2.5), (140.0, 110.0, 90.0, 70.0, 55.0), (6.0, 3.0)
"""mm: of the list of mistakes."""


@dataclass(frozen=True, eq=False)
class Task:
    """``drawing``: the right one; ``made``: the one with mistakes; ``heading``: over that; ``told``: the right one
    with rings and the list of the mistakes; ``ringed``: the wrong one with rings; ``rows``: to be filled in, or none;
    ``sentences``: what is wrong, mistake by mistake."""

    drawing: Drawing
    made: Planted
    picture: Picture
    column: Column
    rows: int
    sentences: tuple[str, ...]
    heading: tuple[Mark, ...]
    told: tuple[Mark, ...]
    ringed: tuple[Mark, ...]

    @property
    def mistakes(self) -> tuple[Mistake, ...]:
        """In the order of their numbers."""
        return self.made.mistakes


def task_of(problem: Problem, settings: Settings) -> Task:
    """Make mistakes in the part's views, and show the part that they should be of.

    Raises: RefusedError if there are too few ways, or something has no room.
    """
    drawing = drawing_of(problem, settings)
    made = planted(problem, settings, drawing)
    count, say = len(made.mistakes), settings.wording.render
    rows = count if _has_room(problem, settings, drawing, count) else 0
    lines, enlarged = partial(lines_of, problem, settings, drawing, count, rows), drawing.layout.scale > 1.0
    picture, column = picture_of(problem, settings, lines, enlarged=enlarged)
    wrong = made.drawing.marks
    paper = settings.paper
    heading = text_beside(
        [say("mistakes.heading", count=count)], _taken(wrong, drawing, settings), (paper.x0, paper.y1),
        Reason("there is no room on the sheet with mistakes for its heading"), heights=(3.5,), widths=(90.0, 60.0, 45.0),
        margins=(4.0, 2.0))
    texts = sentences(problem, settings, drawing, made)
    struck = [mark for each in made.mistakes if each.sort == EXTRA and each.shape is not None
              for mark in struck_out(_line_on(drawing.views[each.view], each.shape))]
    right = [*drawing.marks, *struck]
    told = [*right, *rings_on(right, settings, _targets(drawing, made, right=True))]
    words = listed([say("mistakes.list"), *texts, *([say("mistakes.struck")] if struck else [])], told, drawing, settings)
    if words is None:
        raise RefusedError([Reason("there is no room on the answer sheet for the list of mistakes")])
    ringed = rings_on(wrong, settings, _targets(made.drawing, made, right=False))
    return Task(drawing, made, picture, column, rows, tuple(texts), tuple(heading), (*told, *words), (*wrong, *ringed))


def _has_room(problem: Problem, settings: Settings, drawing: Drawing, count: int) -> bool:
    """Whether the column of the question has room for rows to be filled in."""
    try:
        column_of(lines_of(problem, settings, drawing, count, count, ""), settings)
    except RefusedError:
        return False
    return True


def lines_of(problem: Problem, settings: Settings, drawing: Drawing, count: int, rows: int, pictorial: str) -> list[str]:
    """What was to be drawn and what is to be found; what the pictorial cannot show, and its scale; room for
    ``rows`` at the end."""
    say, scale_name = settings.wording.render, drawing.layout.scale_name
    scale = say("scale.full", scale=scale_name) if scale_name == "1:1" else say("scale.reduced", scale=scale_name)
    lines = [say("mistakes.task", scale=scale, projection=say(f"projection.{settings.projection}")), say("mistakes.asked")]
    views, arrows = tuple(drawing.layout.places), {view: say(f"letters.arrow_{view}") for view in settings.arrows}
    lines += [
        say("mistakes.view", letter=say(f"letters.{letter}"), view=say(f"named.{view}", arrow=arrows.get(view, "")),
            last="yes" if view == views[-1] else "no")
        for letter, view in zip(LETTERS, views, strict=False)]
    if problem.symmetry:
        lines.append(say(f"question.symmetry_{''.join(sorted(problem.symmetry))}"))
    sorts = " ".join(say(f"mistakes.sorts_{of}") for of in ("lines", "views", "sizes"))
    lines += ["", say("mistakes.count", count=count), sorts]
    if _unsaid(problem, settings, drawing):
        lines.append(say("mistakes.unsaid"))
    lines.append(say("mistakes.mark", listed="yes" if rows else "no"))
    notes = [say(f"notes.{note.key}", **note.values) for note in problem.notes]
    if pictorial and pictorial != scale_name:
        notes.append(say("notes.isometric_full") if pictorial == "1:1" else say("notes.isometric_reduced", scale=pictorial))
    return [*lines, *(["", *notes] if notes else []), *[""] * ceil(rows * ROW / HALF_LINE)]


def _unsaid(problem: Problem, settings: Settings, drawing: Drawing) -> bool:
    """Whether notes of the pictorial tell more than those of the views: where holes end, which the views show."""
    full = items_of(problem.measures, settings.wording, far_ends(problem.solid))
    return any(one.lines != other.lines for one, other in zip(full, drawing.items, strict=True))


def _targets(drawing: Drawing, made: Planted, *, right: bool) -> list[Target]:
    """Where each mistake is on the ``right`` drawing, or on that with mistakes."""
    return [_target(drawing, made, mistake, right=right) for mistake in made.mistakes]


def _target(drawing: Drawing, made: Planted, mistake: Mistake, *, right: bool) -> Target:
    view = drawing.views[mistake.view]
    if mistake.shape is not None:
        return Target.of_line(_line_on(view, mistake.shape))
    if mistake.sort in (SIDE, PLACE):
        [name] = drawing.chosen[len(drawing.items) + mistake.view].drawn.texts
        return Target.of_text(name)
    assert mistake.item is not None
    if right:
        return Target.of_text(drawing.chosen[mistake.item].drawn.texts[0])
    if mistake.sort == TWICE and made.again is not None:
        return Target.of_text(made.again.drawn.texts[0])
    place: Placement = made.base.chosen[mistake.item]
    if mistake.sort == LEFT_OUT:
        return Target(Target.of_text(place.drawn.texts[0]).at)
    figures = mistake.said["wrong"]
    return Target.of_text(next(text for placed in drawing.chosen if placed.item == mistake.item and placed.view == place.view
                    for text in placed.drawn.texts if text.text == figures))


def _line_on(view: PlacedView, shape: Shape) -> Array:
    """A line (k, 2) on the sheet."""
    return shape.points() * view.scale + view.origin


def listed(lines: Sequence[str], marks: Sequence[Mark], drawing: Drawing, settings: Settings) -> list[Mark] | None:
    """Some lines of text beside a ``drawing`` of which these are all ``marks``; None if they have no room."""
    corner = settings.paper.x0, settings.paper.y0
    try:
        return text_beside(lines, _taken(marks, drawing, settings), corner, Reason("no room"), heights=HEIGHTS, widths=WIDTHS,
                           margins=MARGINS)
    except RefusedError:
        return None


def _taken(marks: Sequence[Mark], drawing: Drawing, settings: Settings) -> Taken:
    return taken_by(marks, settings).with_boxes([view.box for view in drawing.views])
