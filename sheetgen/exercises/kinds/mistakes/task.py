"""What the sheets of the kind ``mistakes`` have in common: the part, its right views, the same with mistakes, and what is told of
them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import partial
from math import ceil

from sheetgen.exercises.beside import taken_by, text_beside
from sheetgen.exercises.column import Column, column_of
from sheetgen.exercises.drawing import INSET, Drawing, drawing_of
from sheetgen.exercises.kinds.mistakes.mistake import LEFT_OUT, PLACE, SIDE, TWICE, Mistake
from sheetgen.exercises.kinds.mistakes.planted import Planted, planted
from sheetgen.exercises.kinds.mistakes.rings import Target, rings
from sheetgen.exercises.kinds.views.question import LETTERS
from sheetgen.exercises.picture import Picture, picture_of
from sheetgen.ink import Mark, Text, text_box
from sheetgen.placing import Placement
from sheetgen.problem import Problem
from sheetgen.projection import LineKind
from sheetgen.refusals import Reason, RefusedError
from sheetgen.sheet import Settings
from sheetgen.sheet.free import Taken
from sheetgen.sheet.titleblock_ink import titleblock_box

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
    texts = sentences(settings, drawing, made)
    told = _ringed(drawing.marks, settings, _targets(drawing, made, right=True))
    words = listed([say("mistakes.list"), *texts], told, drawing, settings)
    if words is None:
        raise RefusedError([Reason("there is no room on the answer sheet for the list of mistakes")])
    ringed = _ringed(wrong, settings, _targets(made.drawing, made, right=False))
    return Task(drawing, made, picture, column, rows, tuple(texts), tuple(heading), (*told, *words), ringed)


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
    lines += ["", say("mistakes.count", count=count), sorts, say("mistakes.mark", listed="yes" if rows else "no")]
    notes = [say(f"notes.{note.key}", **note.values) for note in problem.notes]
    if pictorial and pictorial != scale_name:
        notes.append(say("notes.isometric_full") if pictorial == "1:1" else say("notes.isometric_reduced", scale=pictorial))
    return [*lines, *(["", *notes] if notes else []), *[""] * ceil(rows * ROW / HALF_LINE)]


def sentences(settings: Settings, drawing: Drawing, made: Planted) -> list[str]:
    """What is wrong, mistake by mistake, with its number."""
    say = settings.wording.render
    views = [drawing.name(view.view.name, settings) for view in drawing.views]
    found = []
    for number, each in enumerate(made.mistakes, 1):
        values = dict(each.said)
        if each.sort == PLACE:
            values["projection"] = say(f"projection.{settings.projection}")
        if each.other is not None:
            values["other"] = views[each.other]
        hidden = "_hidden" if each.sort == "missing" and each.kind is LineKind.HIDDEN else ""
        what = say(f"mistakes.{each.sort}{hidden}", **values)
        found.append(say("mistakes.row", number=number, view=views[each.view], what=what))
    return found


def _targets(drawing: Drawing, made: Planted, *, right: bool) -> list[Target]:
    """Where each mistake is on the ``right`` drawing, or on that with mistakes."""
    return [_target(drawing, made, mistake, right=right) for mistake in made.mistakes]


def _target(drawing: Drawing, made: Planted, mistake: Mistake, *, right: bool) -> Target:
    view = drawing.views[mistake.view]
    if mistake.shape is not None:
        points = mistake.shape.points()
        middle = points[len(points) // 2] if len(points) > 2 else points.mean(axis=0)
        return Target(middle * view.scale + view.origin)
    if mistake.sort in (SIDE, PLACE):
        [name] = drawing.chosen[len(drawing.items) + mistake.view].drawn.texts
        return _at(name)
    assert mistake.item is not None
    if right:
        return _at(drawing.chosen[mistake.item].drawn.texts[0])
    if mistake.sort == TWICE and made.again is not None:
        return _at(made.again.drawn.texts[0])
    place: Placement = made.base.chosen[mistake.item]
    if mistake.sort == LEFT_OUT:
        return Target(_at(place.drawn.texts[0]).at)
    figures = mistake.said["wrong"]
    return _at(next(text for placed in drawing.chosen if placed.item == mistake.item and placed.view == place.view
                    for text in placed.drawn.texts if text.text == figures))


def _at(text: Text) -> Target:
    return Target(text_box(text, 0.0).mean(axis=0), text)


def _ringed(marks: Sequence[Mark], settings: Settings, targets: Sequence[Target]) -> tuple[Mark, ...]:
    """A drawing with rings. Raises: RefusedError if one finds no place."""
    paper, block = settings.paper, titleblock_box(settings.block, settings.paper)
    area = (paper.x0 + INSET, paper.y0 + INSET, paper.x1 - INSET, paper.y1 - INSET)
    found = rings(targets, marks, area, [(block[0] - 4, block[1], block[2], block[3] + 4)])
    if found is None:
        raise RefusedError([Reason("the number of a mistake finds no place")])
    return (*marks, *found)


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
