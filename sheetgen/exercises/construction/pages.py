"""The pages of a construction: one for each stage, with the sentences at one place; and the answer with all its projectors."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from sheetgen.exercises.construction.record import Part, Stage
from sheetgen.exercises.construction.stages import paths, stages_of
from sheetgen.exercises.construction.texts import placed_texts
from sheetgen.exercises.construction.thin import clear_of_gaps, clear_of_texts
from sheetgen.exercises.drawing import Drawing
from sheetgen.exercises.page import page_of
from sheetgen.exercises.roles import Particulars, Role
from sheetgen.ink import EARLIER, Mark, Page, Stroke
from sheetgen.problem import Problem
from sheetgen.sheet import Settings

KEPT = {
    Part.BOXES: (Part.VIEW, Part.MITRE), Part.MITRE: (Part.VIEW, Part.HIDDEN, Part.CURVES)}
"""Stages whose thin lines stand on the pages of these too. Of projectors a page has those that serve it: with all those before it
nobody could tell which they are."""


def construction_pages(problem: Problem, settings: Settings, drawing: Drawing, particulars: Particulars) -> tuple[Page, ...]:
    """A page for each stage. New lines have the answer's pens, those before the next narrower group, thin lines 0.13; the last
    page has the answer's pens throughout and no thin lines. If the sentences find no room beside the drawing, they stand on a
    page of their own, which goes before. It never refuses."""
    stages, scale = stages_of(problem, settings, drawing), drawing.layout.scale_name
    drawings = list(_drawings(stages, drawing))
    texts, alone = placed_texts(stages, drawings, settings)

    def page(marks: Sequence[Mark], text: Sequence[Mark]) -> Page:
        return page_of(problem, settings, Role.CONSTRUCTION, scale, particulars, [*marks, *text])

    return (*(page((), marks) for marks in alone), *(page(marks, text) for marks, text in zip(drawings, texts, strict=True)))


def projector_pages(problem: Problem, settings: Settings, drawing: Drawing, particulars: Particulars) -> tuple[Page, ...]:
    """The finished answer with all projectors, constructed points and the mitre line."""
    stages = stages_of(problem, settings, drawing)
    thin = [mark for stage in stages if stage.part is not Part.BOXES for mark in stage.construction]
    marks = [*clear_of_texts(clear_of_gaps(thin, drawing.marks), drawing.marks), *drawing.marks]
    return (page_of(problem, settings, Role.PROJECTORS, drawing.layout.scale_name, particulars, marks),)


def _drawings(stages: Sequence[Stage], drawing: Drawing) -> Iterator[list[Mark]]:
    """What is drawn on each page: thin lines first, then what was there before, then what is new."""
    before, kept = list[Mark](), dict[Part, tuple[Stroke, ...]]()
    for stage in stages[:-1]:
        lines = [*(_earlier(mark) for mark in before), *stage.new]
        served = [mark for part, marks in kept.items() if stage.part in KEPT[part] for mark in marks]
        yield [*clear_of_gaps([*served, *paths(stage.again), *stage.construction], lines), *lines]
        before += stage.new
        if stage.part in KEPT:
            kept[stage.part] = stage.construction
    yield list(drawing.marks)


def _earlier(mark: Mark) -> Mark:
    return replace(mark, pen=EARLIER.get(mark.pen, mark.pen)) if isinstance(mark, Stroke) else mark
