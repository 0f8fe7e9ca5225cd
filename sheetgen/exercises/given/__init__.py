"""What kinds whose question is given views have in common: the assumption that is printed, and the scheme by lines."""

from sheetgen.exercises.given.assumed import assumed, side_of

__all__ = ["assumed", "side_of"]
