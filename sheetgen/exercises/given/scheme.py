"""The marking sheet of kinds whose question is given views: what is asked for line by line, and every answer that is right."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from sheetgen.exercises.drawing import INSET, Drawing
from sheetgen.exercises.marking.likely import Likely
from sheetgen.exercises.marking.pages import BESIDE, CAPTION, NOTE, ROWS, WIDTHS, SchemeSheet
from sheetgen.exercises.marking.pictures import pictures_one_by_one, small
from sheetgen.exercises.marking.record import Marking
from sheetgen.exercises.marking.scheme import CHECKS, Part, Row, Scheme, off_each, rows_of
from sheetgen.exercises.marking.shares import shared
from sheetgen.exercises.numbering import Numbered
from sheetgen.exercises.page import page_of
from sheetgen.exercises.roles import Particulars, Role
from sheetgen.ink import Mark, Page, Text, moved
from sheetgen.problem import Problem
from sheetgen.projection import View
from sheetgen.sheet import Settings
from sheetgen.sheet.paper import Box
from sheetgen.sheet.viewmarks import view_marks
from sheetgen.sight import PlacedView, Sight

NOTHING_LIKELY = Likely({}, {}, (), None, False)

SMALL_GAP, MOST_SHARE = 14.0, 0.7
"""mm round each of the small answers, with its number under it; their size, at most, of that on paper."""

ACROSS = 4
"""Small answers in a row, at most."""


class GivenSheet(SchemeSheet):
    """The table of a scheme that counts lines alone."""

    @property
    def notes(self) -> list[str]:
        """How exact lines must be, what a line too many costs, and what a line is."""
        say = self.settings.wording.render
        return [say("marking.tolerance", scale=self.drawing.layout.scale_name), say("given.too_many"), say("marking.line")]


def scheme_by_lines(drawing: Drawing, marking: Marking, lines: Mapping[str, Sequence[Numbered]]) -> Scheme:
    """All marks but those of line work to the ``lines`` by views, each sort as the template weighs it."""
    weights, work = marking.template.lines, marking.template.parts["line_work"]
    asked = {name: those for name, those in lines.items() if those}
    counted = [sum(weights[line.sort] for line in those) or len(those) for those in asked.values()]
    whole = sum(share for name, share in marking.template.parts.items() if name != "line_work")
    shares = shared(marking.halves, [*(whole * count / sum(counted) for count in counted), work])
    parts = [Part(name, halves, rows_of(those, halves, marking), view=True)
             for (name, those), halves in zip(asked.items(), shares, strict=False) if halves]
    if shares[-1]:
        row = Row("line_work", len(CHECKS["line_work"]), shares[-1], off=off_each("line_work", shares[-1], marking))
        parts.append(Part("line_work", shares[-1], (row,)))
    return Scheme(marking, tuple(parts), {name: tuple(those) for name, those in lines.items()})


@dataclass(frozen=True, eq=False)
class Right:
    """Every answer that is right, drawn small on a page of its own: ``views``, the part's own first; ``heading``: over them."""

    views: tuple[View, ...]
    heading: str


def given_marking(
    problem: Problem, settings: Settings, drawing: Drawing, scheme: Scheme, particulars: Particulars,
    likely: Likely = NOTHING_LIKELY, right: Right | None = None,
) -> tuple[Page, ...]:
    """The scheme with the one view of a drawing at its left, its lines numbered and ``likely`` errors shown; then the answers
    that are ``right``. Raises: MarkingError if it has no room."""
    sheet = GivenSheet(problem, settings, drawing, scheme, NOTHING_LIKELY)
    pictures = pictures_one_by_one(drawing, settings, scheme.lines, likely, _picture_room(sheet, drawing.views[0]))
    if pictures is None:
        raise sheet.fault("the numbers of the lines")
    [picture] = pictures
    x0, _, x1, y1 = sheet.room
    over = y1 - sheet.block[3] - INSET
    width = WIDTHS[-1]
    tables = (sheet.table(width, height, over, compact=compact) for compact in (False, True) for height in ROWS)
    table = next(filter(None, tables), None)
    if table is None:
        raise sheet.fault("the scheme")
    scale, say = drawing.layout.scale_name, settings.wording.render
    words = say("marking.picture", scale=scale) if picture.share == 1.0 else say("marking.picture_other")
    first = [*moved(table.marks, x1 - width, y1), *picture.marks, Text(words, (x0, y1 - NOTE), NOTE)]
    pages = [first]
    if right:
        pages.append(answers_small(right, settings, drawing.layout.scale, (x0, sheet.block[3] + INSET, x1, y1)))
    return tuple(page_of(problem, settings, Role.MARKING, scale, particulars, marks) for marks in pages)


def _picture_room(sheet: GivenSheet, view: PlacedView) -> Box:
    """Where the numbered lines stand, left of the table: over the title block or left of it, where the ``view`` can be larger."""
    (x0, y0, x1, y1), block = sheet.room, sheet.block
    right, top = x1 - WIDTHS[-1] - BESIDE, y1 - CAPTION
    rooms = ((x0, block[3] + INSET, right, top), (x0, y0, min(right, block[0] - INSET), top))
    wide, high = (view.view.extent[1] - view.view.extent[0]).tolist()
    return max(rooms, key=lambda room: min((room[2] - room[0]) / wide, (room[3] - room[1]) / high))


def answers_small(right: Right, settings: Settings, scale: float, room: Box) -> list[Mark]:
    """The answers side by side, each with its number, all in one share of their size."""
    x0, y0, x1, y1 = room
    marks: list[Mark] = [Text(right.heading, (x0, y1 - 3.5), 3.5)]
    count = len(right.views)
    columns = min(ACROSS, count)
    rows = -(-count // columns)
    wide, tall = (x1 - x0) / columns, (y1 - 8.0 - y0) / rows
    low, high = right.views[0].extent
    size = (high - low) * scale
    share = min(MOST_SHARE, float(((np.array([wide, tall]) - SMALL_GAP - (0.0, 6.0)) / size).min()))
    for number, view in enumerate(right.views):
        row, column = divmod(number, columns)
        middle = x0 + wide * (column + 0.5), y1 - 8.0 - tall * (row + 0.5) + 3.0
        corner = np.array(middle) - size * share / 2
        placed = PlacedView.cornered(Sight(view), scale * share, np.round(corner, 1))
        marks += small(view_marks(placed, centres=False))
        says = settings.wording.render("given.answer", number=number + 1, count=count)
        marks.append(Text(says, (middle[0], float(corner[1]) - 6.0), NOTE, anchor="middle"))
    return marks
