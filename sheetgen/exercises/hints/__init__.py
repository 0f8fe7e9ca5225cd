"""Hints: what helps a student on with one problem, little by little, and what to check one's own drawing by."""

from sheetgen.exercises.hints.helping import help_of
from sheetgen.exercises.hints.hints import hints_of
from sheetgen.exercises.hints.pages import hint_pages, plain_hint_pages
from sheetgen.exercises.hints.record import Hints, Length, ViewCheck

__all__ = ["Hints", "Length", "ViewCheck", "help_of", "hint_pages", "hints_of", "plain_hint_pages"]
