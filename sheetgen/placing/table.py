"""Offers: ways to put items on paper, in outline, by the hundred. Sheet millimetres.

Most are made and priced in arrays (``Offers``); odd ones are made singly (``Offer``). Either knows how to work itself out.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, fields, replace
from functools import partial
from typing import Any

import numpy as np
import numpy.typing as npt

from sheetgen.geometry import Array
from sheetgen.geometry.arrays import IntArray, Mask
from sheetgen.geometry.segments import segments_of
from sheetgen.ink import Text
from sheetgen.placing.candidate import Candidate, lettered_width
from sheetgen.placing.columns import Elements, merged, none_of

CLEAR = 0.8
"""mm kept free round figures (common practice, no source)."""

Maker = Callable[[int], Candidate]
"""Works out the way that has a number."""


@dataclass(frozen=True, eq=False)
class Offers:
    """A row a way.

    ``item`` (n,): what it places; ``cost`` (n,): before surroundings and other sizes are looked at; ``over`` (n,): cost per mm of
    its lines over the part; ``leader`` (n,); ``own`` (n,): its figures may come to lie on its own lines, so that is to be looked
    at; ``row`` (n,): of a view's name, the row of views it belongs to, -1 for a size; ``axis`` (n,) of the part along which it
    measures and ``view`` (n,) it stands on, -1 for none.
    ``maker`` (n,): which of the ``makers`` works it out, and ``number`` (n,): what that is to be asked for.
    ``lines``, ``extensions``, ``centres``: segments (k, 4); ``feet``, ``crossings``: for each of the extensions and of the
    centres the point (k, 3) of the part at which it starts or crosses, not a number where that is not told; ``boxes`` (k, 4, 2)
    round its figures; ``spans`` (k, 8): of a straight dimension line its two arrows' tips, the way its extension lines run
    (unit), and of each arrow 1 if it touches the part itself, else 0; ``between`` (k, 4, 2): from a dimension line back to where
    its extension lines start, where no name belongs.
    """

    item: IntArray
    cost: Array
    over: Array
    leader: Mask
    own: Mask
    row: IntArray
    axis: IntArray
    view: IntArray
    maker: IntArray
    number: IntArray
    makers: tuple[Maker, ...]
    lines: Elements = field(default_factory=partial(none_of, 4))
    extensions: Elements = field(default_factory=partial(none_of, 4))
    centres: Elements = field(default_factory=partial(none_of, 4))
    feet: Elements = field(default_factory=partial(none_of, 3))
    crossings: Elements = field(default_factory=partial(none_of, 3))
    boxes: Elements = field(default_factory=partial(none_of, 4, 2))
    spans: Elements = field(default_factory=partial(none_of, 8))
    between: Elements = field(default_factory=partial(none_of, 4, 2))

    @classmethod
    def made(
        cls, maker: Maker, item: IntArray, cost: Array, over: Array | float, *, leader: bool = False, own: Mask | bool = False,
        row: int = -1, axis: IntArray | int = -1, view: IntArray | int = -1, **elements: Elements,
    ) -> Offers:
        """Offers that one ``maker`` works out, by their row; what is given as one value holds for all."""
        def all_of(value: npt.NDArray[Any] | float, kind: type) -> Any:
            return value if isinstance(value, np.ndarray) else np.full(len(item), value, dtype=kind)

        return cls(
            item, cost, all_of(over, float), all_of(leader, bool), all_of(own, bool), all_of(row, int), all_of(axis, int),
            all_of(view, int), np.zeros(len(item), dtype=np.int64), np.arange(len(item)), (maker,), **elements)

    def __len__(self) -> int:
        return len(self.cost)

    def drawn(self, k: int) -> Candidate:
        """The way ``k`` worked out."""
        return self.makers[int(self.maker[k])](int(self.number[k]))

    def alone(self) -> Offers:
        """The same without what is asked of two offers together only: feet, crossings, and the areas between."""
        return replace(self, feet=none_of(3), crossings=none_of(3), between=none_of(4, 2))

    def take(self, rows: IntArray) -> Offers:
        """Some of the offers, in the order asked for."""
        new = np.full(len(self), -1, dtype=np.int64)
        new[rows] = np.arange(len(rows))

        def some(value: Any) -> Any:
            if isinstance(value, Elements):
                return value.moved(new)
            return value.take(rows) if isinstance(value, np.ndarray) else value

        return Offers(**{name: some(getattr(self, name)) for name in NAMES})


NAMES = tuple(each.name for each in fields(Offers))
"""Of an offer's parts, in the order in which they are declared."""


def gathered(several: Sequence[Offers]) -> Offers:
    """All offers of several tables in one, in order."""
    rows = np.cumsum([0, *(len(one) for one in several)])
    makers = np.cumsum([0, *(len(one.makers) for one in several)])

    def all_of(name: str) -> Any:
        parts = [getattr(one, name) for one in several]
        if isinstance(parts[0], Elements):
            return merged(*(Elements(part.shapes, part.offer + first) for part, first in zip(parts, rows[:-1], strict=True)))
        if name == "maker":
            parts = [part + first for part, first in zip(parts, makers[:-1], strict=True)]
        return sum(parts, ()) if isinstance(parts[0], tuple) else np.concatenate(parts)

    return Offers(**{name: all_of(name) for name in NAMES})


@dataclass(frozen=True, eq=False)
class Offer:
    """A single way, worked out beforehand: an angle's arc; ``view``: the number of the view it stands on."""

    item: int
    cost: float
    drawn: Candidate
    view: int = -1
    own: bool = False


def table_of(offers: Sequence[Offer], over: float) -> Offers:
    """Single offers as a table; ``over``: cost per mm of their lines over the part."""
    def segments(part: Callable[[Candidate], Sequence[Array]]) -> Elements:
        lines = [(k, points) for k, offer in enumerate(offers) for points in part(offer.drawn)]
        owner = np.repeat(np.array([k for k, _ in lines], dtype=np.int64), [len(points) - 1 for _, points in lines])
        return Elements(segments_of([points for _, points in lines]), owner)

    texts = [(k, text) for k, offer in enumerate(offers) for text in offer.drawn.texts]
    extensions = segments(lambda drawn: drawn.extensions)
    return Offers.made(
        lambda k: offers[k].drawn,
        np.array([offer.item for offer in offers], dtype=np.int64),
        np.array([offer.cost for offer in offers], dtype=float),
        over,
        own=np.array([offer.own for offer in offers], dtype=bool),
        view=np.array([offer.view for offer in offers], dtype=np.int64),
        lines=segments(lambda drawn: drawn.lines),
        extensions=extensions,
        feet=Elements(np.full((len(extensions.shapes), 3), np.nan), extensions.offer),
        boxes=Elements(_boxes_of([text for _, text in texts]), np.array([k for k, _ in texts], dtype=np.int64)),
    )


def _boxes_of(texts: Sequence[Text]) -> Array:
    """The boxes (n, 4, 2) of texts, grown by CLEAR."""
    flat = np.array([(*text.at, *text.along, *text.up, text.height) for text in texts]).reshape(-1, 7)
    width = np.array([lettered_width(text.text, text.height) for text in texts])
    share = np.array([{"start": 0.0, "middle": 0.5, "end": 1.0}[text.anchor] for text in texts])
    return boxes_at(flat[:, :2], flat[:, 2:4], flat[:, 4:6], width, flat[:, 6:], share * width)


def boxes_at(at: Array, along: Array, up: Array, width: Array, height: Array | float, back: Array) -> Array:
    """Boxes (n, 4, 2) of texts grown by CLEAR: ``at``, ``along``, ``up`` (n, 2); ``back`` (n,): mm from their start to ``at``;
    ``height``: of all, or (n, 1)."""
    extra = CLEAR / np.abs(along[:, 0] * up[:, 1] - along[:, 1] * up[:, 0])
    before, wide = back + extra, width + 2 * extra
    high = (height[:, 0] if isinstance(height, np.ndarray) else height) + 2 * extra
    boxes = np.empty((len(at), 4, 2))
    # All x, then all y: numpy works off long runs much faster than many of two.
    for k in range(2):
        corner = at[:, k] - before * along[:, k] - extra * up[:, k]
        run, rise = wide * along[:, k], high * up[:, k]
        far = corner + run
        boxes[:, 0, k], boxes[:, 1, k], boxes[:, 2, k], boxes[:, 3, k] = corner, far, far + rise, corner + rise
    return boxes


def boxes_grown(boxes: Array, by: float) -> Array:
    """Boxes (n, 4, 2), rectangles or sheared ones, grown by so many mm on all sides."""
    run, rise = boxes[:, 1] - boxes[:, 0], boxes[:, 3] - boxes[:, 0]
    area = np.abs(run[:, 0] * rise[:, 1] - run[:, 1] * rise[:, 0])[:, None]
    inward_run, inward_rise = (-by * lengths * side / area for lengths, side in (
        (np.hypot(*rise.T)[:, None], run), (np.hypot(*run.T)[:, None], rise)))
    corner, far_run, far_rise = boxes[:, 0] + inward_run + inward_rise, run - 2 * inward_run, rise - 2 * inward_rise
    return np.stack([corner, corner + far_run, corner + far_run + far_rise, corner + far_rise], axis=1)


def middles_of(boxes: Array) -> Array:
    """The middles (n, 2) of boxes (n, 4, 2)."""
    return np.asarray((boxes[:, 0] + boxes[:, 2]) / 2)
