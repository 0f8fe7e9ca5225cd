"""The sheets of an exercise: question and answer, and small pictorials for contact sheets."""

from sheetgen.exercises.answer import answer_page
from sheetgen.exercises.pairs import DRAWS, Pair, RefusedSeedError, make_pair
from sheetgen.exercises.question import question_page

__all__ = [
    "DRAWS", "Pair", "RefusedSeedError", "answer_page", "make_pair", "question_page",
]
