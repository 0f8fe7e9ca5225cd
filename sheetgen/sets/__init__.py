"""Many sheets made together: plans, worksheets, and the folder they go to."""

from sheetgen.bank import MOST_SEED
from sheetgen.choosing import RUNGS, ChoiceError, Entry, Wish, chosen, fits, narrowed, topics_of
from sheetgen.sets.documents import document_of
from sheetgen.sets.folder import FolderError, OutFolder, safe_name
from sheetgen.sets.plan import Plan, PlanError, demonstration, load_plan, wished
from sheetgen.sets.plan_file import MOST_PROBLEMS
from sheetgen.sets.terms import MOST_WEEKS, Term
from sheetgen.sets.workers import cores, local_workers, results
from sheetgen.sets.worksheet import FEW, Job, Made, SetError, Worksheet, WorksheetMaker, jobs_of, make_all

__all__ = [
    "FEW", "MOST_PROBLEMS", "MOST_SEED", "MOST_WEEKS", "RUNGS", "ChoiceError", "Entry", "FolderError", "Job", "Made", "OutFolder",
    "Plan", "PlanError", "SetError", "Term", "Wish", "Worksheet", "WorksheetMaker", "chosen", "cores", "demonstration",
    "document_of", "fits", "jobs_of", "load_plan", "local_workers", "make_all", "narrowed", "results", "safe_name", "topics_of",
    "wished",
]
