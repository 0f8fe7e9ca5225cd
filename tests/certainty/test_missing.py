"""Views with lines left out: held against all parts of small grids that complete them by as many strokes."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest
from pysat.solvers import Glucose4

from sheetgen.bank.features import Block
from sheetgen.certainty import Grid, LeftOut, lines_missing
from sheetgen.certainty.clauses import Clauses
from sheetgen.certainty.encoding import Shown
from sheetgen.certainty.strokes import strokes_in, strokes_of
from sheetgen.projection import LineKind, lines_of, view_of
from sheetgen.refusals import RefusedError
from sheetgen.solid import SolidError, build
from tests.certainty import brute

VIEWS = ("front", "top", "right")
UNIT = 10.0


@cache
def all_of(shape):
    """All fillings of a grid that may be parts, and the rows of what each view shows of them."""
    parts = brute.fillings_without_touching_edges(shape)
    return parts, {view: brute.lines_in_rows(parts, view) for view in VIEWS}


def solid_of(part):
    boxes = Grid(tuple(UNIT * np.arange(n + 1) for n in part.shape), part).boxes
    return build([Block(f"box{k}", False, *map(tuple, box.T.tolist())) for k, box in enumerate(boxes)])


def lines_in(solid):
    """All lines of the three views, to be left out."""
    return [LeftOut(view, kind, number) for view in VIEWS for kind in (LineKind.VISIBLE, LineKind.HIDDEN)
            for number in range(len(lines_of(view_of(solid, view), kind)))]


def without(rows, solid, missing, finer):
    """Rows of the views on a grid finer by ``finer`` along the axes, 0 where lines are ``missing``."""
    given = {view: tuple(some.copy() for some in rows[view]) for view in VIEWS}
    for line in missing:
        shape = lines_of(view_of(solid, line.view), line.kind)[line.number]
        across = [axis for axis in range(3) if axis != brute.TOWARD[line.view][0]]
        low, high = np.minimum(shape.p, shape.q), np.maximum(shape.p, shape.q)
        along = int(np.argmax(high - low))
        step = UNIT / np.array([finer[axis] for axis in across])
        begin, end = round(low[along] / step[along]), round(high[along] / step[along])
        given[line.view][1 - along][round(low[1 - along] / step[1 - along]), begin:end] = 0
    return given


def completions(part, solid, missing, more=None):
    """The drawings of all parts that complete the views by as many strokes; ``more``: new levels, all that may be needed."""
    told, found = len(missing), set()
    most = told // 2 if more is None else more
    shares = [(x, y, most - x - y) for x in range(most + 1) for y in range(most + 1 - x)]
    for share in shares:
        finer = tuple(more + 1 for more in share)
        own = part.repeat(finer[0], 0).repeat(finer[1], 1).repeat(finer[2], 2)
        parts, views = all_of(own.shape)
        whole = {view: [some[0] for some in brute.lines_in_rows(own[None], view)] for view in VIEWS}
        given = without(whole, solid, missing, finer)
        fits = np.ones(len(parts), dtype=bool)
        strokes = np.zeros(len(parts), dtype=int)
        for view in VIEWS:
            for rows, blank in zip(views[view], given[view], strict=True):
                fits &= ((rows == blank) | (blank == 0)).all(axis=(1, 2))
                strokes += brute.strokes(rows, blank)
        for k in np.flatnonzero(fits & (strokes == told)):
            if brute.is_a_part(parts[k]):
                found.add(drawing(parts[k], finer))
    return found


def drawing(part, finer):
    """The lines of the three views of a part, new levels in one gap counted from its low end on."""
    kept, names = [], []
    for axis in range(3):
        padded = np.pad(part, [(1, 1) if a == axis else (0, 0) for a in range(3)])
        used = np.flatnonzero(np.diff(padded, axis=axis).any(axis=tuple(a for a in range(3) if a != axis)))
        gaps = [level // finer[axis] for level in used]
        names.append(tuple((gap, level % finer[axis] > 0 and sum(other == gap for other in gaps[:n + 1]))
                           for n, (gap, level) in enumerate(zip(gaps, used, strict=True))))
        kept.append(used[:-1])
    tidy = part[np.ix_(*kept)]
    return tuple(names), *(brute.lines_of_parts(tidy[None], view).tobytes() for view in VIEWS)


SAMPLES = [((2, 2, 2), told, seed) for told in (1, 2, 3) for seed in range(3)] + \
          [((2, 2, 1), told, seed) for told in (4, 5) for seed in range(2)] + [((3, 1, 2), 3, seed) for seed in range(2)]


def sample(shape, told, seed):
    """A part of a grid that has all its levels, and lines of it, drawn by lot."""
    draw = np.random.default_rng([told, seed, *shape])
    while True:
        part = draw.random(shape) < 0.7
        if not brute.is_a_part(part) or Grid(tuple(np.arange(n + 1.0) for n in shape), part).tidied().filled.shape != shape:
            continue
        try:
            solid = solid_of(part)
        except SolidError:                           # two hollows that meet in a point
            continue
        lines = lines_in(solid)
        return part, solid, [lines[k] for k in draw.permutation(len(lines))[:told]]


def test_all_completions_by_the_number_told_are_found_and_no_others():
    """Of samples of lines left out, with new levels wherever so many strokes allow them."""
    for shape, told, seed in SAMPLES:
        part, solid, missing = sample(shape, told, seed)
        true = completions(part, solid, missing)
        found = lines_missing(solid, VIEWS, missing, 500)
        assert found.count == len(true) and found.certain == (len(true) == 1), (shape, told, seed)


@pytest.mark.parametrize(("told", "seed"), [(4, 120), (5, 100), (4, 1)])
def test_several_completions_on_the_parts_own_levels_are_those_of_all_fillings(told, seed):
    part, solid, missing = sample((3, 3, 2), told, seed)
    true = completions(part, solid, missing, more=0)
    found = lines_missing(solid, VIEWS, missing, 500)
    drawn = {drawing(other.filled, (1, 1, 1)) for other in found.others if other.filled.shape == part.shape}
    assert drawn | {drawing(part, (1, 1, 1))} == true
    assert len(true) == found.count == (1 if seed == 1 else 2)


def test_a_pocket_whose_depth_nothing_tells_could_be_of_any_depth_or_a_boss():
    """Of its lines only those of the plan are given, and six are missing: its own depth, one less and one more, and a boss in its
    place, which stands out beyond all that is drawn, are four answers."""
    solid = build([Block("base", False, (0, 60), (0, 40), (0, 30)), Block("pocket", True, (20, 40), (10, 30), (12, None))])
    missing = [line for line in lines_in(solid) if line.kind is LineKind.HIDDEN]
    assert len(missing) == 6
    found = lines_missing(solid, VIEWS, missing, 50)
    levels = [other.levels[2][1] for other in found.others]
    assert found.count == 4 and not found.certain and min(levels) < 12 and any(12 < level < 30 for level in levels)
    assert sorted(other.volume > 72_000 for other in found.others) == [False, False, True]
    assert all(other.filled.shape == (3, 3, 2) for other in found.others)


def test_strokes_are_counted_as_a_student_would_draw_them():
    """Any states of two lines of six pieces each, some of them given, against a count written apart."""
    draw = np.random.default_rng(6)
    for _ in range(60):
        states, given = draw.integers(0, 3, 12), draw.integers(0, 3, 12) * (draw.random(12) < 0.4)
        states[given > 0] = given[given > 0]
        heap = Clauses(0)
        shown = Shown(heap.new(12), heap.new(12))
        line = np.repeat([0, 1], 6)
        literals = strokes_of(heap, line, shown, given == 0)
        heap.each(np.where(states == 0, shown.same, -shown.same))
        heap.each(np.where(states == 1, -shown.level, shown.level))
        with Glucose4(bootstrap_with=heap.all_lists()) as solver:
            assert solver.solve()
            model = solver.get_model()
        counted = sum((literal > 0) == (model[abs(literal) - 1] > 0) for literal in literals)
        assert counted == brute.strokes(states.reshape(1, 2, 6), given.reshape(2, 6))[0] == strokes_in(line, states, given == 0)


def test_each_other_completion_has_all_given_lines_and_as_many_strokes_more():
    step = np.ones((2, 1, 2), dtype=bool)
    step[1, 0, 1] = False
    solid = solid_of(step)
    missing = [LeftOut("front", LineKind.VISIBLE, k) for k, line in enumerate(lines_of(view_of(solid, "front"), LineKind.VISIBLE))
               if UNIT in line.p and UNIT in line.q]
    assert len(missing) == 2
    assert lines_missing(solid, VIEWS, missing, 50).certain


def test_lines_that_there_are_not_are_told():
    solid = solid_of(np.ones((1, 1, 1), dtype=bool))
    for kind, number in ((LineKind.VISIBLE, 4), (LineKind.HIDDEN, 0), (LineKind.CENTRE, 0)):
        with pytest.raises(ValueError, match="there are"):
            lines_missing(solid, VIEWS, [LeftOut("front", kind, number)], 50)
    with pytest.raises(ValueError, match="left"):
        lines_missing(solid, VIEWS, [LeftOut("left", LineKind.VISIBLE, 0)], 50)
    with pytest.raises(ValueError, match="three axes"):
        lines_missing(solid, ("front", "top", "rear"), [LeftOut("front", LineKind.VISIBLE, 0)], 50)


def test_more_lines_than_can_be_proved_are_refused():
    solid = solid_of(np.ones((1, 1, 1), dtype=bool))
    with pytest.raises(RefusedError, match="more than 7 lines"):
        lines_missing(solid, VIEWS, lines_in(solid)[:8], 50)
