"""Candidates against an independent kernel: the right ones are as it draws the part, the wrong ones are not, and no two are
equal."""

from __future__ import annotations

from collections import Counter
from itertools import combinations

import numpy as np
import pytest

from sheetgen.bank import load_bank
from sheetgen.exercises.kinds.match.sheet import LETTERS
from sheetgen.exercises.kinds.match.sheet_of_four import four_of
from sheetgen.exercises.kinds.match.sheet_of_one import one_of, whole_of_one
from sheetgen.exercises.kinds.match.siblings import siblings
from sheetgen.problem import problem_of
from sheetgen.projection import LineKind
from sheetgen.sheet import Style, settings_of
from tests.outside.kernel import compare, compare_hidden, reference_solid

BANK = load_bank()
STYLES = (Style(), Style(projection="third", side="right"))
STEPS = {("first", "left"): 1, ("first", "right"): -1, ("first", "top"): -1, ("third", "left"): -1, ("third", "right"): 1,
         ("third", "top"): 1}
"""Where a view stands beside the front view, or over or under it: 1 at its right or above (ISO 5456-2:1996 clause 5, from
memory)."""


def lines_of(view):
    """Visible and hidden lines as drawn, back in the part's mm, from the lower left corner."""
    found = [[shape.points() for shape in view.lines(kind)] for kind in (LineKind.VISIBLE, LineKind.HIDDEN)]
    return from_corner(*found)


def from_corner(visible, hidden):
    corner = np.concatenate(visible).min(axis=0)
    return [[line - corner for line in lines] for lines in (visible, hidden)]


def same(one, other):
    """Whether two views have the same lines to a twentieth of a millimetre."""
    return compare(one[0], other[0], 0.05).agree and compare_hidden(one, other, 0.05).agree


def seen_as(views, projection):
    """By what each view of a set claims to be from where it stands: front is the one with others beside it both ways."""
    if len(views) == 1:
        return {}
    front, *others = views
    claims = {"front": front}
    for view in others:
        across = view.box[0] > front.box[2] or view.box[2] < front.box[0]
        step = 1 if (view.box[0] > front.box[2] if across else view.box[1] > front.box[3]) else -1
        names = ("left", "right") if across else ("top", "bottom")
        right = STEPS[projection, names[0]] == step
        claims[names[0] if right else names[1]] = view
    return claims


def check(family, seed, way, style):
    """Make a sheet and check it; how many were compared: candidates, those that are right, pairs of them, pairs of pictorials."""
    problem, settings = problem_of(BANK[family].sample(seed)), settings_of(style)
    task = way(problem, settings, list(siblings(problem)))
    part = reference_solid([feature for _, feature in problem.features])
    kernel = {}

    def of_kernel(name):
        if name not in kernel:
            kernel[name] = from_corner(*part.views(name))
        return kernel[name]

    if way is one_of:
        [name] = {view.view.name for views in task.placed for view in views if view.view is problem.view(view.view.name)
                  and views is task.placed[LETTERS.index(task.slots[0].right)]}
        right = [same(lines_of(views[0]), of_kernel(name)) for views in task.placed]
    else:
        right = [all(same(lines_of(view), of_kernel(name)) for name, view in seen_as(views, style.projection).items())
                 for views in task.placed]
    if way is four_of:
        own = next(k for k, view in enumerate(task.pictorials) if view.view.solid is problem.solid)
        expected = int(task.slots[own].right) - 1
    else:
        expected = LETTERS.index(task.slots[0].right)
    assert right == [k == expected for k in range(4)], (family, seed, way.__name__, right, expected)
    for one, other in combinations(task.placed, 2):
        boxes = [np.array([view.box for view in views]) - np.tile(views[0].box[:2], 2) for views in (one, other)]
        equal = boxes[0].shape == boxes[1].shape and np.allclose(*boxes, atol=0.05) and all(
            same(lines_of(a), lines_of(b)) for a, b in zip(one, other, strict=True))
        assert not equal
    pictorials = list(combinations(task.pictorials, 2))
    assert not any(compare(*(from_corner([shape.points() for shape in view.lines(LineKind.VISIBLE)], [])[0]
                             for view in pair), 0.05).agree for pair in pictorials)
    return Counter({"candidates": len(right), "right": sum(right), "pairs": 6, "pairs of pictorials": len(pictorials)})


@pytest.mark.parametrize(("family", "seed", "way", "style"), [
    ("stepped-block", 7, four_of, STYLES[0]), ("counterbored-block", 3, one_of, STYLES[1]),
    ("vee-guide", 5, whole_of_one, STYLES[0]), ("slotted-angle", 6, whole_of_one, STYLES[1]),
], ids=lambda value: getattr(value, "__name__", value) if not isinstance(value, Style) else value.projection)
def test_one_candidate_alone_is_the_view_of_the_part_that_a_kernel_draws(family, seed, way, style):
    assert check(family, seed, way, style)["right"] == 1
