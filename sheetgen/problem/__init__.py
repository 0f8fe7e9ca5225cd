"""One variant as a problem: its solid, measures, proof, difficulty and general notes."""

from sheetgen.problem.problem import Problem
from sheetgen.problem.variants import problem_of, solid_of

__all__ = [
    "Problem", "problem_of", "solid_of",
]
