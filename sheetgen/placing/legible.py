"""What a strict reader marks on a drawing though nothing on it is wrong, told from where its sizes and names stand.

Lengths are drawing practice or judgement (common practice, no source); they stand here and not with the weights, because they
say what is marked, whatever a place costs.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from enum import Enum
from functools import cached_property
from itertools import combinations, permutations, product

import numpy as np
import shapely

from sheetgen.geometry import Array
from sheetgen.ink import Text
from sheetgen.placing.items import Item
from sheetgen.placing.nearer import AT_TIP, Drawn, box_of, lengths_among
from sheetgen.placing.offers.on_views import faces_measured, shown_edge_on
from sheetgen.placing.offers.view_ends import ends_shown, extents_of
from sheetgen.placing.search import Placement
from sheetgen.placing.weights import WEIGHTS
from sheetgen.sight import PlacedView
from sheetgen.units import PARALLEL

LONG = 20.0              # mm of an extension line over the part
SOME = 8.0               # mm of it over a view: a strict reader marks it where he has nothing else to mark
NUMBERS, NAMES = 4.0, 6.0    # mm between two numbers side by side, between a number and a name
ANYWHERE = 2.2           # mm between any two figures, however they lie
SAMPLE = 0.25            # mm
FIGURES, BEND = 1.4, 2.0    # mm between figures, or a leader's bend, and an outline
BY_LINE = 1.2            # mm between figures and a line of another size
PAST = 3.0               # mm that an extension line goes on past a stranger's arrow
SEEMS_EDGE, GOES_ON = 12.0, 2.5   # mm of an extension line over the part, from the end of an edge in line with it
AT_CORNER, OFF_TIP = 0.8, 2.0     # mm between a leader and a corner of the part, farther than that from its tip
KNOT = 1.5               # mm between the tips of arrows of different axes
HARDLY, ALL_BUT = 0.34, 0.99    # shares of a feature's faces that a view shows edge-on


class Blemish(Enum):
    """One thing that is marked. The last two are slight, hardly seen at arm's length; for the others a page is sent back."""

    LINE_ACROSS_OUTLINE = "a dimension line crosses an outline"
    LINE_ACROSS_CURVE = "a dimension line crosses a curve"
    LONG_EXTENSION = "an extension line over the part for more than 20 mm"
    NUMBERS_CLOSE = "figures under 4 mm apart in one line, or 6 from a name, or under 2.2 anyhow"
    SHAPELESS = "a size on a view that shows nothing of its feature's shape, though another does"
    HIDDEN_END = "a size measured to a hidden line, though another view shows it full"
    NAME_LOW = "the names of a row of views a tier lower than there is room"
    NAMES_UNEVEN = "names of one row of views at different heights"
    NAME_ASIDE = "a view's name aside of the middle"
    FIGURES_BY_LINE = "figures all but on another size's line"
    LINE_ACROSS_EXTENSION = "a dimension line crosses another size's extension line"
    CLOSE_TO_OUTLINE = "a leader's bend or figures close to an outline"
    ARROW_PASSED = "an arrow on the extension line of a size along another axis, which goes on"
    LEADER_AT_CORNER = "a leader through a corner of the part"
    EXTENSION_AS_EDGE = "an extension line that goes on from an edge over the part"
    ARROWS_MEET = "arrows of two sizes along different axes at one point"
    TOO_FAR_OUT = "a size farther out than there is room"
    SOME_EXTENSION = "an extension line over a view for more than 8 mm"


@dataclass(frozen=True, eq=False)
class PictorialRead:
    """A pictorial ``view`` with its ``sizes`` and ``arrows`` of sight, as a strict reader sees it."""

    view: PlacedView
    sizes: Sequence[Placement]
    arrows: Sequence[Placement] = ()

    def serious(self) -> Iterator[Blemish]:
        """What it is sent back for."""
        lines, lengths = self.view.coarse("visible"), lengths_among(self.sizes)
        if _crosses(lengths, [line for line in lines if len(line) == 2]):
            yield Blemish.LINE_ACROSS_OUTLINE
        if _crosses(lengths, [line for line in lines if len(line) > 2]):
            yield Blemish.LINE_ACROSS_CURVE
        if _longest_over(self.sizes, [self.view]) > LONG:
            yield Blemish.LONG_EXTENSION
        if _side_by_side([*self.sizes, *self.arrows]):
            yield Blemish.NUMBERS_CLOSE
        if _by_line(self.sizes):
            yield Blemish.FIGURES_BY_LINE
        if _across_extensions(self.sizes):
            yield Blemish.LINE_ACROSS_EXTENSION
        if _close(self.sizes, lines):
            yield Blemish.CLOSE_TO_OUTLINE
        if any(_passed(one, other) for one, other in permutations(lengths, 2)):
            yield Blemish.ARROW_PASSED
        if any(_meeting(one, other) for one, other in combinations(lengths, 2)):
            yield Blemish.ARROWS_MEET
        edges = [line for line in lines if len(line) == 2]
        if _at_corner(self.sizes, edges):
            yield Blemish.LEADER_AT_CORNER
        if _as_edge(self.sizes, edges, self.view):
            yield Blemish.EXTENSION_AS_EDGE

    def slight(self) -> Iterator[Blemish]:
        """What else is marked: nothing of a pictorial."""
        return iter(())


@dataclass(frozen=True, eq=False)
class ViewsRead:
    """Orthographic ``views`` with their ``names`` and the sizes of ``items``, as a strict reader sees them; ``besides``: areas of
    what else is drawn about them, such as the ends of a cutting plane's line."""

    views: Sequence[PlacedView]
    items: Sequence[Item]
    sizes: Sequence[Placement]
    names: Sequence[Placement]
    besides: Sequence[shapely.Polygon] = ()

    def serious(self) -> Iterator[Blemish]:
        """What they are sent back for."""
        if _crosses(lengths_among(self.sizes), self._lines):
            yield Blemish.LINE_ACROSS_OUTLINE
        if self._longest > LONG:
            yield Blemish.LONG_EXTENSION
        if _side_by_side([*self.sizes, *self.names]):
            yield Blemish.NUMBERS_CLOSE
        if _by_line(self.sizes):
            yield Blemish.FIGURES_BY_LINE
        if _across_extensions(self.sizes):
            yield Blemish.LINE_ACROSS_EXTENSION
        if _close(self.sizes, self._lines):
            yield Blemish.CLOSE_TO_OUTLINE
        yield from dict.fromkeys(_misplaced(self.views, self.items, self.sizes))
        yield from _of_names(self.views, self.names, self.besides)
        if any(all(self._drawn.too_low(self.names[k], self.views[k]) for k in row) for row in _rows(self.views)):
            yield Blemish.NAME_LOW

    def slight(self) -> Iterator[Blemish]:
        """What else is marked."""
        if SOME < self._longest <= LONG:
            yield Blemish.SOME_EXTENSION
        if any(self._drawn.too_far_out(size) and not _side_by_side([*self._drawn.without(size), self._drawn.nearer(size)])
               for size in lengths_among(self.sizes)):
            yield Blemish.TOO_FAR_OUT

    @property
    def _lines(self) -> list[Array]:
        return [line for view in self.views for line in view.coarse("visible")]

    @cached_property
    def _longest(self) -> float:
        return _longest_over(self.sizes, self.views)

    @cached_property
    def _drawn(self) -> Drawn:
        return Drawn(self.views, [*self.sizes, *self.names], self.besides)


def _rows(views: Sequence[PlacedView]) -> list[list[int]]:
    """The numbers of views that stand in one row."""
    levels = [round(view.box[1], 3) for view in views]
    return [[k for k, level in enumerate(levels) if level == row] for row in sorted(set(levels))]


def _of_names(
    views: Sequence[PlacedView], names: Sequence[Placement], besides: Sequence[shapely.Polygon]
) -> Iterator[Blemish]:
    texts = [name.drawn.texts[0] for name in names]
    at = [text.at for text in texts]
    if any(len({round(at[k][1], 3) for k in row}) > 1 for row in _rows(views)):
        yield Blemish.NAMES_UNEVEN
    middles = [(view.box[0] + view.box[2]) / 2 for view in views]
    for text, middle in zip(texts, middles, strict=True):
        # Where something else is drawn in the middle, no name can stand there.
        there = box_of(replace(text, at=(middle, text.at[1])))
        if abs(text.at[0] - middle) > AT_TIP and not shapely.intersects(there, list(besides)).any():
            yield Blemish.NAME_ASIDE
            return


def _crosses(lengths: Sequence[Placement], lines: Sequence[Array]) -> bool:
    """Whether a dimension line crosses lines of the part elsewhere than at its arrows' tips."""
    if not lines or not lengths:
        return False
    outlines = shapely.MultiLineString(lines)
    met = shapely.intersection([shapely.MultiLineString(placement.drawn.lines) for placement in lengths], outlines)
    points, of = shapely.get_coordinates(met, return_index=True)
    tips = np.array([[head.tip for head in placement.drawn.heads] for placement in lengths])[of]
    return bool((np.hypot(*np.moveaxis(points[:, None] - tips, 2, 0)).min(axis=1) > AT_TIP).any()) if len(points) else False


def _longest_over(placements: Iterable[Placement], views: Sequence[PlacedView]) -> float:
    """mm of the extension line that runs over the part for longest."""
    lines = [line for placement in placements for line in placement.drawn.extensions]
    return float(_over(np.stack(lines), views).max()) if lines else 0.0


def _over(ends: Array, views: Sequence[PlacedView]) -> Array:
    """mm for which each of the segments ``ends`` (n, 2, 2) runs over the part."""
    length = np.hypot(*(ends[:, 1] - ends[:, 0]).T)
    counts = np.maximum(1, np.round(length / SAMPLE)).astype(np.int64)
    of = np.repeat(np.arange(len(ends)), counts)
    share = (np.arange(len(of)) - np.repeat(np.cumsum(counts) - counts, counts) + 0.5) * SAMPLE / length[of]
    points = ends[of, 0] + share[:, None] * (ends[of, 1] - ends[of, 0])
    over = np.sum([view.shadow.over(points) for view in views], axis=0)
    return np.asarray(SAMPLE * np.bincount(of, over, len(ends)))


def _as_edge(placements: Iterable[Placement], edges: Sequence[Array], view: PlacedView) -> bool:
    """Whether an extension line goes on from the end of an edge, in its direction, and runs over the part."""
    lines = [line for placement in placements for line in placement.drawn.extensions]
    if not lines or not edges:
        return False
    extensions = np.stack(lines)
    extensions = extensions[_over(extensions, [view]) > SEEMS_EDGE]
    both = np.concatenate([np.stack(edges), np.stack(edges)[:, ::-1]])               # from the far end to the near one
    way, along = (each[:, 1] - each[:, 0] for each in (extensions, both))
    way, along = (each / np.hypot(*each.T)[:, None] for each in (way, along))
    near = np.hypot(*np.moveaxis(extensions[:, None, 0] - both[None, :, 1], 2, 0)) < GOES_ON
    return bool((near & (way @ along.T > 1 - PARALLEL)).any())


def _at_corner(placements: Iterable[Placement], edges: Sequence[Array]) -> bool:
    """Whether a leader runs through a corner of the part, elsewhere than at its tip."""
    leaders = [one for one in placements if len(one.drawn.heads) == 1]
    if not leaders or not edges:
        return False
    corners = np.concatenate(edges)
    for one in leaders:
        away = corners[np.hypot(*(corners - one.drawn.heads[0].tip).T) > OFF_TIP]
        if len(away) and shapely.dwithin(shapely.points(away), shapely.MultiLineString(one.drawn.lines), AT_CORNER).any():
            return True
    return False


def _meeting(one: Placement, other: Placement) -> bool:
    """Whether an arrow of each of two lengths along different axes points at one place."""
    (ax, ay), (bx, by) = (placement.drawn.heads[0].along for placement in (one, other))
    return abs(ax * by - ay * bx) > PARALLEL and any(
        math.hypot(*(head.tip - their.tip)) < KNOT for head, their in product(one.drawn.heads, other.drawn.heads))


def _close(placements: Sequence[Placement], lines: Sequence[Array]) -> bool:
    """Whether figures, or the bend of a leader, come close to lines of the part."""
    outlines = shapely.MultiLineString(lines)
    shapely.prepare(outlines)
    bends = [bend for placement in placements if len(placement.drawn.heads) == 1 for bend in placement.drawn.lines[0][1:]]
    boxes = [box_of(text) for placement in placements for text in placement.drawn.texts]
    return bool(shapely.dwithin(boxes, outlines, FIGURES).any()
                or (bends and shapely.dwithin(shapely.points(np.array(bends)), outlines, BEND).any()))


def _passed(one: Placement, other: Placement) -> bool:
    """Whether an arrow of one length lies on an extension line of the other, across its own way, that goes on past it."""
    (ax, ay), (bx, by) = (placement.drawn.heads[0].along for placement in (one, other))
    if abs(ax * by - ay * bx) < PARALLEL:
        return False
    for head, (start, end) in product(one.drawn.heads, other.drawn.extensions):
        way = end - start
        on, off = float((head.tip - start) @ way), float(way[0] * (head.tip - start)[1] - way[1] * (head.tip - start)[0])
        length = float(np.hypot(*way))
        if abs(off) < AT_TIP * length and -AT_TIP * length < on < length * (length - PAST):
            return True
    return False


def _side_by_side(placements: Sequence[Placement]) -> bool:
    """Whether figures stand so near in one line that they may be read as one number, or with a name as its figure; or all but
    touch, however they lie."""
    texts = [(text, k) for k, placement in enumerate(placements) for text in placement.drawn.texts]
    boxes, of = np.array([box_of(text) for text, _ in texts]), np.array([k for _, k in texts])
    apart = np.where(np.triu(of[:, None] != of), shapely.distance(boxes[:, None], boxes), np.inf)
    if (apart <= ANYWHERE).any():
        return True
    for a, b in np.argwhere(apart < NAMES).tolist():
        one, other = texts[a][0], texts[b][0]
        if abs(one.along[0] * other.along[1] - one.along[1] * other.along[0]) > PARALLEL:
            continue
        least = NUMBERS if _numbered(one) and _numbered(other) else NAMES
        corners = [shapely.get_coordinates(boxes[k]) for k in (a, b)]
        along, up = (np.array([each @ way for each in corners]) for way in (one.along, (-one.along[1], one.along[0])))
        between = along.min(axis=1).max() - along.max(axis=1).min()
        level = up.max(axis=1).min() - up.min(axis=1).max()
        if 0 <= between < least and level > one.height / 2:
            return True
    return False


def _by_line(placements: Sequence[Placement]) -> bool:
    """Whether figures stand all but on a line of another size."""
    lines = [shapely.MultiLineString([*one.drawn.lines, *one.drawn.extensions]) for one in placements]
    boxes = [(box_of(text), k) for k, one in enumerate(placements) for text in one.drawn.texts]
    near = shapely.dwithin(np.array([box for box, _ in boxes])[:, None], np.array(lines)[None], BY_LINE)
    near[np.arange(len(boxes)), [k for _, k in boxes]] = False
    return bool(near.any())


def _across_extensions(placements: Sequence[Placement]) -> bool:
    """Whether a dimension line crosses an extension line of another size, elsewhere than at its arrows' tips."""
    lengths = lengths_among(placements)
    lines = np.array([shapely.MultiLineString(one.drawn.lines) for one in lengths])
    others = np.array([shapely.MultiLineString(one.drawn.extensions) for one in placements])
    which, of = np.nonzero(shapely.intersects(lines[:, None], others[None]))
    for k, j in zip(which.tolist(), of.tolist(), strict=True):
        if placements[j] is not lengths[k]:
            points = shapely.get_coordinates(shapely.intersection(lines[k], others[j]))
            tips = np.array([head.tip for head in lengths[k].drawn.heads])
            if (np.hypot(*(points[:, None] - tips[None]).T).min(axis=0) > AT_TIP).any():
                return True
    return False


def _numbered(text: Text) -> bool:
    return any(sign.isdigit() for sign in text.text)


def _misplaced(views: Sequence[PlacedView], items: Sequence[Item], sizes: Sequence[Placement]) -> Iterator[Blemish]:
    """Of each length, what is amiss with the view it stands on: that shows an end of it with hidden lines only, or no face of its
    feature edge-on, though another shows both ends full, or those and all its faces."""
    spans = [(item, item.main.axis, place) for item, place in zip(items, sizes, strict=True) if item.kind == "span"]
    ends = {(end.surfaces, axis): end for item, axis, _ in spans if axis is not None for end in item.main.ends}
    shown = [ends_shown(view, ends, extents_of(view.view.solid, ends), WEIGHTS) for view in views]
    edge_on = [shown_edge_on(view) for view in views]
    for item, axis, place in spans:
        if axis is None:
            continue
        keys, faces = [(end.surfaces, axis) for end in item.main.ends], faces_measured(views[0].view.solid, item)
        full = [all(key in there and there[key].seen for key in keys) for there in shown]
        shares = [sum(on[k] for k in faces) / max(1, len(faces)) for on in edge_on]
        if not full[place.view] and any(full):
            yield Blemish.HIDDEN_END
        of_full = [share for share, seen in zip(shares, full, strict=True) if seen]
        if shares[place.view] < HARDLY and max(of_full, default=0.0) > ALL_BUT:
            yield Blemish.SHAPELESS
