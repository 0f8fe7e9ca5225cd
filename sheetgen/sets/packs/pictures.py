"""An exercise as pictures for a page: compact marks, of which what pages have in common is told once.

A page is painted in three layers: what all sheets of a course have in common (``Settings.stationery``), what all of one exercise
have, and what is its own. So a stage of a construction stores only what it adds.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from sheetgen.exercises import ASKED, Exercise, Role, Sheets
from sheetgen.ink import Array, Fill, Mark, Page, Pen, Picture, Shape, Stroke, Text, letters_of, packed
from sheetgen.sets.packs.shorter import shortened
from sheetgen.sheet import Settings
from sheetgen.sheet.free import boxes_of
from sheetgen.sheet.titleblock_ink import titleblock_box

AROUND = 6.0
"""mm of paper round a drawing that is shown by itself."""

APART = 3.0
"""mm from the lines of a drawing beyond which lettering is no part of it."""

SMALL = 10.0
"""mm: the longer side of a small picture as it is told, so that it has steps of a thousandth of its side."""

SMALL_PENS = frozenset({Pen.OUTLINE, Pen.SMALL, Pen.HIDDEN})
"""Of what a small picture shows: the part, without sizes."""

SHEET_PENS = frozenset({Pen.FRAME, Pen.GRID, Pen.TABLE})
"""Of what belongs to the sheet, wherever it stands."""


Pages = tuple[tuple[Mark, ...], ...]
"""The marks of each of some pages."""


@dataclass(frozen=True, eq=False)
class Layers:
    """The marks of one exercise's pages: ``common`` to all; by role each page's ``drawing``, and what else is its ``own``."""

    common: tuple[Mark, ...]
    own: dict[Role, Pages]
    drawing: dict[Role, Pages]


def pictured(exercise: Exercise, settings: Settings) -> dict[str, Any]:
    """The pictures of an exercise that has question, answer and blank, as plain data. What else it has to print is no picture: a
    construction is shown by its stages, hints are read."""
    layers = layers_of({role: exercise.sheets[role] for role in (*ASKED, Role.BLANK)}, settings)
    [question, *_] = layers.drawing[Role.QUESTION]
    inked = [*(mark for role in layers.own for page in exercise.sheets[role] for mark in page.marks),
             *(mark for stage in exercise.help.stages for mark in stage.marks)]
    return {
        "common": shortened(layers.common),
        "pages": {role.value: [{
            "drawing": shortened(drawing), "rest": shortened(rest),
            "box": _box(_near(drawing) if exercise.help.task and role is Role.QUESTION else drawing, settings),
        } for drawing, rest in zip(layers.drawing[role], layers.own[role], strict=True)] for role in ASKED},
        "small": small_picture(question),
        "blank": shortened(layers.own[Role.BLANK][0]),
        "stages": [[shortened(stage.marks), stage.heading, list(stage.sentences), shortened(stage.thin)]
                   for stage in exercise.help.stages],
        "letters": {face.value: signs for face, signs in letters_of(inked).items()},
        "stages_box": _box([mark for stage in exercise.help.stages for mark in (*stage.marks, *stage.thin)], settings),
    }


def layers_of(sheets: Sheets, settings: Settings) -> Layers:
    """The layers of an exercise's sheets, of which one is the blank: that has no drawing, whatever is on it, such as a grid. What
    all have is none either."""
    given = _keys(settings.stationery)
    keyed = {role: [_keyed(page, given) for page in pages] for role, pages in sheets.items()}
    pages = [page for of_role in keyed.values() for page in of_role]
    shared = set.intersection(*(set(page) for page in pages))
    inside = titleblock_box(settings.block, settings.paper)
    own, drawing = dict[Role, Pages](), dict[Role, Pages]()
    for role, of_role in keyed.items():
        drawn = [{key for key, mark in page.items() if role is not Role.BLANK and key not in shared and _is_drawing(mark, inside)}
                 for page in of_role]
        both = list(zip(of_role, drawn, strict=True))
        drawing[role] = tuple(tuple(page[key] for key in page if key in wanted) for page, wanted in both)
        own[role] = tuple(tuple(page[key] for key in page if key not in wanted | shared) for page, wanted in both)
    return Layers(tuple(mark for key, mark in pages[0].items() if key in shared), own, drawing)


def small_picture(drawing: Sequence[Mark]) -> list[Any]:
    """A drawing in small: width, height, and its lines without sizes; all of it if it has no lines of a part."""
    inked = [mark for mark in drawing if not isinstance(mark, Text | Picture)]
    lines = [mark for mark in inked if isinstance(mark, Stroke) and mark.pen in SMALL_PENS] or inked
    if not lines:
        return [SMALL, SMALL, ""]
    x0, y0, x1, y1 = _around(lines)
    scale = SMALL / max(x1 - x0, y1 - y0, 1.0)
    plain = [_scaled(mark, np.array([x0, y0]), scale) for mark in lines]
    return [round((x1 - x0) * scale, 2), round((y1 - y0) * scale, 2), packed(plain)]


def _scaled(mark: Stroke | Fill | Shape, corner: Array, scale: float) -> Mark:
    if isinstance(mark, Stroke):                       # so small, all are drawn through, with a pen of their own
        return Stroke((mark.points - corner) * scale, mark.pen, mark.curved, mark.closed)
    if isinstance(mark, Shape):
        return replace(mark, points=(mark.points - corner) * scale, width=mark.width * scale)
    return replace(mark, points=(mark.points - corner) * scale)


def _keys(marks: Iterable[Mark]) -> dict[str, Mark]:
    """Marks by what tells them from others."""
    return {packed([mark]): mark for mark in marks if not isinstance(mark, Text) or mark.text.strip()}


def _keyed(page: Page, given: dict[str, Mark]) -> dict[str, Mark]:
    """The marks of a page without those that are ``given``."""
    return {key: mark for key, mark in _keys(page.marks).items() if key not in given}


def _is_drawing(mark: Mark, inside: tuple[float, float, float, float]) -> bool:
    """Whether a mark belongs to no sheet, and stands in no title block (which is ``inside`` a box)."""
    [(x0, y0, x1, y1)] = boxes_of([mark])
    within = inside[0] - 1 <= x0 and x1 <= inside[2] + 1 and inside[1] - 1 <= y0 and y1 <= inside[3] + 1
    return not within and not (isinstance(mark, Stroke) and mark.pen in SHEET_PENS)


def _near(drawing: Sequence[Mark]) -> list[Mark]:
    """A drawing without the lettering that stands apart from its lines, which the page says in words."""
    lines = [mark for mark in drawing if not isinstance(mark, Text)]
    if not lines:
        return list(drawing)
    x0, y0, x1, y1 = _around(lines)
    texts = [mark for mark in drawing if isinstance(mark, Text)]
    close = [mark for mark, box in zip(texts, boxes_of(texts), strict=True)
             if x0 - APART < box[2] and box[0] < x1 + APART and y0 - APART < box[3] and box[1] < y1 + APART]
    return [*lines, *close]


def _around(marks: Sequence[Mark]) -> tuple[float, float, float, float]:
    boxes = boxes_of(marks)
    return (float(boxes[:, 0].min()), float(boxes[:, 1].min()), float(boxes[:, 2].max()), float(boxes[:, 3].max()))


def _box(marks: Sequence[Mark], settings: Settings) -> list[float]:
    """The part of the paper that a drawing stands on, in whole millimetres: x0, y0, x1, y1; all of it if there is none."""
    paper = settings.paper
    if not marks:
        return [0, 0, round(paper.width), round(paper.height)]
    x0, y0, x1, y1 = _around(marks)
    return [max(0, round(x0 - AROUND)), max(0, round(y0 - AROUND)),
            min(round(paper.width), round(x1 + AROUND)), min(round(paper.height), round(y1 + AROUND))]
