"""The pages of a construction: one for each stage, with the sentences at one place; and the answer with all its projectors."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import product

import numpy as np

from sheetgen.exercises.beside import taken_by
from sheetgen.exercises.construction.record import Part, Stage
from sheetgen.exercises.construction.stages import paths, stages_of
from sheetgen.exercises.drawing import Drawing
from sheetgen.exercises.page import page_of
from sheetgen.exercises.roles import Particulars, Role
from sheetgen.geometry import Array
from sheetgen.geometry.intervals import joined, longer, minus
from sheetgen.ink import CHAINS, DASHED, EARLIER, Face, LetteringError, Mark, Page, Pen, Stroke, Text, text_box
from sheetgen.problem import Problem
from sheetgen.sheet import Settings
from sheetgen.sheet.free import Taken
from sheetgen.sheet.textblock import PITCH, TextBlock, block_of
from sheetgen.sheet.titleblock_ink import titleblock_box

LETTERINGS = (
    *product((3.5,), (110.0, 90.0, 75.0)), *product((2.5,), (100.0, 80.0, 66.0)), (3.5, 60.0), *product((2.5,), (54.0, 44.0)),
    *product((1.8,), (80.0, 60.0, 44.0, 36.0)))
"""mm: lettering of the sentences and their width, as they are tried in turn."""

MARGINS = (6.0, 3.0)
"""mm kept clear round them, as they are tried in turn."""

LIST_HEIGHT, LIST_COLUMNS, LIST_GAP = 3.5, 2, 12.0
"""mm of the lettering, columns, and mm round these, where the sentences have a page to themselves."""

KEPT = {
    Part.BOXES: (Part.VIEW, Part.MITRE), Part.MITRE: (Part.VIEW, Part.HIDDEN, Part.CURVES)}
"""Stages whose thin lines stand on the pages of these too. Of projectors a page has those that serve it: with all those before it
nobody could tell which they are."""

BESIDE = 0.4
"""mm on paper: a thin line no farther from a dashed or a chain line would fill its gaps, and is left out along it."""

CLEAR = 1.0
"""mm kept clear round figures and names where a projector passes them."""

LEAST = 1.0
"""mm: shorter leftovers of a projector are not drawn."""


def construction_pages(problem: Problem, settings: Settings, drawing: Drawing, particulars: Particulars) -> tuple[Page, ...]:
    """A page for each stage. New lines have the answer's pens, those before the next narrower group, thin lines 0.13; the last page
    has the answer's pens throughout and no thin lines. If the sentences find no room beside the drawing on all pages, they stand
    on a page of their own, which goes before. It never refuses."""
    stages, scale = stages_of(problem, settings, drawing), drawing.layout.scale_name
    drawings = list(_drawings(stages, drawing))
    every = [mark for marks in drawings for mark in marks]
    blocks, place = _placed(stages, taken_by(every, settings))
    texts = [block.marks(place[0], place[1] + largest.breadth) for block, largest in blocks] if place else [[] for _ in stages]

    def page(marks: Sequence[Mark], text: Sequence[Mark]) -> Page:
        return page_of(problem, settings, Role.CONSTRUCTION, scale, particulars, [*marks, *text])

    own = [page((), marks) for marks in (_lists(stages, settings) if place is None else ())]
    return (*own, *(page(marks, text) for marks, text in zip(drawings, texts, strict=True)))


def projector_pages(problem: Problem, settings: Settings, drawing: Drawing, particulars: Particulars) -> tuple[Page, ...]:
    """The finished answer with all projectors, constructed points and the mitre line."""
    thin = [mark for stage in stages_of(problem, settings, drawing) if stage.part is not Part.BOXES for mark in stage.construction]
    marks = [*_clear_of_texts(_clear_of_gaps(thin, drawing.marks), drawing.marks), *drawing.marks]
    return (page_of(problem, settings, Role.PROJECTORS, drawing.layout.scale_name, particulars, marks),)


def _drawings(stages: Sequence[Stage], drawing: Drawing) -> Iterator[list[Mark]]:
    """What is drawn on each page: thin lines first, then what was there before, then what is new."""
    before, kept = list[Mark](), dict[Part, tuple[Stroke, ...]]()
    for stage in stages[:-1]:
        lines = [*(_earlier(mark) for mark in before), *stage.new]
        served = [mark for part, marks in kept.items() if stage.part in KEPT[part] for mark in marks]
        yield [*_clear_of_gaps([*served, *paths(stage.again), *stage.construction], lines), *lines]
        before += stage.new
        if stage.part in KEPT:
            kept[stage.part] = stage.construction
    yield list(drawing.marks)


def _earlier(mark: Mark) -> Mark:
    return replace(mark, pen=EARLIER.get(mark.pen, mark.pen)) if isinstance(mark, Stroke) else mark


def _placed(
    stages: Sequence[Stage], taken: Taken
) -> tuple[list[tuple[TextBlock, TextBlock]], tuple[float, float] | None]:
    """The sentences of each stage as a block, with the largest of them, and the lower left corner of the room that holds any of
    them; None if none does."""
    towards = (taken.area[0], taken.area[1])
    for height, width in LETTERINGS:
        try:
            blocks = [block_of(_said(stage), width, height) for stage in stages]
        except LetteringError:
            continue                                        # a word of theirs is longer than such a line
        largest = max(blocks, key=lambda block: block.breadth)
        wide = max(block.width for block in blocks)
        for margin in MARGINS:
            place = taken.free_place(wide, largest.breadth, towards, margin)
            if place is not None:
                return [(block, largest) for block in blocks], place
    return [], None


def _said(stage: Stage) -> list[str]:
    """Heading and sentences, line by line."""
    return [stage.heading, "", *stage.sentences]


def _lists(stages: Sequence[Stage], settings: Settings) -> Iterator[list[Mark]]:
    """The sentences of all stages on pages of their own, in columns."""
    paper = settings.paper
    width = (paper.x1 - paper.x0 - (LIST_COLUMNS + 1) * LIST_GAP) / LIST_COLUMNS
    top, foot = paper.y1 - LIST_GAP, titleblock_box(settings.block, paper)[3] + LIST_GAP
    rows = int((top - foot) / (LIST_HEIGHT * PITCH))
    lines = [line for stage in stages for line in (*block_of(_said(stage), width, LIST_HEIGHT).lines, "", "")]
    columns = [lines[first:first + rows] for first in range(0, len(lines), rows)]
    for first in range(0, len(columns), LIST_COLUMNS):
        blocks = [TextBlock(tuple(column), LIST_HEIGHT, Face.REGULAR) for column in columns[first:first + LIST_COLUMNS]]
        yield [mark for k, block in enumerate(blocks) for mark in block.marks(paper.x0 + LIST_GAP + k * (width + LIST_GAP), top)]


def _clear_of_gaps(thin: Iterable[Stroke], lines: Iterable[Mark]) -> list[Mark]:
    """Thin lines, but for where they would fill the gaps of dashed and chain lines that run along them."""
    rows = [mark.points for mark in lines
            if isinstance(mark, Stroke) and not mark.curved and mark.pen in (*DASHED, *CHAINS) and len(mark.points) == 2]
    broken = np.array(rows).reshape(-1, 2, 2)
    found: list[Mark] = []
    for stroke in thin:
        for start, stop in _legs(stroke):
            found += _pieces(start, stop, _along(start, stop, broken))
    return found


def _clear_of_texts(thin: Iterable[Mark], marks: Iterable[Mark]) -> list[Mark]:
    """Straight lines, broken where they would pass through figures and names."""
    boxes = [text_box(mark, CLEAR) for mark in marks if isinstance(mark, Text)]
    found: list[Mark] = []
    for stroke in thin:
        assert isinstance(stroke, Stroke)
        start, stop = stroke.points
        found += _pieces(start, stop, [span for box in boxes if (span := _within(start, stop, box))])
    return found


def _legs(stroke: Stroke) -> Iterator[tuple[Array, Array]]:
    yield from zip(stroke.points[:-1], stroke.points[1:], strict=True)


def _pieces(start: Array, stop: Array, taken: Iterable[tuple[float, float]]) -> list[Mark]:
    length = float(np.hypot(*(stop - start)))
    unit = (stop - start) / length
    left = longer(minus([(0.0, length)], joined(taken, 0.0)), min(LEAST, length / 2))
    return [Stroke(np.stack([start + a * unit, start + b * unit]), Pen.CONSTRUCTION) for a, b in left]


def _along(start: Array, stop: Array, lines: Array) -> list[tuple[float, float]]:
    """Where lines (n, 2, 2) run along a leg, mm from its start."""
    unit = (stop - start) / np.hypot(*(stop - start))
    away = lines - start
    off = np.abs(away[..., 0] * unit[1] - away[..., 1] * unit[0]).max(axis=1)
    at = np.sort(away @ unit, axis=1)[off < BESIDE]
    return [(low, high) for low, high in at.tolist()]


def _within(start: Array, stop: Array, box: Array) -> tuple[float, float] | None:
    """Where a leg runs within a box (4, 2), a rectangle that may be turned, mm from its start."""
    length = float(np.hypot(*(stop - start)))
    unit, low, high = (stop - start) / length, 0.0, length
    for corner, following in zip(box, np.roll(box, -1, axis=0), strict=True):
        side = following - corner
        inward = np.array([-side[1], side[0]])
        if float(inward @ (box.mean(axis=0) - corner)) < 0:
            inward = -inward
        rate, begins = float(inward @ unit), float(inward @ (start - corner))
        if abs(rate) < 1e-9:
            if begins < 0:
                return None
        elif rate > 0:
            low = max(low, -begins / rate)
        else:
            high = min(high, -begins / rate)
    return (low, high) if high > low else None
