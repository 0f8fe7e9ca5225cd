"""What the first hint tells of round things: holes of every kind, curves that no compass draws, smooth joins."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

import numpy as np

from sheetgen.bank.features import Hole
from sheetgen.exercises.drawing import Drawing
from sheetgen.exercises.hints.landmarks import LEAST_SHOWN
from sheetgen.exercises.hints.lists import counted_noun, listed
from sheetgen.exercises.hints.sentences import axis_of, several, view_words
from sheetgen.exercises.missed import edges_under
from sheetgen.exercises.nouns import HOLES
from sheetgen.exercises.pieces import Piece
from sheetgen.projection import Free, LineKind, Shape, is_ellipse
from sheetgen.sheet import Settings
from sheetgen.sight import PlacedView


def holes(settings: Settings, drawing: Drawing, pieces: Sequence[Piece]) -> Iterator[str]:
    """What the holes of each kind look like, in the view along their axes and in the others."""
    say = settings.wording.render
    kinds = [noun for noun in HOLES if any(piece.noun == noun for piece in pieces)]
    for noun in kinds:
        mine = [piece for piece in pieces if piece.noun == noun]
        for drilled in ("yes", "no"):
            some = [piece for piece in mine if _drilled(piece) == drilled]
            if not some:
                continue
            name = "plain_hole" if noun == "hole" and len(kinds) > 1 else noun
            article = "hints.each" if sum(piece.count for piece in mine) > 1 else "pieces.the"
            what = say(article, what=say(f"pieces.{name}", form="bare"))
            hidden = "yes" if all(_all_hidden(piece, drawing) for piece in some) else "no"
            if noun == "blind_hole":
                yield say("hints.kind_blind", what=what, drilled=drilled, hidden=hidden)
            else:
                yield say(f"hints.kind_{'plain' if noun in ('hole', 'plain_hole') else noun}", what=what, hidden=hidden)


def _drilled(piece: Piece) -> str:
    """Whether a blind hole ends in the point of a drill; of other holes nothing is asked."""
    pointed = isinstance(piece.feature, Hole) and piece.feature.point_angle is not None
    return "yes" if piece.noun != "blind_hole" or pointed else "no"


def _all_hidden(piece: Piece, drawing: Drawing) -> bool:
    """Whether all lines of a hole but for those of its mouth are hidden in the views that do not look along it."""
    seen = unseen = 0.0
    for placed in drawing.views:
        if axis_of(placed) == piece.axis:
            continue
        solid, these = placed.view.solid, placed.view.stretches      # a view in section is one of what is left
        mine = [k for k, names in enumerate(solid.features) if piece.feature.name in names]
        one, other = np.isin(solid.edges.pair, mine).T
        length = np.linalg.norm(np.diff(solid.vertices[solid.edges.ends], axis=1)[:, 0], axis=1)
        long = np.where((one & other)[these.edge], (these.stop - these.start) * length[these.edge], 0.0)
        seen, unseen = max(seen, float(long[these.seen].max(initial=0.0))), unseen + float(long[~these.seen].sum())
    return seen < LEAST_SHOWN < unseen


def curves(settings: Settings, drawing: Drawing, pieces: Sequence[Piece]) -> Iterator[str]:
    """Which views have curves that no compass draws, and how many; views of which the same is to be said together."""
    say, wording, ovals = settings.wording.render, settings.wording, []
    found = dict[tuple[int, tuple[str, ...]], list[str]]()
    for placed in drawing.views:
        lines = {kind: [shape for shape in placed.lines(kind) if isinstance(shape, Free)]
                 for kind in (LineKind.VISIBLE, LineKind.HIDDEN)}
        if count := sum(map(len, lines.values())):
            where = tuple(piece.called(wording, several=piece.count > 1) for piece in _meeting(placed, lines, pieces))
            found.setdefault((count, where), []).append(view_words(placed, settings))
        if any(map(is_ellipse, (*placed.lines(LineKind.VISIBLE), *placed.lines(LineKind.HIDDEN)))):
            ovals.append(view_words(placed, settings))
    for (count, where), views in found.items():
        said = {"view": listed(views, wording), "what": counted_noun("curve", count, wording), "several": several(len(views))}
        if where:
            yield say("hints.plotted_where", **said, one=where[0], other=where[1])
        else:
            yield say("hints.plotted", **said)
    if ovals:
        yield say("hints.ellipse", view=listed(ovals, wording), several=several(len(ovals)))


def _meeting(
    placed: PlacedView, lines: Mapping[LineKind, Sequence[Shape]], pieces: Sequence[Piece]
) -> tuple[Piece, ...]:
    """The two pieces that meet in all of some curves, the one that is cut first; none if they are others, or more."""
    pairs, edges = set(), placed.view.solid.edges
    for kind, shapes in lines.items():
        for under in edges_under(placed.view, shapes, seen=kind is LineKind.VISIBLE) if shapes else []:
            pairs |= {tuple(sorted(edges.pair[k].tolist())) for k in under if edges.sharp[k]}
    meets = set()
    for one, other in pairs:
        owners = [[place for place, piece in enumerate(pieces) if k in piece.surfaces] for k in (one, other)]
        if any(len(places) != 1 or not pieces[places[0]].known for places in owners):
            return ()
        meets.add(frozenset(places[0] for places in owners))
    if len(meets) != 1 or len(met := sorted(next(iter(meets)), key=lambda place: (not pieces[place].cut, place))) != 2:
        return ()
    return pieces[met[0]], pieces[met[1]]
