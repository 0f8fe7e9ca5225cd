"""The sheets of the kind ``faces``: pictorial and views with a table, empty on the question, filled in on the answer."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from sheetgen.exercises.drawing import INSET
from sheetgen.exercises.hints import plain_hint_pages
from sheetgen.exercises.kinds.faces.chosen import NUMBER
from sheetgen.exercises.kinds.faces.task import Task
from sheetgen.exercises.marking.record import marks_text, usual_marking
from sheetgen.exercises.marking.shares import shared
from sheetgen.exercises.page import page_of
from sheetgen.exercises.roles import Particulars, Role
from sheetgen.ink import Face, LetteringError, Mark, Page, Pen, Stroke, Text, wrapped
from sheetgen.problem import Problem
from sheetgen.refusals import Reason, RefusedError
from sheetgen.sheet import Settings
from sheetgen.sheet.textblock import block_of
from sheetgen.sheet.titleblock_ink import titleblock_box

TEXT_HEIGHTS = (3.5, 2.5)
"""mm, of the lettering of the task, the lower where the higher has no room."""

HEADING, ROW, NARROW_ROW = 2.5, 8.0, 6.5
"""mm: height of the letters in the table's head; of its rows, the lower where the higher have no room."""

SHARES = (0.16, 0.12)
"""Of the table's width: the column of letters, and that of marks."""

PITCH = 1.5
"""Base lines apart in the table's head, in heights of capitals."""


def question_pages(problem: Problem, settings: Settings, task: Task, particulars: Particulars) -> tuple[Page, ...]:
    """Draw the question sheet. Raises: RefusedError if text and table have no room."""
    return (_page(problem, settings, Role.QUESTION, task, particulars, ()),)


def answer_pages(problem: Problem, settings: Settings, task: Task, particulars: Particulars) -> tuple[Page, ...]:
    """Draw the answer sheet."""
    return (_page(problem, settings, Role.ANSWER, task, particulars, ()),)


def marking_sheet(problem: Problem, settings: Settings, task: Task, particulars: Particulars) -> tuple[Page, ...]:
    """The answer with the marks of each row; they add up to those of the item (a mark a cell is common practice, no source)."""
    halves = (particulars.marking or usual_marking()).halves
    return (_page(problem, settings, Role.MARKING, task, particulars, shared(halves, [1.0] * len(task.chosen.faces))),)


def hint_sheet(problem: Problem, settings: Settings, task: Task, particulars: Particulars) -> tuple[Page, ...]:
    """How to look, and of two faces in which view they have which number."""
    say = settings.wording.render
    told = [say("faces.one", face=face.letter, view=say(f"views.{task.views[k]}"), number=face.row[k])
            for face in task.chosen.faces[:2] for k in [next(k for k, number in enumerate(face.row) if number)]]
    look = (say("faces.look_flat"), say("faces.look_edge"))
    return plain_hint_pages(problem, settings, (look, *((each,) for each in told)), particulars)


def _page(
    problem: Problem, settings: Settings, role: Role, task: Task, particulars: Particulars, halves: Sequence[int]
) -> Page:
    paper, block = settings.paper, titleblock_box(settings.block, settings.paper)
    left, top = paper.x1 - INSET - task.width, paper.y1 - INSET - 2.0
    for height in TEXT_HEIGHTS:
        text = block_of(_lines(settings, task, halves), task.width, height)
        for row in (ROW, NARROW_ROW):
            table = _table(settings, task, halves, row, left, top - text.breadth - 6.0, filled=role is not Role.QUESTION)
            if min(float(mark.points[:, 1].min()) for mark in table if isinstance(mark, Stroke)) >= block[3] + 4.0:
                beside = [*text.marks(left, top), *table]
                return page_of(problem, settings, role, task.scale_name, particulars, [*task.marks, *beside])
    raise RefusedError([Reason("no room for the table of faces above the title block")])


def _lines(settings: Settings, task: Task, halves: Sequence[int]) -> list[str]:
    """What is to be done; for the marker first what it is worth."""
    say, faces = settings.wording.render, task.chosen.faces
    lines = [say("marking.heading", marks=marks_text(sum(halves))), say("faces.award"), ""] if halves else []
    scale = say("scale.full", scale=task.scale_name) if task.scale_name == "1:1" else say("scale.reduced", scale=task.scale_name)
    lines += [say("faces.task"),
              say("faces.arrow", arrow=say("letters.arrow_front")),
              say("faces.given", scale=scale, projection=say(f"projection.{settings.projection}")),
              say("faces.leaders", dots="yes" if task.chosen.dots else "no"),
              say("faces.edge_on"), say("faces.area")]
    if any(number is None for face in faces for number in face.row):
        lines.append(say("faces.unseen"))
    return lines


def _table(
    settings: Settings, task: Task, halves: Sequence[int], row: float, left: float, top: float, *, filled: bool
) -> list[Mark]:
    """The table with its upper left corner there; ``halves``: marks of each row, if they are told."""
    say = settings.wording.render
    last = SHARES[1] if halves else 0.0
    middle = (1.0 - SHARES[0] - last) / len(task.views)
    shares = [SHARES[0], *[middle] * len(task.views), *([last] if halves else [])]
    edges = left + np.cumsum([0.0, *shares]) * task.width
    heads = [say("faces.face"), *(say(f"views.{view}") for view in task.views), *([say("marking.marks")] if halves else [])]
    wrapped_heads, face = _in_cells(heads, [float(wide) - 2.0 for wide in np.diff(edges)])
    head = HEADING * PITCH * max(map(len, wrapped_heads)) + 3.0
    levels = [top, *(top - head - row * k for k in range(len(task.chosen.faces) + 1))]
    marks: list[Mark] = [Stroke(np.array([(edges[0], y), (edges[-1], y)]), Pen.TABLE) for y in levels[1:-1]]
    marks += [Stroke(np.array([(x, levels[0]), (x, levels[-1])]), Pen.TABLE) for x in edges[1:-1]]
    corners = [(edges[0], levels[0]), (edges[-1], levels[0]), (edges[-1], levels[-1]), (edges[0], levels[-1])]
    marks.append(Stroke(np.array(corners), Pen.GRID, closed=True))
    middles = ((edges[:-1] + edges[1:]) / 2).tolist()
    for x, words in zip(middles, wrapped_heads, strict=True):
        base = top - head / 2 + HEADING * (PITCH * (len(words) - 1) - 1) / 2
        marks += [Text(line, (x, base - k * PITCH * HEADING), HEADING, anchor="middle", face=face)
                  for k, line in enumerate(words)]
    for k, asked in enumerate(task.chosen.faces):
        numbers = [str(number) if number else say("faces.none") for number in asked.row] if filled else []
        cells = [asked.letter, *numbers, *([marks_text(halves[k])] if halves else [])]
        base = levels[k + 1] - (row + NUMBER) / 2
        marks += [Text(text, (x, base), NUMBER, anchor="middle") for x, text in zip(middles, cells, strict=False)]
    return marks


def _in_cells(heads: Sequence[str], widths: Sequence[float]) -> tuple[list[list[str]], Face]:
    """The headings as lines of their cells, and the face in which each word has room. Raises: LetteringError if none is so
    narrow."""
    try:
        return [wrapped(words, wide, HEADING) for words, wide in zip(heads, widths, strict=True)], Face.REGULAR
    except LetteringError:
        return [wrapped(words, wide, HEADING, Face.NARROW) for words, wide in zip(heads, widths, strict=True)], Face.NARROW
