"""Many sheets made together: plans, worksheets, and the folder they go to."""

from sheetgen.bank import MOST_SEED
from sheetgen.choosing import RUNGS, ChoiceError, Entry, Wish, chosen, fits, narrowed, topics_of
from sheetgen.sets.classes import ClassListError
from sheetgen.sets.documents import document_of_one
from sheetgen.sets.edition import Edition, edition_of
from sheetgen.sets.families import Beside
from sheetgen.sets.folder import OutFolder
from sheetgen.sets.marks import MarkingWishes, check_roles
from sheetgen.sets.plan import Plan, PlanError, demonstration, load_plan, wished
from sheetgen.sets.plan_file import MOST_PROBLEMS
from sheetgen.sets.run import Run, run_of
from sheetgen.sets.shelf import Made, Shelf
from sheetgen.sets.terms import MOST_WEEKS, Term
from sheetgen.sets.together import safe_name
from sheetgen.sets.trouble import FolderError
from sheetgen.sets.workers import WorkersError, cores, local_workers, results
from sheetgen.sets.worksheet import FEW, Job, SetError, WorksheetMaker, jobs_of, make_all, put_made

__all__ = [
    "FEW", "MOST_PROBLEMS", "MOST_SEED", "MOST_WEEKS", "RUNGS", "Beside", "ChoiceError", "ClassListError", "Edition", "Entry",
    "FolderError", "Job", "Made", "MarkingWishes", "OutFolder", "Plan", "PlanError", "Run", "SetError", "Shelf", "Term",
    "Wish", "WorkersError", "WorksheetMaker", "check_roles", "chosen", "cores", "demonstration", "document_of_one",
    "edition_of", "fits", "jobs_of", "load_plan", "local_workers", "make_all", "narrowed", "put_made", "results", "run_of",
    "safe_name", "topics_of", "wished",
]
