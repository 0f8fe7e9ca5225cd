"""Two views of a part with what an auxiliary view is projected by: the reference lines, the arrow at the face, and its place
left free."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from sheetgen.exercises.drawing import Dressing
from sheetgen.exercises.kinds.auxiliary.arrow import Arrow, arrow_at
from sheetgen.exercises.kinds.auxiliary.carried import Carried
from sheetgen.exercises.kinds.auxiliary.equal import Running, equal_distances
from sheetgen.exercises.kinds.auxiliary.folds import PAST, Fold, fold_before, fold_between
from sheetgen.exercises.kinds.auxiliary.shown import TrueShape
from sheetgen.exercises.kinds.auxiliary.turned import Turned
from sheetgen.geometry import Array
from sheetgen.ink import Mark, Text, text_width
from sheetgen.problem import Problem
from sheetgen.projection import View
from sheetgen.refusals import Reason, RefusedError
from sheetgen.sheet import Settings
from sheetgen.sheet.free import rows_of
from sheetgen.sheet.layout import Layout
from sheetgen.sight import PlacedView

ROUND_LINE = 0.5
"""mm round a line that no figure may touch."""

AUXILIARY = "auxiliary"
"""The name of the auxiliary view."""

BESIDE, BEYOND, BEYOND_WHOLE = 16.0, 16.0, 6.0
"""mm kept free beside a partial view and beyond it, for its two sizes and the distances; beyond a whole one, which has none."""

BEFORE = 2.0
"""mm kept free before the reference line."""

NAME, TO_NAME = 3.5, 2.5
"""mm: height of the auxiliary view's name, and kept free round it."""


NAME_ASIDE, NAME_STEP, NAME_OVER = (0.0, *(sense * off for off in (8.0, 16.0, 24.0, 32.0, 40.0) for sense in (-1, 1))), 2.0, 8.0
"""mm beside the view's middle at which its name is tried, the steps in which it goes down or up, and by how much farther it
goes down rather than up."""

LEANS = 0.2
"""Sine of the angle from the level from which the view beside stands under, or over, an auxiliary view."""


@dataclass(frozen=True, eq=False)
class Folded:
    """Where all that belongs to an auxiliary view stands, of two views on the sheet; ``equal``: the distances from the line
    between these, and from that before the auxiliary view, which are equal; None if they have no room."""

    carried: Carried
    between: Fold
    before: Fold
    arrow: Arrow
    footprint: shapely.Polygon
    name: Text
    equal: tuple[Running, Running] | None = None

    @property
    def turned(self) -> Turned:
        """The auxiliary view."""
        return self.carried.turned

    def blocked(self) -> list[shapely.Polygon]:
        """What no size may enter."""
        (x, y), half = self.name.at, text_width(self.name.text, NAME) / 2 + TO_NAME
        letters = [*self.between.boxes(), *self.before.boxes(), *self.arrow.boxes()]
        distances = self.equal[0].boxes if self.equal else []
        return [self.footprint, shapely.box(x - half, y - TO_NAME, x + half, y + NAME + TO_NAME), *letters, *distances]

    def lines(self) -> list[Array]:
        """Lines that no figure may touch, but for the reference lines."""
        return [*self.carried.projectors, *(line for each in self.equal or () for line in each.lines)]

    def reference(self) -> list[Array]:
        """The reference lines (2, 2)."""
        return [self.between.ends, self.before.ends]

    def distances(self, given: Sequence[Mark]) -> list[Mark]:
        """The distances that are equal, as marks; ``given``: the two views."""
        there = [*given, *self.turned.marks()]
        return [mark for each in self.equal or () for mark in each.marks(there)]

    def marks(self) -> list[Mark]:
        """What question and answer have in common: the reference lines, and the arrow."""
        return [*self.between.marks(), *self.before.marks(), *self.arrow.marks()]


@dataclass(frozen=True, eq=False)
class Asked(Dressing):
    """The views ``home``, in which the ``face`` stands edge-on, and ``beside``, of which distances are carried over;
    ``view``: what is asked for, the face itself or the whole part; ``clear``: mm from the part to the reference line;
    ``layout``: where the two stand, None before that is found; ``side``: of the view beside, where the equal distances are
    shown, 1 to the right or above, -1 to the left or below, 0 if they are not."""

    home: str
    beside: str
    face: TrueShape
    view: View
    clear: float
    settings: Settings
    layout: Layout | None = None
    side: float = 0.0

    @property
    def whole(self) -> bool:
        """Whether the whole part is asked for."""
        return self.view is not self.face

    @property
    def views(self) -> tuple[str, str]:
        """The two that are given."""
        return self.home, self.beside

    def layouts(self, problem: Problem, settings: Settings, views: Sequence[str]) -> list[Layout]:
        """The one that was found."""
        assert self.layout
        return [self.layout]

    def name(self, view: str, settings: Settings) -> str:
        """Of the auxiliary view, with the arrow's letter."""
        if view != AUXILIARY:
            return super().name(view, settings)
        say = settings.wording.render
        return say("auxiliary.name" if self.whole else "auxiliary.name_partial", letter=say("auxiliary.letter"))

    def lines(self, views: Sequence[PlacedView]) -> list[Array]:
        """Projectors, and the lines of the equal distances."""
        return self.folded(views).lines()

    def uncrossed(self, views: Sequence[PlacedView]) -> list[Array]:
        """The reference lines."""
        return self.folded(views).reference()

    def blocked(self, views: Sequence[PlacedView]) -> list[shapely.Polygon]:
        """The place of the auxiliary view, the arrow, letters and the equal distances, row by row: a size looks at the box round
        each, and that round a place aslant is much larger than this."""
        return [shapely.box(*row) for area in self.folded(views).blocked() for row in rows_of(area)]

    def in_the_way(self, views: Sequence[PlacedView]) -> list[shapely.Polygon]:
        """What is blocked, and lines that figures keep clear of."""
        folded = self.folded(views)
        lines = [*folded.lines(), *folded.reference()]
        return [*folded.blocked(), *(shapely.LineString(line).buffer(ROUND_LINE) for line in lines)]

    def marks(self, views: Sequence[PlacedView], texts: Sequence[Text]) -> list[Mark]:
        """Reference lines and arrow."""
        return self.folded(views).marks()

    def folded(self, views: Sequence[PlacedView]) -> Folded:
        """All that belongs to the auxiliary view, of the two views on the sheet. Raises: RefusedError if the arrow has no
        room."""
        home, beside = (next(view for view in views if view.view.name == name) for name in self.views)
        turned = Turned.of(home, self.view, self.settings.projection, self.clear)
        carried = Carried(turned, self.face)
        footprint, before = _footprint(turned, self.whole), fold_before(turned, self.settings)
        avoided = shapely.union_all([footprint, *before.boxes(), *map(shapely.LineString, carried.projectors)])
        between = fold_between(home, beside, self.settings, avoided)
        third = self.settings.projection == "third"
        edge, outward = carried.edge, turned.outward
        most = turned.line - float(edge[0] @ turned.away) - BEFORE if third else np.inf
        lines = [*home.visible, *home.hidden, *home.centres, between.ends, *(carried.projectors if third else ())]
        arrow = arrow_at(edge, outward, home.visible_straights, lines, self.settings.wording.render("auxiliary.letter"), most)
        if arrow is None:
            raise RefusedError([Reason("the arrow at the inclined face has no room")])
        bare = Folded(carried, between, before, arrow, footprint, _named(self.name(AUXILIARY, self.settings), turned, self.whole))
        equal = equal_distances(carried, between, beside, self.side) if self.side else None
        if equal and any(box.intersects(area) for box in equal[0].boxes for area in bare.blocked()):
            equal = None
        return replace(bare, equal=equal)


def _footprint(turned: Turned, whole: bool) -> shapely.Polygon:
    """The room that the auxiliary view takes, with its reference line and its sizes."""
    low, high, _, far = turned.box()
    aside, beyond = BESIDE, BEYOND_WHOLE if whole else BEYOND
    corners = [turned.at(u, v) for u, v in ((low - aside, -BEFORE), (high + aside, -BEFORE), (high + aside, far + beyond),
                                            (low - aside, far + beyond))]
    return shapely.Polygon(corners)


def _named(name: str, turned: Turned, whole: bool) -> Text:
    """The name of the auxiliary view, as near under it as what belongs to it allows, or over it where that is nearer; over it
    only where the view from which it is projected does not stand there."""
    half, taken = text_width(name, NAME) / 2 + TO_NAME, _outline(turned, whole)
    shapely.prepare(taken)
    middle = turned.paper(np.mean(turned.view.extent, axis=0)[None])[0]
    found = list[tuple[float, float, float]]()
    for sense in (-1.0, 1.0):
        if float(turned.away[1]) * sense < -LEANS:
            continue                                                      # the projectors are there
        for aside in NAME_ASIDE:
            x, y = float(middle[0]) + aside, float(middle[1])
            while taken.intersects(shapely.box(x - half, y - TO_NAME, x + half, y + NAME + TO_NAME)):
                y += sense * NAME_STEP
            found.append((abs(y - float(middle[1])) + abs(aside) + (NAME_OVER if sense > 0 else 0.0), x, y))
    _, x, y = min(found)
    return Text(name, (round(x, 1), round(y, 1)), NAME, anchor="middle")


def _outline(turned: Turned, whole: bool) -> BaseGeometry:
    """What is drawn of the auxiliary view, its reference line and its sizes, generously."""
    low, high, near, far = turned.box()
    boxes = [(low - PAST - 6.0, high + PAST + 6.0, -2.0, 2.0), (low, high, -2.0, far + 5.0), (low - BESIDE, low, -2.0, far + 3.0)]
    if not whole:
        boxes += [(high, high + BESIDE - 2.0, near - 3.0, far + 3.0), (low - 3.0, high + 3.0, far, far + BEYOND - 2.0)]
    return shapely.union_all([shapely.Polygon([turned.at(a, c), turned.at(b, c), turned.at(b, d), turned.at(a, d)])
                              for a, b, c, d in boxes])
