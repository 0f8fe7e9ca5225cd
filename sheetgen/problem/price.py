"""What a length costs where it can be shown best: about the millimetres of the part that its extension lines must run over.

Two prices are added: that on the front, top or side view where it comes cheapest, and that on the pictorial. They hang on the
part alone, on no paper, projection or figures, so that they are the same for all that is ever printed of a variant. All is
judgement (common practice, no source). Millimetres of the part.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from typing import NamedTuple

import numpy as np

from sheetgen.geometry import Array, IntArray
from sheetgen.geometry.segments import neighbours, segments_of
from sheetgen.measures import Measure
from sheetgen.problem.lanes import Lane, Showing, Start, lanes_on_pictorial, lanes_on_view
from sheetgen.sight import PlacedView, Sight, Sights

VIEWS = ("front", "top", "left")
"""One view from a side stands for both: what one of them hides shows in the other."""

SHORT = 8.0
"""mm: an extension line that runs no farther over the part is read without a thought."""

BEYOND = 10.0
"""mm from the part, or from the feature, to the dimension line."""

STEP, FARTHER = 16.0, 4
"""mm between dimension lines farther out, and how many are tried: on a pictorial the nearest may stand before the part."""

OUT = 0.15
"""mm that each millimetre farther out is worth."""

INSIDE = 5.0
"""mm that it is worth that a dimension line stands over the part: it is short, but not as clear as outside."""

CROSSED = 25.0
"""mm that each line of the part is worth which a dimension line crosses: it cuts a face in two."""

UNSEEN = 60.0
"""mm that it is worth that a length cannot be shown on any view, or on the pictorial: more than any line that is drawn."""

FROM_END = 5.0
"""mm: an arrow that touches an edge keeps so far from its ends."""

LEAST = 8.0
"""mm: in a shorter length arrows stand outside, and touch no edge from within."""

SAMPLES = 48
"""Places along a line at which it is asked whether they are over the part: every 2 mm of the longest."""

BESIDE = 0.33
"""mm to either side at which that is asked too: what runs along the outline is not over the part."""

TIP = 0.5
"""mm at an arrow's tip where a dimension line may meet what it measures to."""


class _Way(NamedTuple):
    """One way to show a length: which it is; the corners of its ends on the drawing, and which way its extension lines run; where
    these start, not a number where an arrow touches; the place of its dimension line; its price by itself."""

    length: int
    corners: tuple[float, float, float, float]
    way: tuple[float, float]
    starts: tuple[float, float]
    place: float
    price: float


def prices_of(lengths: Sequence[Measure], sights: Sights, pictorial: Sight | None) -> list[float]:
    """What lengths cost on one part, mm to a tenth; ``pictorial``: that from which the part is read, None if there is none."""
    views = np.min([_cheapest(PlacedView.alone(sights[name]), lengths, lanes_on_view, 1) for name in VIEWS], axis=0)
    drawn = _cheapest(PlacedView.alone(pictorial), lengths, lanes_on_pictorial, FARTHER) if pictorial else 0.0
    found: list[float] = np.round(views + drawn, 1).tolist()
    return found


def _cheapest(
    view: PlacedView, lengths: Sequence[Measure], lanes_of: Callable[[Showing, Measure], Iterator[Lane]], farther: int
) -> Array:
    """The prices (n,) of the cheapest ways to show lengths on a view; so many dimension lines beyond the part are tried,
    ``farther`` and farther out."""
    showing = Showing(view)
    ways = [way for k, length in enumerate(lengths) for lane in lanes_of(showing, length) for way in _ways(k, lane, farther)]
    found = np.full(len(lengths), UNSEEN)
    if ways:
        of, corners, run, starts, place, price = (np.array(column) for column in zip(*ways, strict=True))
        extensions, line = _lines(corners.reshape(-1, 2, 2), run, starts, place)
        over = _over(view, np.concatenate([extensions.reshape(-1, 4), line]))
        long = np.maximum(over[:2 * len(ways)] - SHORT, 0.0).reshape(-1, 2).sum(axis=1)
        inside = over[2 * len(ways):]
        touched = np.flatnonzero(inside)
        price += long + INSIDE * (inside > SHORT)
        price[touched] += CROSSED * _crossed(view, line[touched])
        np.minimum.at(found, of, price)
    return found


def _ways(length: int, lane: Lane, farther: int) -> Iterator[_Way]:
    """Dimension lines beyond the part, beside the feature, and such that touch edges."""
    both = lane.one, lane.other

    def drawn(place: float, starts: Sequence[Start | None], sign: int, price: float = 0.0) -> _Way:
        one, other = (math.nan if start is None else start.at + sign * start.arm for start in starts)
        price += sum(start.price for start in starts if start)
        return _Way(length, (*lane.one.corner, *lane.other.corner), lane.way, (one, other), place, price)

    for sign in (1, -1):
        starts = [_outermost(end.starts, sign) for end in both]
        if None not in starts:
            far = max(sign * start.at + start.arm for start in starts if start)
            edge = lane.high if sign > 0 else -lane.low
            if far < edge:
                yield drawn(sign * (far + BEYOND), starts, sign)
            for k in range(farther):
                yield drawn(sign * (max(edge, far) + BEYOND + k * STEP), starts, sign, k * STEP * OUT)
    if math.dist(lane.one.corner, lane.other.corner) < LEAST:
        return
    rooms = [[(low + FROM_END, high - FROM_END) for low, high in end.edges if high - low > 2 * FROM_END] for end in both]
    for low, high in ((max(a, c), min(b, d)) for a, b in rooms[0] for c, d in rooms[1]):
        if low <= high:
            yield drawn((low + high) / 2, (None, None), 1)
    for held, (low, high) in ((k, room) for k in (0, 1) for room in rooms[k]):
        for start in both[1 - held].starts:
            for sign in (1, -1):
                place = min(max(start.at + sign * (start.arm + BEYOND), low), high)
                if sign * (place - start.at) >= start.arm + BEYOND:
                    yield drawn(place, (None, start) if held == 0 else (start, None), sign)


def _outermost(starts: Sequence[Start], sign: int) -> Start | None:
    return max(starts, key=lambda start: sign * start.at + start.arm, default=None)


def _lines(corners: Array, way: Array, starts: Array, place: Array) -> tuple[Array, Array]:
    """Extension lines (n, 2, 4), of no length where an arrow touches, and dimension lines without their arrows' tips (n, 4), from
    the ends' corners (n, 2, 2), the ways (n, 2) they run, where they start (n, 2), and where the dimension lines are (n,)."""
    stops = corners + place[:, None, None] * way[:, None]
    begins = corners + np.where(np.isnan(starts), place[:, None], starts)[:, :, None] * way[:, None]
    run = stops[:, 1] - stops[:, 0]
    tip = TIP / np.maximum(np.hypot(run[:, 0], run[:, 1]), 2 * TIP)[:, None] * run
    return np.concatenate([begins, stops], axis=2), np.concatenate([stops[:, 0] + tip, stops[:, 1] - tip], axis=1)


def _over(view: PlacedView, lines: Array) -> Array:
    """mm (n,) of lines (n, 4) that are over the part."""
    run = lines[:, 2:] - lines[:, :2]
    length = np.hypot(run[:, 0], run[:, 1])
    aside = BESIDE / np.maximum(length, BESIDE)[:, None] * np.stack([-run[:, 1], run[:, 0]], axis=1)
    share = (np.arange(SAMPLES) + 0.5) / SAMPLES
    points = lines[:, None, :2] + share[:, None] * run[:, None]
    on = view.shadow.over(points + aside[:, None]) & view.shadow.over(points - aside[:, None])
    return np.asarray(length * on.mean(axis=1))


def _crossed(view: PlacedView, lines: Array) -> IntArray:
    """How many visible lines of the part each of the lines (n, 4) crosses."""
    pairs = neighbours(lines, segments_of(view.coarse("visible")), TIP)
    return np.bincount(pairs.i[pairs.crossing()], minlength=len(lines))
