"""One page: paper and frame, title block, scale and spacing, the question sheet and the answer sheet."""

from sheetgen.sheet.answer import answer_page
from sheetgen.sheet.faults import TemplateError
from sheetgen.sheet.layout import NoRoomError, SideView
from sheetgen.sheet.paper import PAPERS, Paper
from sheetgen.sheet.problem import Problem, RefusedError, Settings
from sheetgen.sheet.question import question_page
from sheetgen.sheet.symbol import Projection
from sheetgen.sheet.titleblock import TitleBlock, TitleBlockValues, load_title_block, title_block_names
from sheetgen.sheet.wording import Wording, load_wording

__all__ = [
    "PAPERS", "NoRoomError", "Paper", "Problem", "Projection", "RefusedError", "Settings", "SideView", "TemplateError",
    "TitleBlock", "TitleBlockValues", "Wording", "answer_page", "load_title_block", "load_wording", "question_page",
    "title_block_names",
]
