"""What is written on sheets, read from templates that strangers may have made: title blocks, wording, phrases."""

from sheetgen.templating.crest import Crest, load_crest
from sheetgen.templating.faults import TemplateError
from sheetgen.templating.files import beside, folder_beside, not_beside
from sheetgen.templating.instructions import Instruction, load_instructions, said_instructions, usual_instructions
from sheetgen.templating.marking import MarkingTemplate, load_marking, marking_names
from sheetgen.templating.titleblock import TitleBlock, TitleBlockValues, load_title_block, title_block_names
from sheetgen.templating.wording import Wording, load_wording, wording_names

__all__ = [
    "Crest", "Instruction", "MarkingTemplate", "TemplateError", "TitleBlock", "TitleBlockValues", "Wording", "beside",
    "folder_beside", "load_crest", "load_instructions", "load_marking", "load_title_block", "load_wording", "marking_names",
    "not_beside", "said_instructions", "title_block_names", "usual_instructions", "wording_names",
]
