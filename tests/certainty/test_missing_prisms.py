"""Lines left out of the views across a part with inclined faces about one axis: held against all parts of small grids whose
squares are halved by a diagonal, with more levels along the axis than so many strokes allow, within the part and beyond it."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from itertools import product

import numpy as np
import pytest

from sheetgen.bank import load_bank
from sheetgen.bank.features import Block, Piece, Profile
from sheetgen.certainty import LeftOut, lines_missing, views_to_complete
from sheetgen.certainty.assumptions import UPRIGHT
from sheetgen.certainty.finer_prisms import finer_prisms
from sheetgen.certainty.grid import is_square
from sheetgen.certainty.prisms import prism_of
from sheetgen.certainty.sights import State
from sheetgen.certainty.strokes import blank_pieces
from sheetgen.problem import solid_of
from sheetgen.projection import LineKind, lines_of, view_of
from sheetgen.refusals import RefusedError
from sheetgen.solid import SolidError, build
from tests.certainty import brute, halved

UNIT = 10.0
VIEWS = ("front", "top", "right")
LAID = {"right": (0, "top", {"front": "left", "top": "rear"}), "front": (1, "bottom", {"top": "rear", "right": "right"}),
        "top": (2, "top", {"front": "front", "right": "right"})}
"""By the view in which the plan shows: the axis it looks along, and what it and the two views across are called of a part that
stands upright."""

OWN = {"front": (0, 2), "top": (0, 1), "right": (1, 2)}
"""The axes of the part along which those of the view run."""

ONE, ROW, DEPTH = np.array([[1]]), np.array([[1], [-1]]), np.array([[1, -1]])
RHOMBUS, CROSS = np.array([[-1, 1], [1, -1]]), np.array([[1, -1], [-1, 1]])
CASES = [
    # squares, own slabs, new levels in each gap, whether beyond the outermost, lines
    *((ONE, 1, 3, True, told) for told in (2, 3, 4, 5, 6, 7)),
    *((ONE, 2, 1, True, told) for told in (3, 5, 6)), *((ONE, 2, 2, False, told) for told in (4, 5)),
    *((ONE, 3, 1, False, told) for told in (2, 3)),
    *((ROW, 1, 2, False, told) for told in (3, 5)), *((DEPTH, 1, 2, False, told) for told in (2, 4)),
    (ROW, 1, 1, False, 3),
]


def rows_of(part, slopes, view):
    """What a view shows: of one across in rows at the seams, and at the levels."""
    if view in ("top", "bottom"):
        return halved.view(part, slopes, view)
    places = slopes.shape[0 if view in ("front", "rear") else 1] + 1
    shown, slabs = np.array(halved.view(part, slopes, view)), part.shape[3]
    seams, levels = shown[:places * slabs], shown[places * slabs:]
    return seams.reshape(places, slabs), levels.reshape(places - 1, slabs + 1).T


def without(rows, solid, missing, plan, view, finer, beyond):
    """Rows of a view with 0 where lines are missing."""
    given = tuple(some.copy() for some in rows)
    axis = LAID[plan][0]
    way = OWN[view].index(axis)
    for line in missing:
        if line.view == view:
            shape = lines_of(view_of(solid, view), line.kind)[line.number]
            low, high = np.minimum(shape.p, shape.q) / UNIT, np.maximum(shape.p, shape.q) / UNIT
            begin, end = round(low[way]) * finer + beyond, round(high[way]) * finer + beyond
            if begin == end:
                given[1][begin, round(low[1 - way]):round(high[1 - way])] = 0
            else:
                given[0][round(low[1 - way]), begin:end] = 0
    return given


@cache
def fillings(slopes, slabs, upright):
    """All fillings of a grid by their plan, each with what a view shows of it, as it is asked for; ``slopes``: row by row."""
    squares, found = np.array(slopes), {}
    count = squares.size * 2 * slabs
    parts = ((np.arange(1, 2**count)[:, None] >> np.arange(count)) & 1).astype(bool).reshape(-1, *squares.shape, 2, slabs)
    for part in parts:
        shown = cache(lambda view, part=part: rows_of(part, squares, view))
        found.setdefault(rows_of(part, squares, upright), []).append((part, shown))
    return found


def completions(part, slopes, solid, plan, missing, more, beyond, symmetric=False):
    """The drawings of all parts that have the plan and complete the views across it by as many strokes."""
    _, upright, across = LAID[plan]
    own, found = np.pad(part.repeat(more + 1, 3), ((0, 0), (0, 0), (0, 0), (beyond, beyond))), set()
    given = {view: without(rows_of(own, slopes, name), solid, missing, plan, view, more + 1, beyond)
             for view, name in across.items()}
    for other, shown in fillings(tuple(map(tuple, slopes.tolist())), own.shape[3], upright)[rows_of(own, slopes, upright)]:
        if symmetric and (other != other[..., ::-1]).any():
            continue
        pairs = [(rows, blank) for view, name in across.items() for rows, blank in zip(shown(name), given[view], strict=True)]
        if all(((rows == blank) | (blank == 0)).all() for rows, blank in pairs) and len(missing) == sum(
                brute.strokes(rows[None], blank)[0] for rows, blank in pairs) and halved.is_a_part(other, slopes):
            found.add(drawing(other, slopes, upright, across, more, beyond))
    return found


def drawing(part, slopes, upright, across, more, beyond):
    """The lines of the three views of a part, new levels in one gap counted from its low end on."""
    padded = np.pad(part, ((0, 0), (0, 0), (0, 0), (1, 1)))
    used = np.flatnonzero(np.diff(padded, axis=3).any(axis=(0, 1, 2)))
    gaps = [divmod(int(level) - beyond, more + 1) for level in used]
    names = tuple((gap, new > 0 and sum(other == gap and some > 0 for other, some in gaps[:k + 1]))
                  for k, (gap, new) in enumerate(gaps))
    tidy = part[..., used[:-1]]
    shown = [rows_of(tidy, slopes, name) for name in across.values()]
    return names, rows_of(tidy, slopes, upright), tuple(rows.tobytes() for some in shown for rows in some)


def lines_across(solid, plan):
    """All lines of the two views across, to be left out."""
    return [LeftOut(view, kind, number) for view in LAID[plan][2] for kind in (LineKind.VISIBLE, LineKind.HIDDEN)
            for number in range(len(lines_of(view_of(solid, view), kind)))]


def sample(slopes, slabs, told, plan, seed, symmetric=False):
    """A part of a grid that has all its levels, its front left corner and an inclined face, and lines of it, drawn by lot."""
    draw = np.random.default_rng([told, seed, slabs, *slopes.shape])
    while True:
        part = draw.random((*slopes.shape, 2, slabs)) < 0.7
        if symmetric:
            part = part | part[..., ::-1]
        padded = np.pad(part, ((0, 0), (0, 0), (0, 0), (1, 1)))
        if not (np.diff(padded, axis=3).any(axis=(0, 1, 2)).all() and part[0].any() and part[:, 0].any()
                and halved.is_a_part(part, slopes)):
            continue
        try:
            solid = halved.solid_of(part, slopes, UNIT, plan)
        except SolidError:                           # two hollows that meet in a point
            continue
        lines = lines_across(solid, plan)
        if not is_square(solid) and len(lines) >= told:
            return part, solid, [lines[k] for k in draw.permutation(len(lines))[:told]]


@pytest.mark.parametrize("plan", LAID)
def test_all_completions_by_the_number_told_are_found_and_no_others(plan):
    several = 0
    for (slopes, slabs, more, beyond, told), seed in product(CASES, (0, 4, 7)):
        part, solid, missing = sample(slopes, slabs, told, plan, seed)
        true = completions(part, slopes, solid, plan, missing, more, beyond)
        found = lines_missing(solid, VIEWS, missing, 500)
        assert found.count == len(true) and found.certain == (len(true) == 1), (slopes, slabs, told, seed)
        assert found.assuming is UPRIGHT[LAID[plan][0]]
        several += len(true) > 1
    assert several > 1


@pytest.mark.parametrize("plan", ["front", "right"])
def test_of_a_part_that_is_told_to_be_symmetric_along_its_axis_all_symmetric_completions_are_found(plan):
    for slopes, slabs, more, beyond, told in (case for case in CASES if case[1] != 2):
        part, solid, missing = sample(slopes, slabs, told, plan, 1, symmetric=True)
        true = completions(part, slopes, solid, plan, missing, more, beyond, symmetric=True)
        assert lines_missing(solid, VIEWS, missing, 500, ["xyz"[LAID[plan][0]]]).count == len(true), (slopes, slabs, told)


def test_two_new_levels_may_stand_across_from_each_other_in_two_gaps():
    """A wedge stepped at both ends: where no line tells how far, the steps may be less deep, or deeper."""
    wedge = (Piece((60.0, 0.0)), Piece((60.0, 30.0)), Piece((20.0, 30.0)), Piece((0.0, 0.0)))
    solid = build([Profile("wedge", False, "front", (0.0, 0.0), wedge, (0.0, 40.0)),
                   Block("near", True, (40, None), (None, 10), (None, None)),
                   Block("far", True, (40, None), (30, None), (None, None))])
    missing = [line for line in lines_across(solid, "front") if crosses(solid, line)]
    assert len(missing) == 7
    found = lines_missing(solid, VIEWS, missing, 50, "y")
    levels = sorted(other.levels.tolist() for other in found.others)
    assert found.complete and np.allclose(levels, [[0, 5, 35, 40], [0, 50 / 3, 70 / 3, 40]])


def crosses(solid, line):
    """Whether a line tells of the steps."""
    shape = lines_of(view_of(solid, line.view), line.kind)[line.number]
    ends = np.array([shape.p, shape.q])
    if line.view == "top":
        return ends[:, 0].min() >= 40
    return ends[0, 0] == ends[1, 0] and 0 < ends[0, 0] < 40


@pytest.mark.parametrize("slopes", [ROW, DEPTH, RHOMBUS, CROSS], ids=["row", "depth", "rhombus", "cross"])
def test_completions_on_the_parts_own_levels_are_those_of_all_fillings(slopes):
    several = 0
    for told, seed in product((4, 5, 6, 7), range(6)):
        part, solid, missing = sample(slopes, 1 if slopes.size > 2 else 3, told, "top", seed)
        true = completions(part, slopes, solid, "top", missing, 0, False)
        found = lines_missing(solid, VIEWS, missing, 500)
        own = prism_of(solid, 2).levels
        drawn = {other.filled.tobytes() for other in found.others if np.isin(other.levels, own).all()}
        assert len(drawn) + 1 == len(true), (told, seed)
        several += len(true) > 1
    assert several > 1 or slopes.size > 2


def planted():
    """A wedge with a pocket whose depth the lines across alone tell."""
    slope = (Piece((60.0, 0.0)), Piece((60.0, 40.0)), Piece((0.0, 40.0)), Piece((30.0, 0.0)))
    return build([Profile("wedge", False, "top", (30.0, 0.0), slope, (0.0, 30.0)),
                  Block("pocket", True, (40, 50), (10, 30), (12, None))])


def test_a_pocket_whose_depth_nothing_tells_could_be_of_any_depth_or_a_boss():
    """As of a square block: its own depth, one less and one more, and a boss in its place, which stands out beyond all."""
    solid = planted()
    missing = [line for line in lines_across(solid, "top") if line.kind is LineKind.HIDDEN]
    assert len(missing) == 6
    found = lines_missing(solid, VIEWS, missing, 50)
    levels = [other.levels[1] for other in found.others]
    assert found.count == 4 and not found.certain and min(levels) < 12 and any(12 < level < 30 for level in levels)
    assert sorted(other.solid.volume > solid.volume + 1 for other in found.others) == [False, True, True]


def test_lines_of_the_view_along_the_axis_are_not_left_out():
    solid = planted()
    assert views_to_complete(solid, VIEWS) == ("front", "right")
    with pytest.raises(RefusedError, match="left out of the view in which its inclined and round faces stand edge-on"):
        lines_missing(solid, VIEWS, [LeftOut("top", LineKind.VISIBLE, 0)], 50)


def test_lines_that_there_are_not_are_told():
    with pytest.raises(ValueError, match="there are"):
        lines_missing(planted(), VIEWS, [LeftOut("front", LineKind.VISIBLE, 40)], 50)


def test_lines_that_are_not_made_of_the_pieces_of_the_proof_are_refused():
    solid = planted()
    [finer] = finer_prisms(prism_of(solid, 2), 0, (), beyond=False)
    pieces, states = finer.pieces("front"), finer.states("front", finer.part)
    line = LeftOut("front", LineKind.VISIBLE, next(
        k for k, line in enumerate(lines_of(view_of(solid, "front"), LineKind.VISIBLE)) if line.p[1] == line.q[1]))
    blank = blank_pieces(solid, pieces, states, [line])
    assert (states[blank] == State.VISIBLE).sum() > 1
    other_kind, in_bits = states.copy(), replace(pieces, line=np.arange(len(states)))
    other_kind[np.flatnonzero(blank & (states == State.VISIBLE))[0]] = State.HIDDEN
    for wrong in ((pieces, other_kind), (in_bits, states), (replace(pieces, ends=pieces.ends + 0.5), states)):
        with pytest.raises(RefusedError, match="not those that the proof reckons with"):
            blank_pieces(solid, *wrong, [line])


def test_parts_along_several_axes_are_refused():
    with pytest.raises(RefusedError, match="in their true shape in one view"):
        lines_missing(solid_of(load_bank()["chamfered-saddle"].sample(1)), VIEWS, [], 50)
