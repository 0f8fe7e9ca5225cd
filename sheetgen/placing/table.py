"""Offers: ways to put items on paper, in outline, by the hundred. Sheet millimetres.

Most are made and priced in arrays (``Offers``); odd ones are made singly (``Offer``). Either knows how to work itself out.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from sheetgen.geometry import Array
from sheetgen.geometry.arrays import IntArray, Mask
from sheetgen.geometry.segments import segments_of
from sheetgen.ink import Text
from sheetgen.placing.candidate import Candidate, lettered_width

CLEAR = 0.8
"""mm kept free round figures (common practice, no source)."""

OVER = 0.22              # cost per mm of an offer's lines that run over the part

Owned = tuple[Array, IntArray]
"""Shapes (k, …) and the row (k,) of the offer whose each is."""

NO_LINES: Owned = (np.zeros((0, 4)), np.zeros(0, dtype=np.int64))
NO_SPANS: Owned = (np.zeros((0, 6)), np.zeros(0, dtype=np.int64))
NO_FEET: Owned = (np.zeros((0, 3)), np.zeros(0, dtype=np.int64))
NO_FIELDS: Owned = (np.zeros((0, 4, 2)), np.zeros(0, dtype=np.int64))


@dataclass(frozen=True, eq=False)
class Offers:
    """A row a way.

    ``item`` (n,): what it places; ``cost`` (n,): before ground and neighbours are looked at; ``over`` (n,): cost per mm of its
    lines over the part; ``leader`` (n,); ``own`` (n,): its figures may come to lie on its own lines, so that is to be looked
    at; ``name`` (n,): of a view; ``axis`` (n,) of the part along which it measures and ``view`` (n,) it stands on, -1 for none.
    ``lines``, ``extensions``, ``centres``: segments (k, 4); ``feet``, ``crossings``: for each of the extensions and of the
    centres the point (k, 3) of the part at which it starts or crosses, not a number where that is not told; ``boxes`` (k, 4, 2)
    round its figures; ``spans`` (k, 6): of a straight dimension line its two arrows' tips and the way its extension lines run
    (unit); ``fields`` (k, 4, 2): from a dimension line back to where its extension lines start, where no name belongs.
    ``build``: what works a way out; ``source`` (n,): which of them it is, ``row`` (n,): what that is to be asked for.
    """

    item: IntArray
    cost: Array
    over: Array
    leader: Mask
    own: Mask
    name: Mask
    axis: IntArray
    view: IntArray
    lines: Owned
    extensions: Owned
    centres: Owned
    feet: Owned
    crossings: Owned
    boxes: Owned
    spans: Owned
    fields: Owned
    source: IntArray
    row: IntArray
    build: tuple[Callable[[int], Candidate], ...]

    def __len__(self) -> int:
        return len(self.cost)

    def drawn(self, k: int) -> Candidate:
        """The way ``k`` worked out."""
        return self.build[int(self.source[k])](int(self.row[k]))

    def take(self, rows: IntArray) -> Offers:
        """Some of the offers, in the order asked for."""
        new = np.full(len(self), -1, dtype=np.int64)
        new[rows] = np.arange(len(rows))
        return Offers(
            item=self.item[rows],
            cost=self.cost[rows],
            over=self.over[rows],
            leader=self.leader[rows],
            own=self.own[rows],
            name=self.name[rows],
            axis=self.axis[rows],
            view=self.view[rows],
            lines=_taken(self.lines, new),
            extensions=_taken(self.extensions, new),
            centres=_taken(self.centres, new),
            feet=_taken(self.feet, new),
            crossings=_taken(self.crossings, new),
            boxes=_taken(self.boxes, new),
            spans=_taken(self.spans, new),
            fields=_taken(self.fields, new),
            source=self.source[rows],
            row=self.row[rows],
            build=self.build,
        )


def _taken(owned: Owned, new: IntArray) -> Owned:
    shapes, owner = owned
    owner = new[owner]
    keep = owner >= 0
    return shapes[keep], owner[keep]


def gathered(several: Sequence[Offers]) -> Offers:
    """All offers of several tables in one, in order."""
    start = np.cumsum([0, *(len(one) for one in several)])

    def owned(part: Callable[[Offers], Owned]) -> Owned:
        pairs = [part(one) for one in several]
        owner = np.concatenate([of + first for (_, of), first in zip(pairs, start[:-1], strict=True)])
        return np.concatenate([shapes for shapes, _ in pairs]), owner

    return Offers(
        item=np.concatenate([one.item for one in several]),
        cost=np.concatenate([one.cost for one in several]),
        over=np.concatenate([one.over for one in several]),
        leader=np.concatenate([one.leader for one in several]),
        own=np.concatenate([one.own for one in several]),
        name=np.concatenate([one.name for one in several]),
        axis=np.concatenate([one.axis for one in several]),
        view=np.concatenate([one.view for one in several]),
        lines=owned(lambda one: one.lines),
        extensions=owned(lambda one: one.extensions),
        centres=owned(lambda one: one.centres),
        feet=owned(lambda one: one.feet),
        crossings=owned(lambda one: one.crossings),
        boxes=owned(lambda one: one.boxes),
        spans=owned(lambda one: one.spans),
        fields=owned(lambda one: one.fields),
        source=np.concatenate([
            one.source + sum(len(before.build) for before in several[:k]) for k, one in enumerate(several)]),
        row=np.concatenate([one.row for one in several]),
        build=tuple(build for one in several for build in one.build),
    )


@dataclass(frozen=True, eq=False)
class Offer:
    """A single way, worked out beforehand: an angle's arc, the arrow of sight, a view's name."""

    item: int
    cost: float
    drawn: Candidate
    own: bool = False
    over: float = OVER
    name: bool = False


def table_of(offers: Sequence[Offer]) -> Offers:
    """Single offers as a table."""
    def segments(part: Callable[[Candidate], Sequence[Array]]) -> Owned:
        lines = [(k, points) for k, offer in enumerate(offers) for points in part(offer.drawn)]
        owner = np.repeat(np.array([k for k, _ in lines], dtype=np.int64), [len(points) - 1 for _, points in lines])
        return segments_of([points for _, points in lines]), owner

    texts = [(k, text) for k, offer in enumerate(offers) for text in offer.drawn.texts]
    extensions = segments(lambda drawn: drawn.extensions)
    return Offers(
        item=np.array([offer.item for offer in offers], dtype=np.int64),
        cost=np.array([offer.cost for offer in offers], dtype=float),
        over=np.array([offer.over for offer in offers], dtype=float),
        leader=np.zeros(len(offers), dtype=bool),
        own=np.array([offer.own for offer in offers], dtype=bool),
        name=np.array([offer.name for offer in offers], dtype=bool),
        axis=np.full(len(offers), -1),
        view=np.full(len(offers), -1),
        lines=segments(lambda drawn: drawn.lines),
        extensions=extensions,
        centres=NO_LINES,
        feet=(np.full((len(extensions[0]), 3), np.nan), extensions[1]),
        crossings=NO_FEET,
        boxes=(_boxes_of([text for _, text in texts]), np.array([k for k, _ in texts], dtype=np.int64)),
        spans=NO_SPANS,
        fields=NO_FIELDS,
        source=np.zeros(len(offers), dtype=np.int64),
        row=np.arange(len(offers)),
        build=(lambda k: offers[k].drawn,),
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
    extra = (CLEAR / np.abs(along[:, 0] * up[:, 1] - along[:, 1] * up[:, 0]))[:, None]
    corner = at - (back[:, None] + extra) * along - extra * up
    run, rise = (width[:, None] + 2 * extra) * along, (height + 2 * extra) * up
    return np.stack([corner, corner + run, corner + run + rise, corner + rise], axis=1)


def middles_of(boxes: Array) -> Array:
    """The middles (n, 2) of boxes (n, 4, 2)."""
    return np.asarray((boxes[:, 0] + boxes[:, 2]) / 2)
