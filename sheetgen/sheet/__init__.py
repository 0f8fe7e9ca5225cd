"""One page: paper and frame, settings, scale and spacing, title block in ink, check bar, symbol, text."""

from sheetgen.sheet.layout import NoRoomError, SideView
from sheetgen.sheet.paper import PAPERS, Paper, paper_name
from sheetgen.sheet.settings import Settings
from sheetgen.sheet.style import (
    ARROWS,
    DRAWN,
    FIGURES,
    MISSING,
    PAPER_NAMES,
    PROJECTIONS,
    SIDES,
    TITLE_BLOCK,
    WORDING,
    Figures,
    Style,
    settings_of,
)
from sheetgen.sheet.symbol import Projection

__all__ = [
    "ARROWS",
    "DRAWN",
    "FIGURES",
    "MISSING",
    "PAPERS",
    "PAPER_NAMES",
    "PROJECTIONS",
    "SIDES",
    "TITLE_BLOCK",
    "WORDING",
    "Figures",
    "NoRoomError",
    "Paper",
    "Projection",
    "Settings",
    "SideView",
    "Style",
    "paper_name",
    "settings_of",
]
