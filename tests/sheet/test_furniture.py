"""What stands round every drawing keeps clear of itself: no centring mark beside the title block or its code box."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sheetgen.ink import Pen, Stroke
from sheetgen.shared import shipped
from sheetgen.sheet import PAPERS, Style, settings_of
from sheetgen.sheet.furniture import furniture
from sheetgen.sheet.titleblock_ink import titleblock_box
from sheetgen.templating import TitleBlockValues, title_block_names

CLEAR = 5.0
"""mm: of a line that ends beside a box, so that it does not seem to be one of the box (common practice, no source)."""

BLOCKS = [*title_block_names(), shipped("templates") / "start" / "title-block.yaml"]


def gaps(settings):
    """mm from each centring mark's inward end to the title block with what stands beside it; a mark that stops at the frame has
    none."""
    paper = settings.paper
    x0, foot, x1, y1 = titleblock_box(settings.block, paper)
    for mark in furniture(settings, TitleBlockValues(), []):
        if isinstance(mark, Stroke) and mark.pen is Pen.FRAME and not mark.closed:
            x, y = mark.points[1]
            if paper.x0 < x < paper.x1 and paper.y0 < y < paper.y1:
                yield max(x0 - x, x - x1, foot - y, y - y1)


@pytest.mark.parametrize("without_code", [False, True])
@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("block", BLOCKS, ids=str)
def test_centring_marks_stand_clear_of_every_block_and_of_a_code_beside_it(block, paper, without_code):
    settings = settings_of(Style(title_block=block, paper=paper))
    if without_code:
        cells = tuple(cell for cell in settings.block.cells if cell.symbol != "code")
        settings = replace(settings, block=replace(settings.block, cells=cells))
    found = list(gaps(settings))
    assert len(found) >= 2 and min(found) >= CLEAR - 1e-9


@pytest.mark.parametrize("width", range(170, 191))
def test_a_block_of_any_width_without_a_code_box_keeps_clear_of_the_mark_at_its_left(width):
    settings = settings_of(Style(title_block=BLOCKS[-1]))
    cells = tuple(cell for cell in settings.block.cells if cell.symbol != "code")
    settings = replace(settings, block=replace(settings.block, cells=cells, width=float(width)))
    assert min(gaps(settings)) >= CLEAR - 1e-9
