"""The counts of marking schemes against the linework of an independent kernel, joined by the same definition written again."""

from __future__ import annotations

import pytest

from sheetgen.bank import load_bank
from sheetgen.exercises.drawing import drawing_of
from sheetgen.exercises.marking import scheme_of, usual_marking
from sheetgen.problem import problem_of
from sheetgen.sheet import Style, settings_of
from tests.outside.counted import Counted, counted
from tests.outside.kernel import reference_solid

BANK = load_bank()

FAMILIES = ("stepped-block", "counterbored-block", "angle-bracket-bored", "countersunk-plate", "chamfered-saddle",
            "conical-boss", "hinge-lug", "shaft-support", "pipe-clamp", "dovetail-guide", "slotted-wedge",
            "tapered-spindle-block")
"""Planes, bores that meet in a curve, counterbores, smooth joins, countersinks, slopes, cones, keyways, dovetails; rims of a hole
across a spindle, of which the farther falls in one with the nearer. (Of a cross-drilled boss, where they do in two views, and of
a bored tee the kernel takes long: their first six variants, and the first of the tee, were counted alike.)"""

SETTINGS = settings_of(Style(side="both", paper="A2"))


@pytest.mark.parametrize("name", FAMILIES)
def test_the_lines_that_a_scheme_counts_are_those_of_the_kernels_linework(name):
    variant = BANK[name].sample(1)
    problem, theirs = problem_of(variant), reference_solid(variant.features)
    scheme = scheme_of(drawing_of(problem, SETTINGS), "both", usual_marking())
    for part in (part for part in scheme.parts if part.view):
        ours = {row.sort: row.count for row in part.rows}
        mine = Counted(*(ours.get(sort, 0) for sort in ("outlines", "curves", "hidden")))
        assert mine == counted(theirs, part.name), part.name
