"""One variant as a problem: its solid, measures, proof, difficulty and general notes."""

from sheetgen.problem.measured import measure_faults
from sheetgen.problem.problem import Problem
from sheetgen.problem.variants import problem_of, solid_of

__all__ = [
    "Problem", "measure_faults", "problem_of", "solid_of",
]
