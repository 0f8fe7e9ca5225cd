"""Marking: what an answer is worth, line by line, and what its marker lays beside or over it."""

from sheetgen.exercises.marking.record import Marking, usual_marking
from sheetgen.exercises.marking.scheme import Part, Row, Scheme, columns_of, scheme_of

__all__ = ["Marking", "Part", "Row", "Scheme", "columns_of", "scheme_of", "usual_marking"]
