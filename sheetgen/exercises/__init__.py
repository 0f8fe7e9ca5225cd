"""Exercises: a problem asked in one kind, and its sheets by role. The one place that knows which sheets there are."""

from sheetgen.exercises.coding import DRAWS, style_of
from sheetgen.exercises.help import Help, Length, Stage
from sheetgen.exercises.kind import Kind, Sheets
from sheetgen.exercises.kinds import kinds
from sheetgen.exercises.making import USUAL, Exercise, RefusedSeedError, check_seed, make_exercise, sheets_of, with_kind
from sheetgen.exercises.recalling import read_code, recalled
from sheetgen.exercises.roles import ASKED, FOR_MARKERS, FOR_STUDENTS, ONCE, PRINTED, WORKED, Particulars, Role
from sheetgen.exercises.served import SHARES, Served, Serving, look_at, serves_seed
from sheetgen.exercises.tried import block_faults

__all__ = [
    "ASKED", "DRAWS", "FOR_MARKERS", "FOR_STUDENTS", "ONCE", "PRINTED", "SHARES", "USUAL", "WORKED", "Exercise", "Help", "Kind",
    "Length", "Particulars", "RefusedSeedError", "Role", "Served", "Serving", "Sheets", "Stage", "block_faults", "check_seed",
    "kinds", "look_at", "make_exercise", "read_code", "recalled", "serves_seed", "sheets_of", "style_of", "with_kind",
]
