"""The order of a construction: which lines come in which stage, with the projectors that bring them. Structure, no words yet."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from sheetgen.exercises.construction.board import DEPTH, SIDES, Board, Carried, Need, needs_of, places_of
from sheetgen.exercises.construction.curves import Plotted, plotted
from sheetgen.exercises.construction.features import Group
from sheetgen.exercises.construction.record import AnswerLine, Dressed, Part, Projector
from sheetgen.projection import Arc, LineKind, Straight

PER_STAGE, OF_BOTH = 3, 4
"""Groups of features that a stage tells of at most, a sentence or two each; of side views if both are drawn."""


@dataclass(frozen=True, eq=False)
class Drawn:
    """Lines of one view that a stage draws for one group of features; ``whence``: from which view each level that they need
    comes; ``settled``: those of ends that the view has already; what is among neither is set off."""

    view: str
    group: int
    lines: tuple[AnswerLine, ...]
    needs: tuple[Need, ...]
    whence: dict[Need, str]
    settled: frozenset[Need] = frozenset()


@dataclass(frozen=True, eq=False)
class Step:
    """A stage before it has words. ``projectors``: new ones, and ``again``: those of stages before that serve it too; ``curves``:
    those that it plots; ``dressed``: what it draws that is no line of a view."""

    part: Part
    view: str
    drawn: tuple[Drawn, ...] = ()
    projectors: tuple[Projector, ...] = ()
    again: tuple[Projector, ...] = ()
    curves: tuple[Plotted, ...] = ()
    lines: tuple[AnswerLine, ...] = ()
    dressed: Dressed | None = None


def steps_of(
    board: Board, lines: Sequence[AnswerLine], groups: Sequence[Group], asked: str = "", dressed: Sequence[Dressed] = ()
) -> tuple[Step, ...]:
    """The steps of a construction, in order, each line of the answer in one of them. ``asked``: the one view that is built; the
    others are drawn already, and have no steps. ``dressed``: what is drawn upon the views: the line of a cutting plane before
    them, because it tells what one of them shows, all else when their lines are there."""
    steps = [*(_steps_of_one(board, lines, groups, asked) if asked else _steps(board, lines, groups))]
    first = [Step(one.part, "", dressed=one) for one in dressed if one.part is Part.PLANE]
    then = [Step(one.part, "", dressed=one) for one in dressed if one.part is not Part.PLANE]
    return (*steps[:1], *first, *steps[1:-1], *then, *steps[-1:])


def _steps(board: Board, lines: Sequence[AnswerLine], groups: Sequence[Group]) -> Iterator[Step]:
    plain = [line for line in lines if not line.curve]
    curves = [line for line in lines if line.curve]
    sides = [side for side in SIDES if side in board.views]
    late: list[AnswerLine] = []
    yield Step(Part.BOXES, "")
    for view in ("front", "top"):
        yield from _view_steps(board, view, plain, groups, late)
    yield from _late_steps(board, late, groups)
    yield _turning(board)
    for view in sides:
        yield from _view_steps(board, view, plain, groups, late)
    yield from _late_steps(board, late, groups)
    yield from _hidden_steps(board, plain, groups)
    yield from _late_steps(board, late, groups, last=True)
    yield from _last_steps(board, plain, curves, plain)
    yield Step(Part.SIZES, "")


def _steps_of_one(board: Board, lines: Sequence[AnswerLine], groups: Sequence[Group], asked: str) -> Iterator[Step]:
    """The steps of a view, all others being there."""
    plain = [line for line in lines if not line.curve]
    for line in plain:
        if line.view != asked:
            board.draw(line.view, places_of(line), line.group)
    mine = [line for line in plain if line.view == asked]
    curves = [line for line in lines if line.curve and line.view == asked]
    yield Step(Part.BOXES, "")
    if asked != "front":
        yield _turned(board, asked)
    elif curves:                                   # whose points are carried by depths too
        yield Step(Part.MITRE, "")
    yield from _view_steps(board, asked, mine, groups, [])
    yield from _hidden_steps(board, mine, groups)
    yield from _last_steps(board, mine, curves, plain)


def _last_steps(
    board: Board, plain: Sequence[AnswerLine], curves: Sequence[AnswerLine], known: Sequence[AnswerLine]
) -> Iterator[Step]:
    """Curves, plotted from the lines ``known`` of all views, then centre lines."""
    if curves:
        found = plotted(board, curves, [line for line in known if line.kind is not LineKind.CENTRE])
        new = tuple(each for curve in found for each in curve.projectors)
        again = tuple(dict.fromkeys(each for curve in found for each in curve.again if each not in new))
        yield Step(Part.CURVES, "", projectors=new, again=again, curves=tuple(found), lines=tuple(curves))
    centres = tuple(line for line in plain if line.kind is LineKind.CENTRE)
    if centres:
        yield Step(Part.CENTRES, "", lines=centres)


def _view_steps(
    board: Board, view: str, plain: Sequence[AnswerLine], groups: Sequence[Group], late: list[AnswerLine]
) -> Iterator[Step]:
    """The visible lines of a view, feature by feature; those whose levels will come from lines of other views are put by, to
    ``late``."""
    mine = [line for line in plain if line.view == view and line.kind is LineKind.VISIBLE]
    waits = [line.way is not None and board.will_reach(line, plain) for line in mine]
    late += [line for line, wait in zip(mine, waits, strict=True) if wait]
    yield from _drawn_steps(board, view, [line for line, wait in zip(mine, waits, strict=True) if not wait], groups)


def _late_steps(board: Board, late: list[AnswerLine], groups: Sequence[Group], last: bool = False) -> Iterator[Step]:
    """Lines that were put by and can be drawn now; at last all that are left."""
    for view in list(dict.fromkeys(line.view for line in late)):
        now = [line for line in late if line.view == view and (last or board.reaches(view, needs_of(line)[0]))]
        late[:] = [line for line in late if line not in now]
        yield from _drawn_steps(board, view, now, groups)


def _drawn_steps(board: Board, view: str, lines: Sequence[AnswerLine], groups: Sequence[Group]) -> Iterator[Step]:
    by_group = [(k, [line for line in lines if line.group == k]) for k in range(len(groups))]
    most = OF_BOTH if view in SIDES and len(board.mitres) > 1 else PER_STAGE
    for some in _shared_out([pair for pair in by_group if pair[1]], most):
        yield _step(Part.VIEW, view, [_draw(board, view, group, its) for group, its in some])


def _hidden_steps(board: Board, plain: Sequence[AnswerLine], groups: Sequence[Group]) -> Iterator[Step]:
    """The hidden lines of all views, feature by feature."""
    hidden = [line for line in plain if line.kind is LineKind.HIDDEN]
    by_group = [(k, [line for line in hidden if line.group == k]) for k in range(len(groups))]
    for some in _shared_out([pair for pair in by_group if pair[1]], PER_STAGE):
        yield _step(Part.HIDDEN, "", [
            _draw(board, view, group, here) for group, its in some for view in ("front", "top", *SIDES)
            if (here := [line for line in its if line.view == view])])


def _step(part: Part, view: str, made: Sequence[tuple[Drawn, Carried]]) -> Step:
    new = list(dict.fromkeys(projector for _, carried in made for projector in carried.new))
    again = [projector for _, carried in made for projector in carried.again if projector not in new]
    drawn = tuple(one for one, _ in made)
    lines = tuple(line for one in drawn for line in one.lines)
    return Step(part, view, drawn, tuple(new), tuple(dict.fromkeys(again)), lines=lines)


def _draw(board: Board, view: str, group: int, lines: Sequence[AnswerLine]) -> tuple[Drawn, Carried]:
    """Draw lines of a view for a group of features."""
    needs = tuple(dict.fromkeys(need for line in lines for need in needs_of(line)))
    slopes = frozenset(need for line in lines if isinstance(line.shape, Straight) and line.way is None for need in needs_of(line))
    rounds = frozenset(need for line in lines if isinstance(line.shape, Arc) for need in needs_of(line))
    square = [line for line in lines if line.way is not None]
    settled = frozenset(need for need in slopes if board.settles(view, need, square))
    others = {need for line in lines if line.way is not None or isinstance(line.shape, Arc) for need in needs_of(line)}
    carried = board.carry(view, [need for need in needs if need in others or need not in settled], group, far=slopes, own=rounds)
    for line in lines:
        board.draw_line(line)
    return Drawn(view, group, tuple(lines), needs, carried.whence, settled), carried


def _turning(board: Board) -> Step:
    """How the overall depth turns on the mitre line, to the box of each side view."""
    turned = [_turned(board, side) for side in board.mitres]
    return Step(Part.MITRE, "", projectors=tuple(projector for step in turned for projector in step.projectors))


def _turned(board: Board, view: str) -> Step:
    """How the overall depth turns on the mitre line, to the box of a side view or of the top view."""
    across = 0 if view in SIDES else 1
    board.draw(view, board.box(view), -1)
    projectors = list[Projector]()
    for level in (0.0, float(board.size[DEPTH])):
        needs = [Need(across, (float(u), float(v))) for u, v in board.box(view)
                 if abs(board.level(view, across, float((u, v)[across])) - level) < 1e-6]
        projectors += board.carry(view, needs, -1).new
    return Step(Part.MITRE, view, projectors=tuple(projectors))


def _shared_out(items: list[tuple[int, list[AnswerLine]]], most: int) -> Iterator[list[tuple[int, list[AnswerLine]]]]:
    """The items in as few runs as there must be, each about as long as the others."""
    count = -(-len(items) // most)
    for part in np.array_split(np.arange(len(items)), max(count, 1)):
        if len(part):
            yield [items[k] for k in part.tolist()]
