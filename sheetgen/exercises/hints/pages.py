"""The hint sheet: a page to be folded, so that each hint and the self-check show only when they are wanted. Sheet millimetres.

Below the first hint stand the second, the third and the self-check, which takes two panels; all four panels are as high. Folded
up from the foot, print inside, line after line, they lie on one another, and the first hint shows alone. Opening the folds one by
one shows the second hint, then the third, then the self-check: each panel lies on the one before.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from sheetgen.exercises.hints.record import Hints, Length
from sheetgen.exercises.roles import Particulars
from sheetgen.ink import Face, Mark, Page, Pen, Stroke, Text, dashed, fitted, text_width
from sheetgen.measures.measures import number
from sheetgen.problem import Problem
from sheetgen.sheet import PAPERS, Settings
from sheetgen.sheet.paper import Box
from sheetgen.sheet.textblock import TextBlock, block_of
from sheetgen.templating.marking import SORTS

COLUMNS = {"centre": "centre_lines"}
"""Sorts of lines that head a column under another name."""

PANELS = 4
"""Below the first hint: two hints, and the self-check in two."""

SHARE = 0.175
"""Of the paper's height: each of the panels that are folded; the first hint has the rest."""

MARGIN = 15.0
"""mm kept free at the left and right edge of the paper; printers do not reach it, and fingers do."""

OUTER, INNER = 10.0, 5.0
"""mm kept free at the upper and the lower edge of the paper, and at both sides of a fold, which is never quite in its place."""

TITLE, HEADING, SMALL = 5.0, 3.5, 2.5
"""mm, heights of lettering: of the title, of headings, and of what is said of the sheet."""

LETTERS = ((3.5, Face.REGULAR), (2.5, Face.REGULAR), (2.5, Face.NARROW), (1.8, Face.REGULAR), (1.8, Face.NARROW))
"""Lettering of a hint, the first that has room."""

ROWS = (3.5, 2.5, 1.8)
"""mm, heights of lettering of the self-check."""

FOLD = 2.5
"""mm, height of the words at a fold."""

GAP = 3.0
"""mm between heading and text, and between a fold and its words."""

BOX = 1.9
"""Rows apart in the self-check, in heights of capitals: there is room to write between its rules."""


@dataclass(frozen=True)
class _Panel:
    """A part of the page between two folds: from ``top`` down to ``foot``, what is printed from ``left`` to ``right``."""

    left: float
    right: float
    top: float
    foot: float

    @property
    def width(self) -> float:
        """mm."""
        return self.right - self.left


def hint_pages(problem: Problem, settings: Settings, hints: Hints, particulars: Particulars) -> tuple[Page, ...]:
    """The page of a problem's hints: of the height of A4, or of the course's own paper where that is of no A size."""
    width, height = _paper(settings)
    say, fold = settings.wording.render, round(SHARE * height, 1)
    folds = [fold * k for k in range(1, PANELS + 1)]
    first = _Panel(MARGIN, width - MARGIN, height - OUTER, folds[-1] + INNER)
    panels = [_Panel(MARGIN, width - MARGIN, top - INNER, max(top - fold + INNER, OUTER)) for top in reversed(folds)]
    marks, used = _head(problem, settings, particulars, first)
    marks += _hint(say("hints.look"), hints.look, _Panel(first.left, first.right, first.top - used, first.foot))
    marks += _hint(say("hints.begin"), hints.begin, panels[0])
    marks += _hint(say("hints.missed"), hints.missed, panels[1])
    marks += _whole_views(hints, settings, panels[2])
    marks += _lengths(hints, settings, panels[3])
    for y in folds[:-1]:
        marks += _fold(y, width, say("hints.fold"))
    return (Page(width, height, dashed(marks)),)


def _paper(settings: Settings) -> tuple[float, float]:
    """Width and height, upright."""
    paper = PAPERS["A4"] if settings.paper.name in ("A2", "A3", "A4") else settings.paper
    return paper.height, paper.width


def _head(problem: Problem, settings: Settings, particulars: Particulars, panel: _Panel) -> tuple[list[Mark], float]:
    """What the sheet is, whose, and how it is used; and how much of the panel it takes."""
    say = settings.wording.render
    title = say("hints.title", title=problem.title, code=particulars.code)
    text, size, face = fitted(title, panel.width, TITLE)
    marks: list[Mark] = [Text(text, (panel.left, panel.top - TITLE), size, face=face)]
    lines = [particulars.student] if particulars.student else []
    lines += [say("hints.use"), say("hints.sizes")]
    block = block_of(lines, panel.width, SMALL)
    marks += block.marks(panel.left, panel.top - TITLE - GAP)
    y = panel.top - TITLE - GAP - block.breadth - GAP
    marks.append(Stroke(np.array([(panel.left, y), (panel.right, y)]), Pen.TABLE))
    return marks, panel.top - y + GAP


def _hint(heading: str, sentences: Sequence[str], panel: _Panel) -> list[Mark]:
    """A hint with its heading, in the largest lettering in which it has room. Where even the least has none, the last sentences
    are left out, which are the least needed."""
    text, size, face = fitted(heading, panel.width, HEADING)
    marks: list[Mark] = [Text(text, (panel.left, panel.top - HEADING), size, face=face)]
    top = panel.top - HEADING - GAP
    return [*marks, *_filled(sentences, panel.width, top - panel.foot).marks(panel.left, top)]


def _filled(sentences: Sequence[str], width: float, room: float) -> TextBlock:
    """Sentences, each beginning a line, so that they have room."""
    for count in range(len(sentences), 0, -1):
        for height, face in LETTERS:
            block = block_of(sentences[:count], width, height, face)
            if block.breadth <= room:
                return block
    return block_of(sentences[:1], width, *LETTERS[-1])


def _fold(y: float, width: float, words: str) -> list[Mark]:
    """A fold across the page, and the words that say so at its right end."""
    text, size, face = fitted(words, width / 3, FOLD)
    long = text_width(text, size, face)
    line = Stroke(np.array([(OUTER / 2, y), (width - MARGIN - long - GAP, y)]), Pen.HIDDEN)
    rest = Stroke(np.array([(width - MARGIN + GAP, y), (width - OUTER / 2, y)]), Pen.HIDDEN)
    return [line, rest, Text(text, (width - MARGIN, y - size / 2), size, anchor="end", face=face)]


Cell = tuple[str, str]
"""A text, and where it stands in its column: start or middle."""


def _whole_views(hints: Hints, settings: Settings, panel: _Panel) -> list[Mark]:
    """The table of views: their lines by sort, and their overall sizes on the paper."""
    say = settings.wording.render
    shares = (0.30, *(0.10,) * len(SORTS), 0.10, 0.20)
    rows: list[list[Cell]] = [[(say("hints.view"), "start"), *((say(f"hints.{COLUMNS.get(sort, sort)}"), "middle") for sort in SORTS),
                               (say("hints.all"), "middle"), (say("hints.whole"), "middle")]]
    for each in hints.views:
        wide, high = (number(round(size, 1)) for size in each.paper)
        rows.append([(say(f"views.{each.view}"), "start"), *((str(each.counts[sort]), "middle") for sort in SORTS),
                     (str(each.lines), "middle"), (say("hints.size", wide=wide, high=high), "middle")])
    return _table(say("hints.check", scale=hints.scale), rows, shares, panel)


def _lengths(hints: Hints, settings: Settings, panel: _Panel) -> list[Mark]:
    """The table of lengths to be measured, with room for what one finds."""
    say = settings.wording.render
    rows: list[list[Cell]] = [[(say("hints.measure"), "start"), ("", "start"), (say("hints.yours"), "middle"),
                               (say("hints.right"), "middle")]]
    rows += [[(say(f"views.{each.view}"), "start"), (each.words, "start"), ("", "middle"), (shown(each), "middle")]
             for each in hints.lengths]
    return _table("", rows, (0.24, 0.52, 0.12, 0.12), panel)


def shown(length: Length) -> str:
    """A length as it is printed: to a tenth of a millimetre, which is more than a pencil can do.

    >>> shown(Length("front", "", 24.2487, 24.2487, None)), shown(Length("front", "", 40.0, 20.0, 0))
    ('24.2', '20')
    """
    return number(round(length.paper, 1))


def _table(heading: str, rows: Sequence[Sequence[Cell]], shares: Sequence[float], panel: _Panel) -> list[Mark]:
    """Rows between rules under a heading, as high as the panel allows up to the largest lettering."""
    marks: list[Mark] = []
    top = panel.top
    if heading:
        text, size, face = fitted(heading, panel.width, HEADING)
        marks.append(Text(text, (panel.left, top - HEADING), size, face=face))
        top -= HEADING + GAP
    height = next((each for each in ROWS if BOX * each * len(rows) <= top - panel.foot), ROWS[-1])
    pitch = min(BOX * height * 1.15, (top - panel.foot) / len(rows))
    edges: list[float] = (panel.left + np.cumsum([0.0, *shares]) * panel.width).tolist()
    for place, row in enumerate(rows):
        base = top - pitch * place - (pitch + height) / 2
        for (text, anchor), low, high in zip(row, edges, edges[1:], strict=False):
            if text:
                marks.append(_cell(text, anchor, (low, base, high, base + height)))
        y = top - pitch * (place + 1)
        marks.append(Stroke(np.array([(panel.left, y), (panel.right, y)]), Pen.TABLE))
    marks.append(Stroke(np.array([(panel.left, top), (panel.right, top)]), Pen.TABLE))
    return marks


def _cell(text: str, anchor: str, box: Box) -> Text:
    low, base, high, over = box
    text, size, face = fitted(text, high - low - 2.0, over - base, least=1.8)
    x = low if anchor == "start" else (low + high) / 2
    return Text(text, (x, base), size, anchor=anchor, face=face)
