"""What every sheet carries besides its drawing: frame, title block, check bar. What of it is the same on all sheets of a course
is made once (``Settings.stationery``)."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from sheetgen.faults import Place
from sheetgen.ink import Mark
from sheetgen.sheet.checkbar import check_bar_on
from sheetgen.sheet.free import boxes_of
from sheetgen.sheet.paper import centring_marks, corner_marks, frame_marks
from sheetgen.sheet.settings import Settings
from sheetgen.sheet.titleblock_ink import NOWHERE, coded_marks, filled_marks, titleblock_box
from sheetgen.templating import TitleBlockValues

BESIDE_BLOCK = 3.0
"""mm beside the title block, or the code box at its left, in which no centring mark reaches inwards, beyond what it keeps clear
of all drawing: so near it would seem a line of the block (common practice, no source)."""


def bare_furniture(settings: Settings, drawing: Sequence[Mark] = ()) -> list[Mark]:
    """Frame and check bar alone, for a sheet on which the drawing needs the place of the title block; the centring marks keep
    clear of ``drawing``."""
    paper = settings.paper
    bar = check_bar_on(paper, settings.wording.render("check_bar"))
    return [*frame_marks(paper), *corner_marks(paper), *bar, *centring_marks(paper, boxes_of(drawing))]


def furniture(
    settings: Settings, values: TitleBlockValues, drawing: Sequence[Mark], places: Mapping[str, Place] = NOWHERE
) -> list[Mark]:
    """Return frame, check bar and the title block filled in with ``values``, of which ``places`` tells where they are said, the
    sheet's code among them; the centring marks keep clear of ``drawing``.

    Raises: TemplateError naming every text that does not fit.
    """
    paper = settings.paper
    (left, foot, right, top), corner = titleblock_box(settings.block, paper), (paper.x1, paper.y0)
    return [
        *settings.stationery,
        *centring_marks(paper, np.vstack([(left - BESIDE_BLOCK, foot, right, top + BESIDE_BLOCK), boxes_of(drawing)])),
        *filled_marks(settings.block, values, corner, places),
        *coded_marks(settings.block, values.number, corner, places),
    ]
