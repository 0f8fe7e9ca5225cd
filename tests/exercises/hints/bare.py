"""Drawings without sizes: what hints are worked out of, in a hundredth of the time."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from sheetgen.bank import Family
from sheetgen.exercises.drawing import Drawing
from sheetgen.exercises.hints import Hints, hints_of
from sheetgen.problem import Problem, problem_of
from sheetgen.sheet import Settings
from sheetgen.sheet.layout import layouts, views_asked
from sheetgen.sheet.titleblock_ink import titleblock_box
from sheetgen.sight import PlacedView


def bare(problem: Problem, settings: Settings) -> Drawing:
    """The views of a problem where they would stand, at the largest scale at which they fit, without sizes and names."""
    block = titleblock_box(settings.block, settings.paper)
    layout = layouts(settings.paper, problem.solid.size, settings.projection, views_asked(settings.side), block)[0]
    placed = (PlacedView(problem.sights[name], layout.scale, np.array(place)) for name, place in layout.places.items())
    return Drawing(layout, tuple(placed), (), ())


def hinted(problem: Problem, settings: Settings) -> tuple[Drawing, Hints]:
    """A bare drawing of a problem, and its hints."""
    drawing = bare(problem, settings)
    return drawing, hints_of(problem, settings, drawing, problem.view("isometric"))


def problems(family: Family, seeds: range) -> Iterator[Problem]:
    """The first draws of some seeds."""
    for seed in seeds:
        yield problem_of(family.sample(seed))
