"""The sheets of the kind ``match``: what is asked, the same filled in, what it is worth, and hints."""

from __future__ import annotations

from collections.abc import Sequence

from sheetgen.exercises.hints import plain_hint_pages
from sheetgen.exercises.kinds.match.sheet import GIVEN, Asked, blank, ring
from sheetgen.exercises.marking.record import marks_text, usual_marking
from sheetgen.exercises.marking.shares import shared
from sheetgen.exercises.page import page_of
from sheetgen.exercises.roles import Particulars, Role
from sheetgen.ink import Mark, Page, Text
from sheetgen.problem import Problem
from sheetgen.sheet import Settings
from sheetgen.sheet.textblock import TextBlock, block_of

LINE = 14.0
"""mm: length of the line for an answer."""

HEIGHTS, OVER = (3.5, 2.5), 3.0
"""mm: heights of the lettering of reasons, the lower where the higher has no room; and what is kept free under them."""

BEFORE = 11.0
"""mm from the middle of that line back to where what it is for ends."""


def question_pages(problem: Problem, settings: Settings, task: Asked, particulars: Particulars) -> tuple[Page, ...]:
    """Draw the question sheet."""
    return (_page(problem, settings, Role.QUESTION, task, particulars, ()),)


def answer_pages(problem: Problem, settings: Settings, task: Asked, particulars: Particulars) -> tuple[Page, ...]:
    """The question filled in, with the reasons."""
    return (_page(problem, settings, Role.ANSWER, task, particulars, task.reasons),)


def marking_sheet(problem: Problem, settings: Settings, task: Asked, particulars: Particulars) -> tuple[Page, ...]:
    """The answer with what each part of it is worth; the marks add up to those of the item."""
    say, halves = settings.wording.render, (particulars.marking or usual_marking()).halves
    parts = shared(halves, [1.0] * len(task.slots))
    worth = [say("match.worth", name=slot.name, right=slot.right, marks=marks_text(part))
             for slot, part in zip(task.slots, parts, strict=True)]
    lines = [say("marking.heading", marks=marks_text(halves)), *worth]
    return (_page(problem, settings, Role.MARKING, task, particulars, lines),)


def hint_sheet(problem: Problem, settings: Settings, task: Asked, particulars: Particulars) -> tuple[Page, ...]:
    """How to look, and two that are told."""
    return plain_hint_pages(problem, settings, (task.first_hint, *task.further), particulars)


def _page(
    problem: Problem, settings: Settings, role: Role, task: Asked, particulars: Particulars, lines: Sequence[str]
) -> Page:
    marks: list[Mark] = []
    for slot in task.slots:
        marks += [Text(slot.name, (slot.at[0] - BEFORE, slot.at[1]), GIVEN, anchor="end"), blank(slot, LINE)]
        if role is not Role.QUESTION:
            marks.append(Text(slot.right, slot.at, GIVEN, anchor="middle"))
    if role is not Role.QUESTION:
        marks += [ring(at) for at in task.rings]
    below = _below(task, lines).marks(*task.below) if lines else []
    return page_of(problem, settings, role, task.scale_name, particulars, [*task.drawing, *marks, *task.text, *below])


def _below(task: Asked, lines: Sequence[str]) -> TextBlock:
    """Lines under the text, in the largest lettering that has room."""
    blocks = [block_of(lines, task.width, height) for height in HEIGHTS]
    return next((block for block in blocks if task.below[1] - block.breadth >= task.floor + OVER), blocks[-1])
