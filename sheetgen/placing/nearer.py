"""What could stand nearer to its view than it does: names of views, and dimension lines outside them. Sheet millimetres."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import cached_property

import numpy as np
import shapely

from sheetgen.geometry import Array
from sheetgen.ink import Text, text_box
from sheetgen.placing.candidate import FIRST_TIER, NEXT_TIER
from sheetgen.placing.search import Placement
from sheetgen.sight import PlacedView
from sheetgen.units import EXACT

CLEAR = 0.8              # mm round figures and names (judgement, as all here that names no source)
BELOW_VIEW = 1.0         # mm between a view and its name
BESIDE = 5.8             # mm between dimension lines side by side
AT_TIP = 0.3             # mm from an arrow's tip: what it meets there it touches


def lengths_among(placements: Sequence[Placement]) -> list[Placement]:
    """Those that are dimension lines with two arrows."""
    return [placement for placement in placements if len(placement.drawn.heads) == 2]


def box_of(text: Text, clear: float = 0.0) -> shapely.Polygon:
    """What a text fills, grown by ``clear`` mm."""
    return shapely.Polygon(text_box(text, clear))


class Drawn:
    """All that stands on a sheet: lines of its ``views``, sizes and names as they are ``placed``, and areas of what is drawn
    ``besides``."""

    def __init__(
        self, views: Sequence[PlacedView], placed: Sequence[Placement], besides: Sequence[shapely.Polygon] = ()
    ) -> None:
        self.views, self.placed, self.besides = views, placed, list(besides)

    @cached_property
    def _outlines(self) -> shapely.Geometry:
        return _whole([line for view in self.views for kind in ("visible", "hidden", "centre") for line in view.coarse(kind)])

    @cached_property
    def _inked(self) -> list[shapely.Geometry]:
        """Of each size and name its lines and the boxes of its texts."""
        return [shapely.GeometryCollection([_whole([*one.drawn.lines, *one.drawn.extensions]), *map(box_of, one.drawn.texts)])
                for one in self.placed]

    @cached_property
    def _fields(self) -> list[shapely.Geometry]:
        """What lies between each dimension line and where its extension lines start."""
        return [shapely.MultiPoint(np.concatenate([*one.drawn.lines, *one.drawn.extensions])).convex_hull
                for one in lengths_among(self.placed)]

    def without(self, placement: Placement) -> list[Placement]:
        """All that is placed but one."""
        return [other for other in self.placed if other is not placement]

    def _free(self, box: shapely.Polygon, placement: Placement) -> bool:
        """Whether ``box`` meets nothing that is drawn but the placement itself."""
        others = [ink for one, ink in zip(self.placed, self._inked, strict=True) if one is not placement]
        return not shapely.intersects(box, [self._outlines, *self.besides, *others]).any()

    def too_low(self, name: Placement, view: PlacedView) -> bool:
        """Whether a view's name could stand a tier nearer to it: clear of all else, and not between the view and its sizes."""
        [text] = name.drawn.texts
        nearer = box_of(_moved(text, (0.0, NEXT_TIER)), CLEAR)
        if nearer.bounds[3] > view.box[1] - BELOW_VIEW:
            return False
        return self._free(nearer, name) and not shapely.intersects(nearer, self._fields).any()

    def too_far_out(self, placement: Placement) -> bool:
        """Whether a length outside its view could stand a tier nearer: clear of all else, in line with others or well apart."""
        shift = self._inward(placement)
        if shift is None or not self._free(box_of(_moved(placement.drawn.texts[0], shift), CLEAR), placement):
            return False
        across = int(np.flatnonzero(shift)[0])
        there, tips = _whole([line + shift for line in placement.drawn.lines]), _tips(placement) + shift
        if shapely.intersects(there, self.besides).any():
            return False
        for other in self.without(placement):
            if any(_near(line, there, float(tips[0, across]), across) for line in other.drawn.lines):
                return False
            if other.drawn.extensions:
                met = shapely.get_coordinates(shapely.intersection(there, shapely.linestrings(np.stack(other.drawn.extensions))))
                if len(met) and np.hypot(*(met[:, None] - tips[None]).T).min() > AT_TIP:
                    return False
            if any(box_of(text).intersects(there) for text in other.drawn.texts):
                return False
        return True

    def nearer(self, placement: Placement) -> Placement:
        """A length ``too_far_out``, its figures where they would stand a tier nearer."""
        shift = self._inward(placement)
        assert shift is not None
        [text] = placement.drawn.texts
        return replace(placement, drawn=replace(placement.drawn, texts=(_moved(text, shift),)))

    def _inward(self, placement: Placement) -> Array | None:
        """The way (2,) to the next tier nearer, of a level or upright length two tiers or more out of its view."""
        tips, box = _tips(placement), self.views[placement.view].box
        shift = np.zeros(2)
        for across in (1, 0):
            level = float(tips[0, across])
            if abs(level - tips[1, across]) > EXACT:
                continue
            out = level - box[2 + across] if level > box[2 + across] else box[across] - level
            if out < FIRST_TIER + NEXT_TIER - 0.1:
                return None
            shift[across] = -NEXT_TIER if level > box[2 + across] else NEXT_TIER
            return shift
        return None


def _tips(placement: Placement) -> Array:
    return np.array([head.tip for head in placement.drawn.heads])


def _moved(text: Text, by: Array | tuple[float, float]) -> Text:
    return replace(text, at=(text.at[0] + float(by[0]), text.at[1] + float(by[1])))


def _whole(lines: Sequence[Array]) -> shapely.Geometry:
    return shapely.MultiLineString([line for line in lines if len(line) > 1])


def _near(line: Array, there: shapely.Geometry, level: float, across: int) -> bool:
    """Whether another's dimension line or leader stands too near to be beside one at ``level``, and is not in line with it."""
    if np.abs(line[:, across] - level).max() < EXACT:
        return bool(shapely.length(shapely.intersection(shapely.linestrings(line), there)) > EXACT)
    return bool(shapely.distance(shapely.linestrings(line), there) < BESIDE)
