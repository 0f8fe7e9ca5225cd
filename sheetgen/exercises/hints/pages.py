"""The hint sheet: a page to be folded, so that each hint and the self-check show only when they are wanted. Sheet millimetres.

Below the first hint stand the second, the third and the self-check, which takes two panels; all four panels are as high. Folded
up from the foot, print inside, line after line, they lie on one another, and the first hint shows alone. Opening the folds one by
one shows the second hint, then the third, then the lengths to measure, and last what is right: who measures does not see it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from sheetgen.exercises.hints.lists import listed
from sheetgen.exercises.hints.record import Hints, Length
from sheetgen.exercises.roles import Particulars
from sheetgen.ink import Face, Mark, Page, Pen, Stroke, Text, dashed, text_width, wrapped
from sheetgen.measures.measures import number
from sheetgen.problem import Problem
from sheetgen.sheet import PAPERS, Settings
from sheetgen.sheet.textblock import PITCH, TextBlock, block_of
from sheetgen.templating.marking import SORTS

COLUMNS = {"centre": "centre_lines"}
"""Sorts of lines that head a column under another name."""

PANELS = 4
"""Below the first hint: two hints, and the self-check in two."""

SHARE = 0.172
"""Of the paper's height: each of the panels that are folded; the first hint has the rest."""

MARGIN = 15.0
"""mm kept free at the left and right edge of the paper; printers do not reach it, and fingers do."""

OUTER, INNER = 10.0, 5.0
"""mm kept free at the upper and the lower edge of the paper, and at both sides of a fold, which is never quite in its place."""

TITLE, HEADING, SMALL = 5.0, 3.5, 2.5
"""mm, heights of lettering: of the title, of headings, and of what is said of the sheet."""

LETTERS = ((2.5, Face.REGULAR), (2.5, Face.NARROW), (1.8, Face.REGULAR), (1.8, Face.NARROW))
"""Lettering of a hint, the first that has room: the same on all sheets but for those with very many words."""

FOLD = 2.5
"""mm, height of the words at a fold."""

GAP = 3.0
"""mm between heading and text, and between a fold and its words."""

NEAR = 2.0
"""mm between a table and its heading."""

LINE, PAD = 1.45, 0.85
"""In heights of capitals: base lines apart within a cell of a table, and what is kept free above and below its text together."""

SIDE = 1.0
"""mm kept free at both sides of a cell."""

MOST_LINES = 3
"""Of a cell: a text that is longer has no room in a table."""


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
    marks += _hint(say(hints.heading), hints.missed, panels[1])
    marks += _lengths(hints, settings, panels[2])
    marks += _whole_views(hints, settings, panels[3])
    marks.append(_rule(first, folds[-1]))
    for y in folds[:-1]:
        marks += _fold(y, width, say("hints.fold"))
    return (Page(width, height, dashed(marks)),)


def plain_hint_pages(
    problem: Problem, settings: Settings, hints: Sequence[Sequence[str]], particulars: Particulars
) -> tuple[Page, ...]:
    """The page of hints, the first and two more, where nothing is drawn by which one could check: it has two folds."""
    width, height = _paper(settings)
    say, fold = settings.wording.render, round(SHARE * height, 1)
    folds = [fold * k for k in range(1, len(hints))]
    first = _Panel(MARGIN, width - MARGIN, height - OUTER, folds[-1] + INNER)
    marks, used = _head(problem, settings, particulars, first)
    marks += _hint(say("hints.look"), hints[0], _Panel(first.left, first.right, first.top - used, first.foot))
    for place, (top, told) in enumerate(zip(reversed(folds), hints[1:], strict=True), 2):
        panel = _Panel(MARGIN, width - MARGIN, top - INNER, max(top - fold + INNER, OUTER))
        marks += _hint(say("hints.further", number=place), told, panel)
    marks.append(_rule(first, folds[-1]))
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
    heading = _heading(title, panel, TITLE)
    lines = [particulars.student] if particulars.student else []
    lines += [say("hints.use"), say("hints.sizes"), say("notice")]
    block = block_of(lines, panel.width, SMALL)
    marks = [*heading, *block.marks(panel.left, panel.top - TITLE - GAP)]
    y = panel.top - TITLE - GAP - block.breadth - GAP
    return [*marks, _rule(panel, y)], panel.top - y + GAP


def _hint(heading: str, sentences: Sequence[str], panel: _Panel) -> list[Mark]:
    """A hint with its heading, in the largest lettering in which it has room. Where even the least has none, the last sentences
    are left out, which are the least needed."""
    top = panel.top - HEADING - GAP
    return [*_heading(heading, panel, HEADING), *_filled(sentences, panel.width, top - panel.foot).marks(panel.left, top)]


def _heading(text: str, panel: _Panel, height: float) -> list[Mark]:
    """A heading, in lettering of at most that height, on two lines if it must."""
    for tried, face in ((height, Face.REGULAR), *(each for each in ((HEADING, Face.REGULAR), *LETTERS) if each[0] < height)):
        if text_width(text, tried, face) <= panel.width:
            return [Text(text, (panel.left, panel.top - height), tried, face=face)]
    lines, least = _lines(text, panel.width, *LETTERS[-1])[:2], LETTERS[-1][0]
    return [Text(line, (panel.left, panel.top - height - (k - len(lines) + 1) * least * LINE), least, face=LETTERS[-1][1])
            for k, line in enumerate(lines)]


def _filled(sentences: Sequence[str], width: float, room: float) -> TextBlock:
    """Sentences, each beginning a line, so that they have room."""
    for count in range(len(sentences), 0, -1):
        for height, face in LETTERS:
            block = block_of(sentences[:count], width, height, face)
            if block.breadth <= room:
                return block
    least = block_of(sentences[:1], width, *LETTERS[-1])
    return replace(least, lines=least.lines[:max(1, int(room / (least.height * PITCH)))])


def _fold(y: float, width: float, words: str) -> list[Mark]:
    """A fold across the page, and the words that say so at its right end."""
    text = _lines(words, width / 3, FOLD, Face.NARROW)[0]
    long = text_width(text, FOLD, Face.NARROW)
    line = Stroke(np.array([(OUTER / 2, y), (width - MARGIN - long - GAP, y)]), Pen.HIDDEN)
    rest = Stroke(np.array([(width - MARGIN + GAP, y), (width - OUTER / 2, y)]), Pen.HIDDEN)
    return [line, rest, Text(text, (width - MARGIN, y - FOLD / 2), FOLD, anchor="end", face=Face.NARROW)]


def _whole_views(hints: Hints, settings: Settings, panel: _Panel) -> list[Mark]:
    """What is right: what a line is, the table of views with their lines by sort and their overall sizes on the paper, and the
    lengths that were measured."""
    say = settings.wording.render
    told = block_of([say("hints.line")], panel.width, SMALL, Face.NARROW)
    marks = told.marks(panel.left, panel.top)
    rows = [[say("hints.view"), *(say(f"hints.{COLUMNS.get(sort, sort)}") for sort in SORTS), say("hints.all"),
             say("hints.whole")]]
    for each in hints.views:
        wide, high = (number(round(size, 1)) for size in each.paper)
        rows.append([say(f"views.{each.view}"), *(str(each.counts[sort]) for sort in SORTS), str(each.lines),
                     say("hints.size", wide=wide, high=high)])
    values = listed([shown(each) for each in hints.lengths], settings.wording)
    rows.append([say("hints.right_lengths"), values])
    below = _Panel(panel.left, panel.right, panel.top - told.breadth - NEAR, panel.foot)
    return [*marks, *_table(rows, (0.32, *(0.105,) * len(SORTS), 0.1, 0.16), ("start", *("middle",) * (len(SORTS) + 2)), below)]


def _lengths(hints: Hints, settings: Settings, panel: _Panel) -> list[Mark]:
    """The table of lengths to be measured, with room for what one finds."""
    say = settings.wording.render
    marks = _heading(say("hints.check", scale=hints.scale), panel, HEADING)
    rows = [["", say("hints.measure"), "", say("hints.yours")]]
    rows += [[str(place), say(f"views.{each.view}"), each.words, ""] for place, each in enumerate(hints.lengths, 1)]
    below = _Panel(panel.left, panel.right, panel.top - HEADING - NEAR, panel.foot)
    return [*marks, *_table(rows, (0.03, 0.27, 0.59, 0.11), ("start", "start", "start", "middle"), below)]


def shown(length: Length) -> str:
    """A length as it is printed: to a tenth of a millimetre, which is more than a pencil can do.

    >>> shown(Length("front", "", 24.2487, 24.2487, None)), shown(Length("front", "", 40.0, 20.0, 0))
    ('24.2', '20')
    """
    return number(round(length.paper, 1))


def _table(rows: Sequence[Sequence[str]], shares: Sequence[float], anchors: Sequence[str], panel: _Panel) -> list[Mark]:
    """Rows between rules, all in the largest lettering in which they have room, in the least with as many lines of each cell as
    have; the last cell of a short row is as wide as all that is left."""
    edges: list[float] = (panel.left + np.cumsum([0.0, *shares]) * panel.width).tolist()
    room = panel.top - panel.foot
    ways = [*((*each, None) for each in LETTERS), *((*LETTERS[-1], most) for most in range(MOST_LINES, 0, -1))]
    for height, face, most in ways:
        cells = [[lines[:most] for lines in _cells(row, edges, height, face)] for row in rows]
        tall = [(PAD + 1 + LINE * (max(map(len, row)) - 1)) * height for row in cells]
        if sum(tall) <= room:
            break
    spare = min(0.25 * height, max(0.0, (room - sum(tall)) / len(rows)))
    marks, y = [_rule(panel, panel.top)], panel.top
    for row, breadth in zip(cells, tall, strict=True):
        for lines, anchor, low, high in zip(row, anchors, edges, [*edges[1:len(row)], edges[-1]], strict=False):
            x = low if anchor == "start" else (low + high) / 2
            over = (breadth + spare - (1 + LINE * (len(lines) - 1)) * height) / 2
            marks += [Text(line, (x, y - over - height * (1 + LINE * k)), height, anchor=anchor, face=face)
                      for k, line in enumerate(lines) if line]
        y -= breadth + spare
        marks.append(_rule(panel, y))
    return marks


def _cells(row: Sequence[str], edges: Sequence[float], height: float, face: Face) -> list[list[str]]:
    """The texts of a row, each as its lines."""
    ends = [*edges[1:len(row)], edges[-1]]
    return [_lines(text, end - low - 2 * SIDE, height, face) for text, low, end in zip(row, edges, ends, strict=False)]


def _lines(text: str, width: float, height: float, face: Face) -> list[str]:
    """A text as lines of a cell; a word that is too wide is broken where it must be."""
    words = []
    for word in text.split():
        while len(word) > 1 and text_width(word, height, face) > width:
            fits = next((k for k in range(len(word) - 1, 1, -1) if text_width(word[:k], height, face) <= width), 1)
            words.append(word[:fits])
            word = word[fits:]
        words.append(word)
    return wrapped(" ".join(words), width, height, face) or [""]


def _rule(panel: _Panel, y: float) -> Mark:
    return Stroke(np.array([(panel.left, y), (panel.right, y)]), Pen.TABLE)
