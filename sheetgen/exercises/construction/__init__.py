"""How an answer is built on the board, stage by stage: what each stage introduces, and pages to print."""

from sheetgen.exercises.construction.pages import construction_pages, earlier, projector_pages, thin_lines
from sheetgen.exercises.construction.record import AnswerLine, Dressed, Mitre, Part, Projector, Stage
from sheetgen.exercises.construction.shown import shown
from sheetgen.exercises.construction.stages import stages_of
from sheetgen.exercises.construction.thin import clear_of_lines, ticks

__all__ = [
    "AnswerLine", "Dressed", "Mitre", "Part", "Projector", "Stage", "clear_of_lines", "construction_pages", "earlier",
    "projector_pages", "shown", "stages_of", "thin_lines", "ticks",
]
