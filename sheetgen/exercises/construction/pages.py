"""The pages of a construction: one for each stage, with the sentences at one place; and the answer with all its projectors."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from functools import partial

from sheetgen.exercises.construction.record import Dressed, Part, Stage
from sheetgen.exercises.construction.stages import paths, stages_of
from sheetgen.exercises.construction.texts import placed_texts, told_in_corner
from sheetgen.exercises.construction.thin import clear_of_lines, clear_of_texts, enters
from sheetgen.exercises.drawing import Drawing
from sheetgen.exercises.page import bare_page_of, page_of
from sheetgen.exercises.roles import Particulars, Role
from sheetgen.ink import EARLIER, Mark, Page, Pen, Stroke
from sheetgen.problem import Problem
from sheetgen.sheet import Settings
from sheetgen.sheet.titleblock_ink import titleblock_box

KEPT = {
    Part.BOXES: (Part.PLANE, Part.VIEW, Part.MITRE), Part.MITRE: (Part.VIEW, Part.HIDDEN, Part.CURVES)}
"""Stages whose thin lines stand on the pages of these too. Of projectors a page has those that serve it: with all those before it
nobody could tell which they are."""


def construction_pages(
    problem: Problem, settings: Settings, drawing: Drawing, particulars: Particulars, asked: str = "",
    dressed: Sequence[Dressed] = (),
) -> tuple[Page, ...]:
    """A page for each stage. New lines have the answer's pens, those before the next narrower group, thin lines 0.13; the last
    page has the answer's pens throughout and no thin lines. If the sentences find no room beside the drawing, they stand on a
    page of their own, which goes before. ``asked``: the view that is built where the others are given; then each page has new
    lines; ``dressed``: what the drawing's dressing draws. It never refuses."""
    stages = stages_of(problem, settings, drawing, asked, dressed)
    given = drawing.marks_with([view for view in drawing.views if view.view.name != asked]) if asked else ()
    drawings = [[*thin, *_lines_of(stages, number, given)]
                for number, thin in enumerate(thin_lines(stages, given, finished=not asked))]
    if not asked:
        drawings[-1] = list(drawing.marks)
    texts, alone = placed_texts(stages, drawings, settings)

    page = partial(_page, problem, settings, Role.CONSTRUCTION, drawing.layout.scale_name, particulars)
    return (*(page(marks) for marks in alone), *(page([*marks, *text]) for marks, text in zip(drawings, texts, strict=True)))


def projector_pages(
    problem: Problem, settings: Settings, drawing: Drawing, particulars: Particulars, asked: str = ""
) -> tuple[Page, ...]:
    """The finished answer with all projectors, constructed points and the mitre line."""
    stages = stages_of(problem, settings, drawing, asked)
    thin = [mark for stage in stages if stage.part is not Part.BOXES for mark in stage.construction]
    marks = [*clear_of_texts(clear_of_lines(thin, drawing.marks), drawing.marks), *drawing.marks]
    return (_page(problem, settings, Role.PROJECTORS, drawing.layout.scale_name, particulars, marks),)


def _page(
    problem: Problem, settings: Settings, role: Role, scale: str, particulars: Particulars, marks: Sequence[Mark]
) -> Page:
    """A page with its title block or, where depths turn in the block's place, with a line that tells what it would."""
    block = titleblock_box(settings.block, settings.paper)
    thin = [mark for mark in marks if isinstance(mark, Stroke) and mark.pen is Pen.CONSTRUCTION]
    if not enters(thin, block):
        return page_of(problem, settings, role, scale, particulars, marks)
    say = settings.wording.render
    lines = [say("construction.sheet", title=problem.title, code=particulars.code, scale=scale), say("notice")]
    return bare_page_of(settings, [*marks, *told_in_corner(lines, marks, settings)])


def thin_lines(stages: Sequence[Stage], given: Sequence[Mark] = (), *, finished: bool = True) -> list[list[Stroke]]:
    """The thin lines that are shown with each stage: its own, and those of stages before that serve it, clear of its lines and of
    what is ``given``; none with the last if that is the ``finished`` answer."""
    found, kept = list[list[Stroke]](), dict[Part, tuple[Stroke, ...]]()
    for number, stage in enumerate(stages[:-1] if finished else stages):
        if stage.part is Part.HIDDEN:
            kept.pop(Part.BOXES, None)                      # what is left of them is rubbed out
        served = [mark for part, marks in kept.items() if stage.part in KEPT[part] for mark in marks]
        lines = _lines_of(stages, number, given)
        thin = clear_of_lines([*served, *paths(stage.again), *stage.construction], lines)
        found.append(clear_of_texts(thin, lines))
        if stage.part in KEPT:
            kept[stage.part] = stage.construction
    return [*found, []] if finished else found


def _lines_of(stages: Sequence[Stage], number: int, given: Sequence[Mark]) -> list[Mark]:
    """The lines on a stage's page: what is given and those before it in the narrower pens, then its own."""
    before = *given, *(mark for stage in stages[:number] for mark in stage.new)
    return [*earlier(before), *stages[number].new]


def earlier(marks: Iterable[Mark]) -> list[Mark]:
    """What stood there before a stage, its lines in the narrower pens."""
    return [replace(mark, pen=EARLIER.get(mark.pen, mark.pen)) if isinstance(mark, Stroke) else mark for mark in marks]
