"""The sheets of the kind ``missing-lines``: the views without the lines, the views with these numbered, and the scheme."""

from __future__ import annotations

from collections.abc import Iterator

from sheetgen.exercises.beside import taken_by, text_beside
from sheetgen.exercises.drawing import INSET
from sheetgen.exercises.given.scheme import NOTHING_LIKELY, GivenSheet, scheme_by_lines
from sheetgen.exercises.hints.landmarks import landmarks_of
from sheetgen.exercises.kinds.missing_lines.task import MARGINS, Task, corner_of, numbered_lines
from sheetgen.exercises.marking.overlay import overlay_pages
from sheetgen.exercises.marking.pages import ROWS, WIDTHS
from sheetgen.exercises.marking.record import usual_marking
from sheetgen.exercises.page import page_of
from sheetgen.exercises.pieces import pieces_of
from sheetgen.exercises.roles import Particulars, Role
from sheetgen.exercises.saying import line_words
from sheetgen.ink import Mark, Page, moved
from sheetgen.problem import Problem
from sheetgen.projection import LineKind
from sheetgen.refusals import Reason, RefusedError
from sheetgen.sheet import Settings

LISTS = ((3.5, (118.0, 90.0, 70.0, 140.0)), (2.5, (118.0, 90.0, 70.0, 140.0, 55.0)))
"""mm, lettering of the list of lines and its widths, as they are tried: a narrow column of high lettering would stand between the
views as if it were of one of them."""


def question_pages(problem: Problem, settings: Settings, task: Task, particulars: Particulars) -> tuple[Page, ...]:
    """Draw the question sheet."""
    scale = task.drawing.layout.scale_name
    marks = [*task.asked, *task.text, *task.beside]
    return (page_of(problem, settings, Role.QUESTION, scale, particulars, marks),)


def whole(problem: Problem, settings: Settings, task: Task) -> list[Mark]:
    """The whole views, the lines that are put back numbered, and the list of these; the word that they are numbered alone, where
    the list has no room."""
    marks = [*task.drawing.marks, *task.numbers]
    taken = taken_by([*marks, *task.beside], settings).with_boxes([view.box for view in task.drawing.views])
    heading = settings.wording.render("missing.put_back", count=len(task.chosen.lines))
    towards, why = corner_of(task.drawing), Reason("there is no room for the words beside the views")
    for said in ([heading, *list_of(problem, settings, task)], [heading]):
        for height, widths in LISTS:
            try:
                return [*marks, *text_beside(said, taken, towards, why, heights=[height], widths=widths, margins=MARGINS)]
            except RefusedError:
                continue
    raise RefusedError([why])


def list_of(problem: Problem, settings: Settings, task: Task) -> Iterator[str]:
    """The lines that are put back by their numbers: view, kind and place."""
    pieces, drawing = pieces_of(problem), task.drawing
    for view in drawing.views:
        marks = landmarks_of(view, pieces, settings.wording)
        for line in numbered_lines(drawing, task.chosen)[view.view.name]:
            kind = LineKind.HIDDEN if line.sort == "hidden" else LineKind.VISIBLE
            yield settings.wording.render("missing.row", number=line.number, view=drawing.name(view.view.name, settings),
                                          line=line_words(line.shape, kind, view, marks, settings))


def answer_pages(problem: Problem, settings: Settings, task: Task, particulars: Particulars) -> tuple[Page, ...]:
    """Draw the answer sheet. Raises: RefusedError if the words have no room."""
    scale = task.drawing.layout.scale_name
    return (page_of(problem, settings, Role.ANSWER, scale, particulars, [*whole(problem, settings, task), *task.beside]),)


def marking_sheet(problem: Problem, settings: Settings, task: Task, particulars: Particulars) -> tuple[Page, ...]:
    """The scheme of the lines, beside the views where there is room, else on a page before them. Raises: MarkingError if it has
    none."""
    drawing, scale = task.drawing, task.drawing.layout.scale_name
    scheme = scheme_by_lines(drawing, particulars.marking or usual_marking(), numbered_lines(drawing, task.chosen))
    sheet = GivenSheet(problem, settings, drawing, scheme, NOTHING_LIKELY)
    x0, _, _, y1 = sheet.room
    over = y1 - sheet.block[3] - INSET
    views = [*drawing.marks, *task.numbers]
    taken = taken_by(views, settings).with_boxes([view.box for view in drawing.views])
    tables = [table for height in ROWS for width in WIDTHS[::-1] if (table := sheet.table(width, height, over))]
    if not tables:
        raise sheet.fault("the scheme")
    for table in tables:
        place = taken.free_place(table.width, table.breadth, corner_of(drawing), MARGINS[-1])
        if place:
            beside = moved(table.marks, place[0], place[1] + table.breadth)
            return (page_of(problem, settings, Role.MARKING, scale, particulars, [*views, *beside]),)
    pages = (moved(tables[0].marks, x0, y1), views)
    return tuple(page_of(problem, settings, Role.MARKING, scale, particulars, marks) for marks in pages)


def overlays(problem: Problem, settings: Settings, task: Task, particulars: Particulars) -> tuple[Page, ...]:
    """Each whole view on film."""
    return overlay_pages(problem, settings, task.drawing, particulars)
