"""Which parts with faces square to the views fit given views: held against all parts of small grids."""

from __future__ import annotations

from functools import cache
from itertools import islice

import numpy as np
import pytest

from sheetgen.bank import load_bank
from sheetgen.certainty import Grid, certainty_of, grid_of
from sheetgen.certainty.grid import is_square
from sheetgen.certainty.sights import State, looks_along, sight_of, states_of
from sheetgen.problem import solid_of
from sheetgen.projection import view_of
from tests.certainty import brute

VIEWS = ("front", "top", "right", "left", "rear", "bottom")
QUESTIONS = [   # given, asked
    (("front", "top"), "right"), (("front", "top"), "left"), (("front", "right"), "top"), (("top", "left"), "front"),
    (("front", "left"), "bottom"), (("rear", "bottom"), "left")]


@cache
def parts_of(shape):
    """All parts of a grid, and what each view shows of them."""
    parts = brute.fillings_without_touching_edges(shape)
    parts = parts[[brute.is_a_part(part) for part in parts]]
    return parts, {view: brute.lines_of_parts(parts, view) for view in VIEWS}


def answers_among(parts, views, k, given, asked):
    """The different asked views of the parts that look like part ``k`` in the given ones."""
    fits = np.all([(views[view] == views[view][k]).all(axis=1) for view in given], axis=0)
    answers = views[asked] if asked else parts.reshape(len(parts), -1)
    return {answers[i].tobytes() for i in np.flatnonzero(fits)}


def grid(part):
    return Grid(tuple(10.0 * np.arange(n + 1) for n in part.shape), part)


def answers_found(found, part, asked):
    """The different asked views of a part and of the others that were found."""
    parts = np.array([part, *(other.filled for other in found.others)])
    return {row.tobytes() for row in (brute.lines_of_parts(parts, asked) if asked else parts.reshape(len(parts), -1))}


@pytest.mark.parametrize("view", VIEWS)
def test_columns_tell_the_lines_that_edges_tell(view):
    """On all parts of 2 x 3 x 2 cells and on many of 3 x 3 x 3."""
    parts, _ = parts_of((2, 3, 2))
    draws = np.random.default_rng(5).random((2_000, 3, 3, 3)) < 0.6
    draws = draws[[brute.touches_nothing_by_an_edge_or_corner(part) for part in draws]]
    for some in (parts, draws):
        sight = sight_of(view, some.shape[1:])
        assert len(some) > 40
        ours = states_of(sight, some.reshape(len(some), -1))
        theirs = brute.lines_of_parts(some, view)
        order = np.lexsort((sight.at[:, 1], sight.at[:, 0], sight.axis))
        assert (ours[:, order] == theirs).all()


@pytest.mark.parametrize(("given", "asked"), [*QUESTIONS, (("front", "top", "left"), None), (("front", "right"), None)])
@pytest.mark.parametrize("shape", [(2, 2, 2), (2, 3, 2)])
def test_all_answers_are_found_and_no_others_on_small_grids(shape, given, asked):
    parts, views = parts_of(shape)
    step = 1 if shape == (2, 2, 2) else 17
    for k in range(0, len(parts), step):
        found = certainty_of(grid(parts[k]), given, asked, 500)
        true = answers_among(parts, views, k, given, asked)
        assert found.count == len(true) and found.certain == (len(true) == 1)
        assert answers_found(found, parts[k], asked) == true


@pytest.mark.parametrize(("shape", "given", "asked"), [
    ((3, 3, 2), ("front", "right"), "top"), ((3, 3, 2), ("front", "top"), "left"), ((2, 3, 3), ("front", "top"), "right"),
    ((4, 3, 1), ("front", "right"), "top")])
def test_all_answers_are_found_and_no_others_on_samples_of_larger_grids(shape, given, asked):
    """Against all fillings, up to 262,144; half of the samples are taken from those that look like others in the given views.
    Most parts have one answer: of the questions here, only those for the view with the most squares have several."""
    fillings, views = larger(shape)
    shown = np.concatenate([views[view] for view in given], axis=1)
    key = (shown.astype(np.int64) @ np.random.default_rng(1).integers(1, 2**40, shown.shape[1]))     # alike: same key
    _, kind, count = np.unique(key, return_inverse=True, return_counts=True)
    order = np.random.default_rng(len(asked)).permutation(len(fillings))
    crowded = order[count[kind[order]] > 1]
    several = 0
    for some in (order, crowded):
        for k in islice((k for k in some.tolist() if brute.is_a_part(fillings[k])), 30):
            fits = np.flatnonzero((shown == shown[k]).all(axis=1))
            true = {views[asked][i].tobytes() for i in fits if brute.is_a_part(fillings[i])}
            found = certainty_of(grid(fillings[k]), given, asked, 5000)
            assert answers_found(found, fillings[k], asked) == true and found.certain == (len(true) == 1)
            several += len(true) > 1
    assert (several > 10) == (asked != "left")


@cache
def larger(shape):
    """All fillings of a grid that may be parts, and what four views show of them."""
    fillings = brute.fillings_without_touching_edges(shape)
    return fillings, {
        view: np.concatenate([brute.lines_of_parts(some, view) for some in np.array_split(fillings, 32)])
        for view in ("front", "top", "right", "left")}


@pytest.mark.parametrize(("given", "asked"), [(("front", "right"), "top"), (("front", "top"), "left")])
def test_no_part_that_fits_has_a_level_that_the_given_views_do_not_show(given, asked):
    """Parts of 2 x 2 x 2 cells, with one more level along x and along y: what fits of 3 x 3 x 2 cells does without them."""
    fillings, views = larger((3, 3, 2))
    shown = np.concatenate([views[view] for view in given], axis=1)
    for part in parts_of((2, 2, 2))[0][::5]:
        finer = part[np.ix_((0, 0, 1), (0, 1, 1), (0, 1))]
        if not np.diff(finer, axis=0).any() or not np.diff(finer, axis=1).any():
            continue
        own = np.concatenate([brute.lines_of_parts(finer[None], view) for view in given], axis=1)
        fits = fillings[(shown == own).all(axis=1)]
        assert len(fits) and (fits[:, 0] == fits[:, 1]).all() and (fits[:, :, 1] == fits[:, :, 2]).all()


@pytest.mark.parametrize("view", VIEWS)
def test_the_lines_between_columns_are_those_that_are_drawn(view):
    """Lengths of visible and hidden lines of the bank's square-faced parts."""
    bank, tried = load_bank(), 0
    for name in bank:
        solid = solid_of(bank[name].sample(2)) if bank[name].rung == 1 else None
        if solid is None or not is_square(solid):
            continue
        part, linework = grid_of(solid), view_of(solid, view).linework
        sight = sight_of(view, part.filled.shape)
        states, looks = states_of(sight, part.filled.ravel()), looks_along(view)[0]
        along = 3 - sight.axis - looks
        length = np.array([np.diff(part.levels[axis])[piece] for axis, piece in zip(along, sight.at[:, 1], strict=True)])
        for state, lines in ((State.VISIBLE, linework.visible), (State.HIDDEN, linework.hidden)):
            assert length[states == state].sum() == pytest.approx(sum(line.length for line in lines), abs=1e-3)
        tried += 1
    assert tried == 16
