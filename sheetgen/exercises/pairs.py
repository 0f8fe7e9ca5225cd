"""A pair: question and answer of one variant, two pages. A variant that cannot be printed right makes way for the next draw."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass

from sheetgen.bank import Family
from sheetgen.exercises.answer import answer_page
from sheetgen.exercises.question import question_page
from sheetgen.faults import Fault, FaultError
from sheetgen.ink import Page
from sheetgen.problem import Problem, RefusedError, problem_of
from sheetgen.sheet import NoRoomError, Settings

DRAWS = 20
"""Variants of one seed that are tried before the seed is given up."""

MOST_REASONS = 6
"""Reasons told of a seed that was given up."""


class RefusedSeedError(FaultError):
    """None of the variants of a seed can be printed so that it would be right."""


@dataclass(frozen=True, eq=False)
class Pair:
    """Question and answer of one problem. ``refused``: why earlier variants of the same seed were not printed."""

    problem: Problem
    question: Page
    answer: Page
    refused: tuple[str, ...] = ()


def make_pair(family: Family, seed: int, settings: Settings, sheet: int = 1, sheets: int = 1) -> Pair:
    """Draw question and answer of the first variant of ``seed`` that can be printed right, as sheet ``sheet`` of ``sheets``.

    Raises: BankError for a fault of the family, TemplateError for a title block that cannot hold what it should,
    RefusedSeedError if DRAWS variants are refused.
    """
    refused: list[str] = []
    for draw in range(DRAWS):
        problem = problem_of(family.sample(seed, draw))
        try:
            problem.check()
            question = question_page(problem, settings, sheet, sheets)
            answer = answer_page(problem, settings, sheet, sheets)
        except (RefusedError, NoRoomError) as error:
            refused.append(str(error))
            continue
        return Pair(problem, question, answer, tuple(refused))
    raise RefusedSeedError(_given_up(family, seed, refused))


def _given_up(family: Family, seed: int, refused: list[str]) -> list[Fault]:
    """Each reason with the number of variants that it stopped, the most frequent first."""
    wanted = "sizes, measures or paper that let at least one be printed right"
    reasons = Counter(reason for text in refused for reason in dict.fromkeys(text.split("; ")))
    return [Fault(family.file, 0, f"seed {seed}", f"{count} of {DRAWS} variants refused: {reason}", wanted)
            for reason, count in reasons.most_common(MOST_REASONS)]
