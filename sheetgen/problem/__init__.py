"""One variant as a problem: its solid, measures, proof, difficulty and general notes."""

from sheetgen.problem.problem import Problem, RefusedError
from sheetgen.problem.variants import code_of, measured, problem_of, solid_of

__all__ = [
    "Problem", "RefusedError", "code_of", "measured", "problem_of", "solid_of",
]
