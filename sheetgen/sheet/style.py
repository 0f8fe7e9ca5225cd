"""A course's style: how its sheets look, in plain words. It can travel to another process, and settings are made of it there."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Literal, get_args

from sheetgen.faults import Fault, Place
from sheetgen.sheet.layout import SideView
from sheetgen.sheet.paper import PAPERS
from sheetgen.sheet.settings import Drawn, Settings
from sheetgen.sheet.symbol import Projection
from sheetgen.templating import TemplateError, TitleBlock, TitleBlockValues, load_crest, load_title_block, load_wording
from sheetgen.templating.crest import NO_CELL

Figures = Literal["aligned", "upright"]
"""Figures of sizes: along their dimension lines (on a pictorial: in the plane of the size), or all upright."""

Arrows = Literal["front", "each"]
"""Arrows of sight on pictorials: that of the front view, or one for each side view too."""

PAPER_NAMES = ("A3", *(name for name in PAPERS if name != "A3"))
PROJECTIONS: tuple[str, ...] = get_args(Projection)
SIDES: tuple[str, ...] = get_args(SideView)
MISSING = ("front", "top", "side")
"""The views that a kind which gives two of them may be told to ask for."""

DRAWN: tuple[Drawn, ...] = get_args(Drawn)
FIGURES: tuple[str, ...] = get_args(Figures)
ARROWS: tuple[str, ...] = get_args(Arrows)

TITLE_BLOCK = "harbour"
"""The title block of who names none."""

WORDING = "en"
"""The wording of who names none."""


@dataclass(frozen=True, slots=True)
class Style:
    """``title_block``, ``wording``: the name of one that comes with sheetgen, or the path of a teacher's own; ``values``: what
    the title block says of the course; ``places``: where these, by name, are said, if in a file; ``crest``: its file, in place of
    the title block's own; ``week``: of a term, which stands beside the set's title; ``missing``,
    ``any_answer``, ``pictorial``, ``drawn``, ``grid``, ``whole``: as of settings."""

    title_block: str | Path = TITLE_BLOCK
    projection: Projection = "first"
    side: SideView = "left"
    paper: str = "A3"
    figures: Figures = "aligned"
    arrows: Arrows = "front"
    wording: str | Path = WORDING
    values: TitleBlockValues = field(default_factory=TitleBlockValues)
    places: Mapping[str, Place] = field(default_factory=dict)
    crest: Path | None = None
    week: int | None = None
    missing: str = ""
    any_answer: bool = False
    pictorial: bool = False
    drawn: Drawn = "isometric"
    grid: bool = False
    whole: bool = False


def settings_of(style: Style) -> Settings:
    """Read the title block and the wording that ``style`` names.

    Raises: TemplateError with every fault of the file, or for a crest that the title block has no cell for.

    >>> settings_of(Style(paper="A2")).paper.width
    594.0
    """
    return Settings(
        block=_block_of(style),
        wording=load_wording(style.wording),
        values=style.values,
        projection=style.projection,
        side=style.side,
        paper=PAPERS[style.paper],
        upright=style.figures == "upright",
        each_arrow=style.arrows == "each",
        places=style.places,
        week=style.week,
        missing=style.missing,
        any_answer=style.any_answer,
        pictorial=style.pictorial,
        drawn=style.drawn,
        grid=style.grid,
        whole=style.whole,
    )


def _block_of(style: Style) -> TitleBlock:
    """The title block, with the style's crest if it has one."""
    block = load_title_block(style.title_block)
    if style.crest is None:
        return block
    if not block.takes_crest:
        place = style.places.get("crest", Place(block.file, 0, "crest"))
        raise TemplateError([Fault(*place, f"a crest, and no cell for it in {block.file}", NO_CELL)])
    return replace(block, crest=load_crest(style.crest))
