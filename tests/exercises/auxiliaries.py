"""Exercises of the kind ``auxiliary``, for its tests."""

from __future__ import annotations

from functools import cache

from sheetgen.bank import load_bank
from sheetgen.exercises.kinds.auxiliary.task import task_of
from sheetgen.problem import problem_of
from sheetgen.refusals import RefusedError
from sheetgen.sheet import Style, settings_of

BANK = load_bank()


def settings_with(**style):
    return settings_of(Style(**style))


@cache
def first_of(name: str, projection: str = "first", whole: bool = False, paper: str = "A3") -> tuple:
    """The first seed of a family that can be drawn: problem, settings, task."""
    settings = settings_with(projection=projection, whole=whole, paper=paper)
    for seed in range(1, 12):
        problem = problem_of(BANK[name].sample(seed))
        try:
            return problem, settings, task_of(problem, settings)
        except RefusedError:
            continue
    raise AssertionError(f"no seed of {name} can be drawn")
