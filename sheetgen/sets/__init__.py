"""Many sheets made together: pairs of question and answer, worksheets from plans, and the folder they go to."""

from sheetgen.sets.choosing import RUNGS, ChoiceError, Entry, Wish, chosen, fits, topics_of
from sheetgen.sets.documents import PARTS, document_of
from sheetgen.sets.folder import FolderError, OutFolder, safe_name
from sheetgen.sets.pairs import DRAWS, Pair, RefusedSeedError, code_of, make_pair, measured, problem_of, solid_of
from sheetgen.sets.plan import Plan, PlanError, demonstration, load_plan, wished
from sheetgen.sets.problems import MOST_PROBLEMS, MOST_SEED
from sheetgen.sets.style import FIGURES, PAPER_NAMES, PROJECTIONS, SIDES, TITLE_BLOCK, Style, settings_of
from sheetgen.sets.worksheet import Job, Made, SetError, Worksheet, WorksheetMaker, jobs_of, make_pairs

__all__ = [
    "DRAWS", "FIGURES", "MOST_PROBLEMS", "MOST_SEED", "PAPER_NAMES", "PARTS", "PROJECTIONS", "RUNGS", "SIDES",
    "TITLE_BLOCK", "ChoiceError", "Entry", "FolderError", "Job", "Made", "OutFolder", "Pair", "Plan", "PlanError",
    "RefusedSeedError", "SetError", "Style", "Wish", "Worksheet", "WorksheetMaker", "chosen", "code_of", "demonstration",
    "document_of", "fits", "jobs_of", "load_plan", "make_pair", "make_pairs", "measured", "problem_of", "safe_name",
    "settings_of", "solid_of", "topics_of", "wished",
]
