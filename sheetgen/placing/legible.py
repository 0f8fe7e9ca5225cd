"""What a strict reader marks on a drawing though nothing on it is wrong, told from where its sizes and names stand.

Lengths are drawing practice or judgement (common practice, no source); they stand here and not with the weights, because they
say what is marked, whatever a place costs.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from enum import Enum
from functools import cached_property
from itertools import combinations, permutations

import shapely

from sheetgen.geometry import Array
from sheetgen.placing.items import Item
from sheetgen.placing.marked import (
    arrow_passed,
    arrows_meet,
    close_to_lines,
    crosses,
    figures_by_line,
    goes_on_from_edge,
    leader_across_extension,
    leader_at_corner,
    line_across_extension,
    longest_over,
    side_by_side,
    sight_aside,
)
from sheetgen.placing.nearer import AT_TIP, Drawn, box_of, lengths_among
from sheetgen.placing.offers.on_views import faces_measured, shown_edge_on
from sheetgen.placing.offers.view_ends import ends_shown, extents_of
from sheetgen.placing.search import Placement
from sheetgen.placing.weights import WEIGHTS
from sheetgen.sight import PlacedView

LONG = 20.0              # mm of an extension line over the part
SOME = 8.0               # mm of it over a view: a strict reader marks it where he has nothing else to mark
HARDLY, ALL_BUT = 0.34, 0.99    # shares of a feature's faces that a view shows edge-on


class Blemish(Enum):
    """One thing that is marked. The last two are slight, hardly seen at arm's length; for the others a page is sent back."""

    LINE_ACROSS_OUTLINE = "a dimension line crosses an outline"
    LINE_ACROSS_CURVE = "a dimension line crosses a curve"
    LONG_EXTENSION = "an extension line over the part for more than 20 mm"
    NUMBERS_CLOSE = "figures or names under 6 mm apart in one line, or under 2.2 anyhow"
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
    LEADER_ACROSS_EXTENSION = "a leader crosses another size's extension line"
    SIGHT_ASIDE = "an arrow of sight that does not stand before the part"
    EXTENSION_AS_EDGE = "an extension line that goes on from an edge over the part"
    ARROWS_MEET = "arrows of two sizes along different axes at one point"
    UNLETTERED = "a distance that is carried over to an auxiliary view, without a letter"
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
        if crosses(lengths, [line for line in lines if len(line) == 2]):
            yield Blemish.LINE_ACROSS_OUTLINE
        if crosses(lengths, [line for line in lines if len(line) > 2]):
            yield Blemish.LINE_ACROSS_CURVE
        if longest_over(self.sizes, [self.view]) > LONG:
            yield Blemish.LONG_EXTENSION
        if side_by_side([*self.sizes, *self.arrows]):
            yield Blemish.NUMBERS_CLOSE
        if figures_by_line(self.sizes):
            yield Blemish.FIGURES_BY_LINE
        if line_across_extension(self.sizes):
            yield Blemish.LINE_ACROSS_EXTENSION
        if close_to_lines(self.sizes, lines):
            yield Blemish.CLOSE_TO_OUTLINE
        if any(arrow_passed(one, other) for one, other in permutations(lengths, 2)):
            yield Blemish.ARROW_PASSED
        if any(arrows_meet(one, other) for one, other in combinations(lengths, 2)):
            yield Blemish.ARROWS_MEET
        edges = [line for line in lines if len(line) == 2]
        if leader_at_corner(self.sizes, edges):
            yield Blemish.LEADER_AT_CORNER
        if leader_across_extension(self.sizes):
            yield Blemish.LEADER_ACROSS_EXTENSION
        if any(sight_aside(self.view, arrow) for arrow in self.arrows):
            yield Blemish.SIGHT_ASIDE
        if goes_on_from_edge(self.sizes, edges, self.view):
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
        if crosses(lengths_among(self.sizes), self._lines):
            yield Blemish.LINE_ACROSS_OUTLINE
        if self._longest > LONG:
            yield Blemish.LONG_EXTENSION
        if side_by_side([*self.sizes, *self.names]):
            yield Blemish.NUMBERS_CLOSE
        if figures_by_line(self.sizes):
            yield Blemish.FIGURES_BY_LINE
        if line_across_extension(self.sizes):
            yield Blemish.LINE_ACROSS_EXTENSION
        if close_to_lines(self.sizes, self._lines):
            yield Blemish.CLOSE_TO_OUTLINE
        if leader_across_extension(self.sizes):
            yield Blemish.LEADER_ACROSS_EXTENSION
        yield from dict.fromkeys(_misplaced(self.views, self.items, self.sizes))
        yield from _of_names(self.views, self.names, self.besides)
        if any(all(self._drawn.too_low(self.names[k], self.views[k]) for k in row) for row in _rows(self.views)):
            yield Blemish.NAME_LOW

    def slight(self) -> Iterator[Blemish]:
        """What else is marked."""
        if SOME < self._longest <= LONG:
            yield Blemish.SOME_EXTENSION
        if any(self._drawn.too_far_out(size) and not side_by_side([*self._drawn.without(size), self._drawn.nearer(size)])
               for size in lengths_among(self.sizes)):
            yield Blemish.TOO_FAR_OUT

    @property
    def _lines(self) -> list[Array]:
        return [line for view in self.views for line in view.coarse("visible")]

    @cached_property
    def _longest(self) -> float:
        return longest_over(self.sizes, self.views)

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
