"""Many sheets made together: plans, worksheets, and the folder they go to."""

from sheetgen.sets.choosing import RUNGS, ChoiceError, Entry, Wish, chosen, fits, topics_of
from sheetgen.sets.documents import PARTS, document_of
from sheetgen.sets.entries import MOST_PROBLEMS, MOST_SEED
from sheetgen.sets.folder import FolderError, OutFolder, safe_name
from sheetgen.sets.plan import Plan, PlanError, demonstration, load_plan, wished
from sheetgen.sets.worksheet import Job, Made, SetError, Worksheet, WorksheetMaker, jobs_of, make_pairs

__all__ = [
    "MOST_PROBLEMS",
    "MOST_SEED",
    "PARTS",
    "RUNGS",
    "ChoiceError",
    "Entry",
    "FolderError",
    "Job",
    "Made",
    "OutFolder",
    "Plan",
    "PlanError",
    "SetError",
    "Wish",
    "Worksheet",
    "WorksheetMaker",
    "chosen",
    "demonstration",
    "document_of",
    "fits",
    "jobs_of",
    "load_plan",
    "make_pairs",
    "safe_name",
    "topics_of",
    "wished",
]
