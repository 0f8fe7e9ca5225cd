"""How a course's sheets look: what all its sheets have in common."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import Literal

from sheetgen.faults import Fault, Place
from sheetgen.ink import Mark, dashed
from sheetgen.sheet.checkbar import check_bar_on
from sheetgen.sheet.layout import SideView, views_asked
from sheetgen.sheet.paper import PAPERS, Paper, corner_marks, frame_marks
from sheetgen.sheet.symbol import Projection
from sheetgen.sheet.titleblock_ink import ruled_marks
from sheetgen.sheet.unshown import unshown
from sheetgen.templating import TitleBlock, TitleBlockValues, Wording

Drawn = Literal["isometric", "cavalier", "cabinet"]
"""The pictorials that may be asked for: isometric, or oblique with depths at full length or at half."""


@dataclass(frozen=True, eq=False)
class Settings:
    """How a course's sheets look. ``values``: what the title block says of the course, and ``places``: where these, by name, are
    said; each sheet fills in its own part; ``week``: of a term, if the set is for one."""

    block: TitleBlock
    wording: Wording
    values: TitleBlockValues
    projection: Projection = "first"
    side: SideView = "left"
    paper: Paper = field(default_factory=lambda: PAPERS["A3"])
    upright: bool = False            # unidirectional figures
    each_arrow: bool = False         # arrows of sight for the side views too
    missing: str = ""                # of a kind that gives two views: which it asks for, front, top or side; "": its own choice
    any_answer: bool = False         # of a kind that may have several answers: each of them is right
    pictorial: bool = False          # of a kind that can do without: the pictorial beside the views
    drawn: Drawn = "isometric"       # of a kind that asks for a pictorial: which
    grid: bool = False               # of such a kind: it is drawn on a grid
    whole: bool = False              # of a kind that asks for part of a view: the whole of it
    places: Mapping[str, Place] = field(default_factory=dict)
    week: int | None = None

    @property
    def set_title(self) -> str:
        """The title of the set, "" if it has none; in a term it tells the week too."""
        say = self.wording.render
        if self.week is None:
            return self.values.set_title
        return say("files.week", title=self.values.set_title or say("files.worksheet"), week=self.week)

    @property
    def arrows(self) -> tuple[str, ...]:
        """The views whose direction of sight an arrow on the pictorial shows."""
        sides = [view for view in views_asked(self.side) if view in ("left", "right")]
        return ("front", *(sides if self.each_arrow else ()))

    @property
    def remarks(self) -> tuple[Fault, ...]:
        """What had better be changed in title block and wording, or stands in no cell of the block."""
        return (*self.block.remarks, *self.wording.remarks, *unshown(self))

    @cached_property
    def stationery(self) -> tuple[Mark, ...]:
        """What all sheets have in common: frame, filled corners, check bar, the title block with its labels and the symbol.

        Raises: TemplateError naming every cell whose label or symbol does not fit.
        """
        paper, corner = self.paper, (self.paper.x1, self.paper.y0)
        ruled = ruled_marks(self.block, self.wording, self.projection, corner)
        bar = check_bar_on(paper, self.wording.render("check_bar"))
        return tuple(dashed([*frame_marks(paper), *corner_marks(paper), *bar, *ruled]))
