"""What stands beside a drawing, where that leaves room: texts, and pictorials for reference. Sheet millimetres."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import product

from sheetgen.ink import Mark
from sheetgen.refusals import Reason, RefusedError
from sheetgen.sheet import Settings
from sheetgen.sheet.free import Taken, outlines_of, taken_of
from sheetgen.sheet.textblock import block_of
from sheetgen.sheet.titleblock_ink import titleblock_box
from sheetgen.sheet.viewmarks import view_marks
from sheetgen.sight import PlacedView, Sight


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
    sight: Sight, taken: Taken, towards: tuple[float, float], scales: Iterable[float], margin: float
) -> PlacedView | None:
    """The view at the first of the ``scales`` at which it finds room with ``margin`` round it, as near as can be to ``towards``;
    None if it finds none."""
    low, high = sight.view.extent
    for scale in scales:
        wide, tall = ((high - low) * scale).tolist()
        place = taken.free_place(wide, tall, towards, margin)
        if place is not None:
            return PlacedView.cornered(sight, scale, place)
    return None


def plain_marks(view: PlacedView) -> list[Mark]:
    """A view without hidden lines, centre lines and sizes, as marks."""
    return view_marks(view, hidden=False, centres=False)
