"""What the sheets of the kind ``match`` have in common: one pictorial and four candidates for a view or
for the set of views, or four of each."""

from __future__ import annotations

from sheetgen.exercises.chance import number_of
from sheetgen.exercises.kinds.match.one import options_of
from sheetgen.exercises.kinds.match.sheet import Asked
from sheetgen.exercises.kinds.match.sheet_of_four import four_of
from sheetgen.exercises.kinds.match.sheet_of_one import one_of, whole_of_one
from sheetgen.exercises.kinds.match.siblings import siblings
from sheetgen.problem import Problem
from sheetgen.refusals import Reason, RefusedError
from sheetgen.sheet import Settings
from sheetgen.sheet.layout import SCALES, views_asked


def task_of(problem: Problem, settings: Settings) -> Asked:
    """One of the three, as the seed has it; or the next, if that cannot be drawn.

    Raises: RefusedError if none can.
    """
    others = list(siblings(problem))
    ways = (one_of, whole_of_one, four_of)
    first = number_of(problem, "way", len(ways))
    reasons = list[Reason]()
    for way in (*ways[first:], *ways[:first]):
        try:
            return way(problem, settings, others)
        except RefusedError as error:
            reasons += error.reasons
    raise RefusedError(reasons)


def served(problem: Problem, settings: Settings) -> object:
    """Candidates for a view that are the part's own, which are soon found, or whatever else can be asked.

    Raises: RefusedError if nothing can.
    """
    for view in views_asked(settings.side):
        try:
            return options_of(problem, settings, (), view, SCALES[0][1])
        except RefusedError:
            continue
    return task_of(problem, settings)
