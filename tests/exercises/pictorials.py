"""Exercises of the kind ``pictorial``, for its tests."""

from __future__ import annotations

from sheetgen.bank import load_bank
from sheetgen.exercises import Role, kinds, make_exercise
from sheetgen.ink import Text
from sheetgen.problem import problem_of
from sheetgen.refusals import RefusedError
from sheetgen.sheet import Style, settings_of

KIND, BANK = kinds()["pictorial"], load_bank()


def settings_with(**style):
    return settings_of(Style(**style))


def made(family="corner-block", seed=1, roles=(Role.QUESTION, Role.ANSWER), **style):
    return make_exercise(BANK[family], seed, settings_with(**style), roles, "pictorial")


def task_of(family="corner-block", seed=1, **style):
    """Of the first draw of a seed that can be drawn."""
    settings = settings_with(**style)
    for draw in range(8):
        problem = problem_of(BANK[family].sample(seed, draw))
        try:
            return problem, settings, KIND.shared(problem, settings)
        except RefusedError:
            continue
    raise AssertionError(f"no draw of {family} can be drawn")


def words_on(page):
    return " ".join(mark.text for mark in page.marks if isinstance(mark, Text))
