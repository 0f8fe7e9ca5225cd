"""Where the sentences of a construction stand: at one place on all its pages, clear of all drawing. Sheet millimetres."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import product
from typing import Protocol

from sheetgen.exercises.beside import taken_by
from sheetgen.ink import Face, LetteringError, Mark
from sheetgen.sheet import Settings
from sheetgen.sheet.free import Taken, outlines_of, taken_of
from sheetgen.sheet.textblock import PITCH, TextBlock, block_of
from sheetgen.sheet.titleblock_ink import titleblock_box

LETTERINGS = (
    *product((3.5,), (110.0, 90.0, 75.0)), *product((2.5,), (100.0, 80.0, 66.0)), (3.5, 60.0),
    *product((2.5,), (130.0, 160.0, 200.0, 54.0, 44.0)))
"""mm: lettering of the sentences and their width, as they are tried in turn."""

SMALL = tuple(product((1.8,), (80.0, 120.0, 160.0, 200.0, 60.0, 44.0)))
"""The same where there is no other room (the smallest of ISO 3098-0:1997, from memory)."""

MARGINS = (6.0, 3.0)
"""mm kept clear round them, as they are tried in turn."""

LIST_HEIGHT, LIST_COLUMNS, LIST_GAP = 3.5, 2, 12.0
"""mm of the lettering, columns, and mm round these, where the sentences have pages to themselves."""


class Told(Protocol):
    """A stage, as far as its words go."""

    @property
    def heading(self) -> str:
        """What it does."""

    @property
    def sentences(self) -> tuple[str, ...]:
        """How that is done."""


def placed_texts(
    stages: Sequence[Told], drawings: Sequence[Sequence[Mark]], settings: Settings
) -> tuple[list[list[Mark]], list[list[Mark]]]:
    """The sentences of each stage as marks beside its drawing, at one place for all; or, where there is none, the first, the last
    and those between at a place for each, or every one at its own; or none, and then pages with all the sentences and no
    drawing."""
    count = len(stages)
    runs = (range(count),), (range(1), range(1, count - 1), range(count - 1, count)), tuple(range(k, k + 1) for k in range(count))
    for letterings in (LETTERINGS, SMALL):
        for ways in runs:
            found = [_placed([stages[k] for k in run], [drawings[k] for k in run], settings, letterings) for run in ways]
            if all(found):
                return [marks for texts in found if texts for marks in texts], []
    return [[] for _ in stages], list(_lists(stages, settings))


def told_in_corner(lines: Sequence[str], drawing: Sequence[Mark], settings: Settings) -> list[Mark]:
    """A few lines as near as can be to the corner of the title block, in the largest lettering that finds room."""
    paper = settings.paper
    taken = taken_of(paper.frame, (paper.x1, paper.y0, paper.x1, paper.y0), outlines_of(drawing))
    for height, width in product((3.5, 2.5, 1.8), (180.0, 90.0, 60.0)):
        block = block_of(lines, width, height)
        place = taken.free_place(block.width, block.breadth, (paper.x1, paper.y0), MARGINS[-1])
        if place is not None:
            return block.marks(place[0], place[1] + block.breadth)
    return []


def _placed(
    stages: Sequence[Told], drawings: Sequence[Sequence[Mark]], settings: Settings, letterings: Sequence[tuple[float, float]]
) -> list[list[Mark]] | None:
    """The sentences of some stages at one place; None if there is none."""
    taken = taken_by([mark for marks in drawings for mark in marks], settings)
    for height, width in letterings:
        try:
            blocks = [block_of(_said(stage), width, height) for stage in stages]
        except LetteringError:
            continue                                        # a word of theirs is longer than such a line
        place = _room(taken, max(block.width for block in blocks), max(block.breadth for block in blocks))
        if place is not None:
            return [block.marks(*place) for block in blocks]
    return None


def _room(taken: Taken, width: float, breadth: float) -> tuple[float, float] | None:
    """The upper left corner of free room of that size."""
    for margin in MARGINS:
        place = taken.free_place(width, breadth, (taken.area[0], taken.area[1]), margin)
        if place is not None:
            return place[0], place[1] + breadth
    return None


def _said(stage: Told) -> list[str]:
    """Heading and sentences, line by line."""
    return [stage.heading, "", *stage.sentences]


def _lists(stages: Sequence[Told], settings: Settings) -> Iterator[list[Mark]]:
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
