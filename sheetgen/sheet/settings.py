"""How a course's sheets look: what all its sheets have in common."""

from __future__ import annotations

from dataclasses import dataclass, field

from sheetgen.sheet.layout import SideView
from sheetgen.sheet.paper import PAPERS, Paper
from sheetgen.sheet.symbol import Projection
from sheetgen.templating import TitleBlock, TitleBlockValues, Wording


@dataclass(frozen=True, eq=False)
class Settings:
    """How a course's sheets look. ``values``: what the title block says of the course; each sheet fills in its own part."""

    block: TitleBlock
    wording: Wording
    values: TitleBlockValues
    projection: Projection = "first"
    side: SideView = "left"
    paper: Paper = field(default_factory=lambda: PAPERS["A3"])
    upright: bool = False            # unidirectional figures
