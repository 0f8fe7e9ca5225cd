"""The sheets of the kind ``mistakes``: the part with the task, the drawing with mistakes, the right one, what each is worth."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

import numpy as np

from sheetgen.exercises.column import WIDTH
from sheetgen.exercises.drawing import INSET
from sheetgen.exercises.hints import plain_hint_pages
from sheetgen.exercises.kinds.mistakes.planted import OF_LINES, OF_SIZES, OF_VIEWS
from sheetgen.exercises.kinds.mistakes.task import ROW, Task, listed
from sheetgen.exercises.kinds.mistakes.telling import where
from sheetgen.exercises.marking.record import marks_text, usual_marking
from sheetgen.exercises.marking.shares import shared
from sheetgen.exercises.page import page_of, two_sheets
from sheetgen.exercises.roles import Particulars, Role
from sheetgen.ink import Mark, Page, Pen, Stroke, Text
from sheetgen.problem import Problem
from sheetgen.sheet import Settings
from sheetgen.sheet.textblock import block_of

FIRST, NUMBER = 10.0, 3.5
"""mm from the text down to the first row; height of the numbers of rows."""

WIDEST = 260.0
"""mm: of the text of a marking sheet."""


def question_pages(problem: Problem, settings: Settings, task: Task, particulars: Particulars) -> tuple[Page, ...]:
    """The part with its sizes and what is to be done, and the drawing with mistakes."""
    scale, made = task.drawing.layout.scale_name, task.made.drawing
    given = [*task.picture.marks, *_rows(task)]
    first, second = two_sheets(particulars)
    return (page_of(problem, settings, Role.QUESTION, scale, first, given, task.column.marks),
            page_of(problem, settings, Role.QUESTION, scale, second, [*made.marks, *task.heading]))


def answer_pages(problem: Problem, settings: Settings, task: Task, particulars: Particulars) -> tuple[Page, ...]:
    """The right drawing, with numbers where the mistakes were, and the list."""
    return (page_of(problem, settings, Role.ANSWER, task.drawing.layout.scale_name, particulars, task.told),)


def marking_sheet(problem: Problem, settings: Settings, task: Task, particulars: Particulars) -> tuple[Page, ...]:
    """The drawing with mistakes, numbered, and what each is worth; the marks add up to those of the item. Where both have no room
    on one page, the marks have one of their own."""
    say, paper, scale = settings.wording.render, settings.paper, task.drawing.layout.scale_name
    halves = (particulars.marking or usual_marking()).halves
    rows = [say("mistakes.worth", row=row, marks=marks_text(part)) for row, part in zip(
        task.sentences, shared(halves, [1.0] * len(task.sentences)), strict=True)]
    lines = [say("marking.heading", marks=marks_text(halves)), *rows, "", f"{say('mistakes.award')} {say('mistakes.deduct')}"]
    told = listed(lines, task.ringed, task.made.drawing, settings)
    if told is not None:
        return (page_of(problem, settings, Role.MARKING, scale, particulars, [*task.ringed, *told]),)
    block = block_of(lines, min(WIDEST, paper.x1 - paper.x0 - 2 * INSET), NUMBER)
    alone = block.marks(paper.x0 + INSET, paper.y1 - INSET - 2.0)
    return (page_of(problem, settings, Role.MARKING, scale, particulars, task.ringed),
            page_of(problem, settings, Role.MARKING, scale, particulars, (), alone))


def hint_sheet(problem: Problem, settings: Settings, task: Task, particulars: Particulars) -> tuple[Page, ...]:
    """How to look, and how many mistakes there are of lines, of sizes, of views; where; and one of them."""
    say, mistakes = settings.wording.render, task.mistakes
    counts = {what: str(sum(each.sort in sorts for each in mistakes)) for what, sorts in (
        ("of_lines", OF_LINES), ("of_sizes", OF_SIZES), ("of_views", OF_VIEWS))}
    views = {task.drawing.name(name, settings): 0 for name in task.drawing.layout.places}
    found = {**views, **Counter(where(settings, task.drawing, each) for each in mistakes)}
    places = [say("mistakes.in_view", view=view, count=count) for view, count in found.items()]
    lines = f"{say('mistakes.how_lines')} {say('mistakes.how_edges')}"
    look = (lines, say("mistakes.how_sizes"), say("mistakes.counts", **counts))
    return plain_hint_pages(problem, settings, (look, places, (say("mistakes.one", row=task.sentences[0]),)), particulars)


def _rows(task: Task) -> Iterator[Mark]:
    """Numbered rows under the text, to be filled in."""
    if not task.rows:
        return
    column = task.column
    last = min(mark.at[1] for mark in column.marks if isinstance(mark, Text))
    left = column.paper.x1 - INSET - WIDTH
    for k in range(task.rows):
        y = last - FIRST - k * ROW
        yield Text(str(k + 1), (left, y + 1.0), NUMBER)
        yield Stroke(np.array([(left + 6.0, y), (left + WIDTH, y)]), Pen.TABLE)
