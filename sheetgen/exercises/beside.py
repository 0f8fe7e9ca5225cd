"""What stands beside a drawing, where that leaves room: texts, and pictorials for reference. Sheet millimetres."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import product

import numpy as np

from sheetgen.exercises.picture import sight_arrows
from sheetgen.ink import Mark, Text, moved
from sheetgen.placing import Surroundings, choose, gathered, marks_of
from sheetgen.refusals import Reason, RefusedError
from sheetgen.sheet import Settings
from sheetgen.sheet.free import Taken, boxes_of, outlines_of, taken_of
from sheetgen.sheet.textblock import block_of
from sheetgen.sheet.titleblock_ink import titleblock_box
from sheetgen.sheet.viewmarks import view_marks
from sheetgen.sight import PlacedView, Sight

Scaled = tuple[float, str]
"""A scale, and what is said of it."""

WORDS_HEIGHT, UNDER = 2.5, 5.0
"""mm: of the words about a pictorial's scale, and between them and the pictorial."""

AROUND = 100.0
"""mm round a pictorial within which its arrow of sight is placed; it stands much nearer."""


def taken_by(drawing: Sequence[Mark], settings: Settings) -> Taken:
    """What a drawing and the title block take of the sheet."""
    return taken_of(settings.paper.frame, titleblock_box(settings.block, settings.paper), outlines_of(drawing))


def text_beside(
    lines: Sequence[str], taken: Taken, towards: tuple[float, float], why: Reason, *,
    heights: Sequence[float], widths: Sequence[float], margins: Sequence[float],
) -> list[Mark]:
    """The lines as marks, as near as can be to ``towards``: in the first of the ``heights`` of lettering, ``widths`` of the
    text and ``margins`` kept free round it that find room.

    Raises: RefusedError for the reason ``why`` if none does.
    """
    for height, width in product(heights, widths):
        text = block_of(lines, width, height)
        for margin in margins:
            place = taken.free_place(text.width, text.breadth, towards, margin)
            if place is not None:
                return text.marks(place[0], place[1] + text.breadth)
    raise RefusedError([why])


def plain_beside(
    sight: Sight, settings: Settings, taken: Taken, towards: tuple[float, float], scales: Iterable[Scaled], margin: float
) -> list[Mark]:
    """A pictorial with its arrow of sight and, under it, the words about its scale, as marks: at the first of the ``scales`` at
    which all that finds room with ``margin`` round it, in the middle of the free room nearest to ``towards``; nothing if it
    finds none."""
    for scale, words in scales:
        low, high = sight.view.extent
        wide, tall = ((high - low) * scale).tolist()
        if taken.free_place(wide, tall, towards, margin) is None:
            continue                                                # not even without arrow and words
        marks = _worded(pointed(sight, scale, settings), words)
        boxes = boxes_of(marks)
        (x0, y0), (x1, y1) = boxes[:, :2].min(axis=0).tolist(), boxes[:, 2:].max(axis=0).tolist()
        place = taken.middle_place(x1 - x0, y1 - y0, towards, margin)
        if place is not None:
            return moved(marks, place[0] - x0, place[1] - y0)
    return []


def pointed(sight: Sight, scale: float, settings: Settings) -> list[Mark]:
    """A pictorial without hidden lines, centre lines and sizes, with the arrow of sight; its own (0, 0) at that of the sheet."""
    view = PlacedView(sight, scale, np.zeros(2))
    x0, y0, x1, y1 = view.box
    area = (x0 - AROUND, y0 - AROUND, x1 + AROUND, y1 + AROUND)
    around = Surroundings(view.coarse("visible"), (), (), area, (view.shadow,))
    arrows = sight_arrows(view, settings)
    return [*view_marks(view, hidden=False, centres=False), *marks_of(choose(around, gathered(arrows), len(arrows)))]


def _worded(marks: list[Mark], words: str) -> list[Mark]:
    """Marks with words under their middle."""
    boxes = boxes_of(marks)
    middle, foot = (float(boxes[:, 0].min()) + float(boxes[:, 2].max())) / 2, float(boxes[:, 1].min())
    return [*marks, Text(words, (middle, foot - UNDER - WORDS_HEIGHT), WORDS_HEIGHT, anchor="middle")]
