"""What can be wrong with the sizes of a drawing: each of these leaves all others where they stand."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import numpy as np
import shapely

from sheetgen.exercises.drawing import INSET, Drawing
from sheetgen.exercises.kinds.mistakes.mistake import LEFT_OUT, RADIUS, TWICE, WRONG, Mistake
from sheetgen.ink import Text, text_box, text_width
from sheetgen.measures.measures import SIGNS, number
from sheetgen.placing import Item, Placement, PlacingError, Surroundings, ViewsRead, choose, view_offers
from sheetgen.problem import Problem
from sheetgen.sheet import Settings
from sheetgen.sheet.titleblock_ink import titleblock_box

LEAST_OFF, LEAST_SHARE = 4.0, 0.1
"""mm on paper, and share of a length, by which wrong figures are off at least, so that they are wrong by eye."""

STEPS = (5.0, -5.0, 10.0, -10.0, 15.0, -15.0, 4.0, -4.0)
"""By how much figures are wrong, the likeliest first; before these, with their digits swapped."""

WIDER = 0.05
"""mm by which wrong figures may be wider than the right ones: there is no more room."""

DIAMETER, RADIAL = (SIGNS[kind].format("") for kind in ("diameter", "radius"))


def wrong(drawing: Drawing, at: int) -> Iterator[Mistake]:
    """Figures that are not those of the length they stand at, and of no other, which would seem to be given twice."""
    item = drawing.items[at]
    if len(item.measures) != 1 or item.main.kind not in ("span", "diameter", "radius") or len(item.lines) != 1:
        return
    value, [text] = item.main.value, item.lines
    swapped = [float(item.main.figures[::-1])] if item.main.figures.isdigit() and not item.main.figures.endswith("0") else []
    for other in (*swapped, *(value + step for step in STEPS)):
        figures = text.replace(item.main.figures, number(other))
        off, fits = abs(other - value), text_width(figures, 3.5) <= text_width(text, 3.5) + WIDER
        plain = off * drawing.layout.scale >= LEAST_OFF and LEAST_SHARE * value <= off
        if fits and plain and value / 2 <= other <= 2 * value and not _given(drawing, figures):
            yield Mistake(WRONG, drawing.chosen[at].view, item=at, said={"right": text, "wrong": figures})


def radius(drawing: Drawing, at: int) -> Iterator[Mistake]:
    """A diameter's figures with the sign of a radius."""
    item = drawing.items[at]
    if item.main.kind == "diameter" and item.kind == "round" and len(item.lines) == 1 and item.lines[0].count(DIAMETER) == 1:
        figures = item.lines[0].replace(DIAMETER, RADIAL)
        if text_width(figures, 3.5) <= text_width(item.lines[0], 3.5) + WIDER and not _given(drawing, figures):
            yield Mistake(RADIUS, drawing.chosen[at].view, item=at, said={"right": item.lines[0], "wrong": figures})


def left_out(drawing: Drawing, at: int) -> Iterator[Mistake]:
    """A size that is not given: none for which a centre line is drawn on, which would be missing too."""
    item = drawing.items[at]
    if len(item.measures) == 1 and len(item.lines) == 1 and not drawing.chosen[at].drawn.chains:
        yield Mistake(LEFT_OUT, drawing.chosen[at].view, item=at, said={"right": item.lines[0]})


def twice(problem: Problem, settings: Settings, drawing: Drawing, at: int) -> Iterator[tuple[Mistake, Placement]]:
    """A length given once more, on another view; where, and how it is drawn there."""
    item, own = drawing.items[at], drawing.chosen[at]
    if item.kind != "span":
        return
    offers = view_offers(drawing.views, [item], upright=settings.upright)
    offers = offers.take(np.flatnonzero(offers.view != own.view))
    if not len(offers):
        return
    try:
        [found] = choose(_around(drawing, settings), offers, 1)
    except PlacingError:
        return
    again = Placement(len(drawing.items), found.view, found.drawn)
    if not list(_read(with_more(drawing, item, again)).serious()):
        yield Mistake(TWICE, again.view, item=at, said={"right": item.lines[0]}, other=own.view), again


def _given(drawing: Drawing, figures: str) -> bool:
    """Whether figures stand anywhere on a drawing."""
    return any(text.text == figures for place in drawing.chosen for text in place.drawn.texts)


def with_more(drawing: Drawing, item: Item, again: Placement) -> Drawing:
    """A drawing with an item more."""
    count = len(drawing.items)
    return replace(drawing, items=(*drawing.items, item), chosen=(*drawing.chosen[:count], again, *drawing.chosen[count:]))


def with_figures(drawing: Drawing, at: int, figures: str) -> Drawing:
    """A drawing in which an item has other figures."""
    place = drawing.chosen[at]
    [text] = place.drawn.texts
    told = replace(place, drawn=replace(place.drawn, texts=(replace(text, text=figures),)))
    return replace(drawing, chosen=(*drawing.chosen[:at], told, *drawing.chosen[at + 1:]))


def without(drawing: Drawing, at: int) -> Drawing:
    """A drawing without an item."""
    return replace(drawing, items=(*drawing.items[:at], *drawing.items[at + 1:]),
                   chosen=(*drawing.chosen[:at], *drawing.chosen[at + 1:]))


def _read(drawing: Drawing) -> ViewsRead:
    return drawing.read


def _around(drawing: Drawing, settings: Settings) -> Surroundings:
    """What is in the way of a size that is added to a drawing."""
    paper, block = settings.paper, titleblock_box(settings.block, settings.paper)
    lines = [line for place in drawing.chosen for line in (*place.drawn.lines, *place.drawn.extensions)]
    texts = [text for place in drawing.chosen for text in place.drawn.texts]
    visible = [line for view in drawing.views for line in view.coarse("visible")]
    thin = [line for view in drawing.views for kind in ("hidden", "centre") for line in view.coarse(kind)]
    blocked = [shapely.box(block[0] - 4, block[1], block[2], block[3] + 4), *map(_box, texts)]
    area = (paper.x0 + INSET, paper.y0 + INSET, paper.x1 - INSET, paper.y1 - INSET)
    return Surroundings(visible, [*thin, *lines], blocked, area, [view.shadow for view in drawing.views])


def _box(text: Text) -> shapely.Polygon:
    return shapely.Polygon(text_box(text, 2.5))
