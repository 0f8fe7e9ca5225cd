"""Where a size can stand on the isometric pictorial: the ways offered to the search. Sheet millimetres.

Dimension and extension lines run along the isometric axes, figures lie in the plane of both.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from sheetgen.geometry import Array
from sheetgen.ink import Text
from sheetgen.placing.candidate import TEXT_HEIGHT, Arrowhead, Candidate, Vec, lettered_width, reading
from sheetgen.placing.columns import Elements, merged
from sheetgen.placing.items import Item
from sheetgen.placing.offers.angles import angle_offers
from sheetgen.placing.offers.leaders import Leaders, leader_offers, leaders_from
from sheetgen.placing.offers.linear import Lettering
from sheetgen.placing.offers.pictorial_anchors import marks_of_alike
from sheetgen.placing.offers.pictorial_spans import span_lines
from sheetgen.placing.offers.pictorial_standing import Span
from sheetgen.placing.table import Offer, Offers, boxes_at, gathered, table_of
from sheetgen.placing.weights import WEIGHTS, Weights
from sheetgen.sight import PlacedView, heights_before
from sheetgen.sight.rims import near_the_end, seen_rim_points
from sheetgen.solid import Plane
from sheetgen.units import SAME_DIRECTION

TURNS = np.stack([np.cos(np.radians(np.arange(7.5, 360.0, 15.0))), np.sin(np.radians(np.arange(7.5, 360.0, 15.0)))], axis=1)
"""Places round a rim (24, 2) at which a leader may touch it."""

LEADER_LENGTHS = (9.0, 13.0, 18.0, 24.0, 31.0, 39.0)

SIGHTS = {"front": (1, 0, 1.0), "left": (0, 1, 1.0), "right": (0, 1, -1.0)}
"""Of the views that have an arrow of sight: the axis along which they are seen, that across, and which way along the first."""

SIGHT_HEIGHT = 5.0       # mm: letter of the arrow of sight
SIGHT_LENGTH = 16.0      # mm
SIGHT_ASIDE = 4.0        # mm beside it that nothing else comes into: it is no size
SIGHT_LETTER, SIGHT_LETTER_STEEP = 3.5, 4.6      # mm from the tail to the middle of the letter
SIGHT_WIDE = 5.0         # mm: a wider letter, or several, stand farther off
SIGHT_CLEAR = 4.0        # mm before its tip that no dimension line comes into


def pictorial_offers(
    view: PlacedView, items: Sequence[Item], *, upright: bool = False, weights: Weights = WEIGHTS
) -> Offers:
    """All ways to put items on the pictorial. ``upright``: figures stand upright instead of lying in the isometric planes."""
    single, spans, leaders = list[Offer](), list[Span](), list[Leaders]()
    for number, item in enumerate(items):
        if item.kind == "span":
            assert item.main.axis is not None
            spans.append(Span(number, item.main.axis, item.main.ends))
        elif item.kind == "angle":
            single += angle_offers(view, item, number, weights)
        else:
            leaders += _round(view, item, number, weights, upright=upright)
    widths = [lettered_width(items[span.item].lines[0], TEXT_HEIGHT) for span in spans]
    lines, crossings = span_lines(view, spans, widths, 0.0 if upright else weights.leans_back, weights)
    return gathered([
        Lettering([item.lines[0] for item in items], upright).offers(lines, weights, crossings),
        leader_offers(leaders, [item.lines for item in items], LEADER_LENGTHS, weights),
        table_of(single, weights.over),
    ])


def alike_marks(view: PlacedView, items: Sequence[Item]) -> list[tuple[Array, Array]]:
    """The centre lines (2, 3) that mark holes and bosses on the pictorial, where the sizes' own do not: of those that have a
    diameter, and of radii alike of which one is located."""
    ends = [end for item in items if item.kind == "span" for end in item.main.ends]
    located = {end.surfaces[0] for end in ends if len(end.surfaces) == 1}
    return marks_of_alike(view, [(item.rounds, item.main.kind == "diameter") for item in items if item.rounds], located)


def _round(view: PlacedView, item: Item, number: int, weights: Weights, *, upright: bool) -> list[Leaders]:
    """Leaders to the seen rims of the item's round surfaces, or to whatever is seen of their edges."""
    found = []
    for k in item.rounds:
        rims = [rim for rim in view.sight.rims[k] if rim.face in item.faces or not item.faces]
        places = [
            (rim.centre + TURNS[:, :1] * rim.a + TURNS[:, 1:] * rim.b, rim.centre, weights.rim_unseen * (1 - min(rim.share, 1.0)))
            for rim in rims
        ]
        if not rims:
            points = seen_rim_points(view.sight, k)
            places = [(points[:: max(1, len(points) // 24)], points.mean(axis=0), weights.no_rim)] if len(points) else []
        surface = view.view.solid.surfaces[k]
        assert not isinstance(surface, Plane)
        axis = int(np.argmax(np.abs(surface.direction)))
        plane = [view.unit(a) for a in range(3) if a != axis]
        for tips, middle, cost in places:
            flat, centre = view.paper(tips), view.paper(middle)[0]
            away = flat - centre
            length = np.hypot(away[:, 0], away[:, 1])
            on = view.on_seen_rim(k, flat) & (length > 0.1)
            if not on.any():
                continue
            seen, last = np.flatnonzero(on), weights.arc_end * near_the_end(on)[on]
            for level, other in (plane, plane[::-1]):
                if abs(level[0]) > SAME_DIRECTION:             # an upright landing would stand the figures on end
                    along, up = ((1.0, 0.0), (0.0, 1.0)) if upright else reading(level, other)
                    price = cost + weights.turn * seen + last
                    found.append(leaders_from(flat[seen], away[seen] / length[seen, None], number, price, -1, along, up))
    return found


def _vec(point: Array) -> Vec:
    return float(point[0]), float(point[1])


def sight_arrow(
    view: PlacedView, letter: str, number: int, weights: Weights = WEIGHTS, *, seen: str = "front"
) -> Offers:
    """Ways to place the arrow that shows from where the view ``seen`` from there is seen, with its letter at the tail, as item
    ``number``."""
    forth, aside_axis, sign = SIGHTS[seen]
    along, behind = sign * view.vector(forth) / view.scale, SIGHT_LETTER
    if view.view.frame.oblique:             # there one mm of depth may be drawn shorter, and the arrow is steeper
        along, behind = along / np.hypot(*along), SIGHT_LETTER_STEEP
    across = np.array([-along[1], along[0]])             # it is no size and lies in no plane of the part: its head is not sheared
    shares, lifts = (0.5, 0.35, 0.65, 0.2, 0.8, 0.0, 1.0), (0.5, 0.2, 0.8, -0.2)
    ways = (12.0, 16.0, 20.0, 25.0, 30.0, 42.0, 56.0, 72.0)
    aside = np.repeat(weights.sight_aside, len(lifts)) + np.tile(weights.sight_higher * np.arange(len(lifts)), len(shares))
    face = np.array([0.0, 0.0, 0.0] if sign > 0 else [view.view.solid.size[0], 0.0, 0.0])
    share, lift = (grid.ravel() for grid in np.meshgrid(shares, lifts, indexing="ij"))
    aims = view.paper(face + view.view.solid.size * (np.outer(share, np.eye(3)[aside_axis]) + np.outer(lift, np.eye(3)[2])))
    away = np.repeat(ways, len(aims))
    tips = np.tile(aims, (len(ways), 1)) - away[:, None] * along
    tails = tips - SIGHT_LENGTH * along
    behind += max(0.0, lettered_width(letter, SIGHT_HEIGHT) - SIGHT_WIDE) / 2
    at = tails - behind * along - np.array([0.0, SIGHT_HEIGHT / 2])
    n = len(away)
    beside = weights.sight_beside * (heights_before(view, tips, along) > 0.0)
    level, up, wide = np.full((n, 2), (1.0, 0.0)), np.full((n, 2), (0.0, 1.0)), np.full(n, lettered_width(letter, SIGHT_HEIGHT))

    def drawn(k: int) -> Candidate:
        texts = (Text(letter, _vec(at[k]), SIGHT_HEIGHT, anchor="middle"),)
        return Candidate((np.stack([tails[k], tips[k]]),), (), (Arrowhead(tips[k], along, across),), texts, bold=True)

    margin = SIGHT_ASIDE * across
    field = np.stack([tails - margin, tips - margin, tips + margin, tails + margin], axis=1)
    letters = Elements(boxes_at(at, level, up, wide, SIGHT_HEIGHT, wide / 2), np.arange(n))
    return Offers.made(
        drawn, np.full(n, number), weights.sight_distance * away + np.tile(aside, len(ways)) + beside, weights.sight_over,
        lines=Elements(np.hstack([tails, tips + SIGHT_CLEAR * along]), np.arange(n)),
        boxes=merged(letters, Elements(field, np.arange(n))),
    )
