"""What the title blocks of a paper's sheets say: what all sheets of an item share, and what is a candidate's own."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from sheetgen.exercises import Particulars
from sheetgen.faults import Fault, FaultError, Place, shown
from sheetgen.ink import Face, clean, missing_glyphs
from sheetgen.sets.classes import OWN, Cells
from sheetgen.sets.classes.names import MOST_NAMED
from sheetgen.sets.papers.records import Candidate, Item, PaperPlan
from sheetgen.sheet import Settings
from sheetgen.sheet.titleblock_ink import filled_marks
from sheetgen.templating import TemplateError, TitleBlock
from sheetgen.templating.phrases import Phrase, phrase
from sheetgen.templating.titleblock import Cell

PERSONAL = (*OWN, "number")
"""The values of a title block that are added to a sheet when it is bound: a candidate's own, and the code."""


UNSEEN = phrase("{{ '' if number else '' }}", ("number",))
"""Stands in a cell that shows the code, where it is not to be seen yet: without such a cell it would have room elsewhere."""


class CellsError(FaultError):
    """A paper of which the title blocks cannot say what they must."""


def item_settings(settings: Settings, plan: PaperPlan, item: Item) -> Settings:
    """The settings of an item's sheets, with marks and time."""
    say = settings.wording.render
    words = say("paper.allowed", item=item.number, marks=item.marks, minutes=item.minutes or "")
    status = settings.values.status or say("paper.status")
    values = replace(settings.values, set_title=words, status=status)
    places = {name: place for name, place in settings.places.items() if name != "set_title"}
    return replace(settings, values=values, places={**places, **({"set_title": item.place} if item.place else {})})


def impersonal(settings: Settings) -> Settings:
    """The settings in which a lot is drawn: its title block lacks what is a candidate's own.

    Raises: CellsError for a block in which that stands in one text with the scale, which hangs on the drawing.
    """
    block = settings.block
    for cell in block.cells:
        if cell.text and "scale" in cell.text.names and cell.text.names & set(PERSONAL):
            raise CellsError([Fault(block.file, cell.line, f"{cell.name}.text", "the scale beside a candidate's own values",
                                    "cells of their own for both, on papers")])
    return replace(settings, block=_cells(block, personal=False))


def personal(settings: Settings) -> TitleBlock:
    """The cells of the block that show what is a candidate's own, and nothing else of it but the place of the code."""
    return _cells(settings.block, personal=True)


def _cells(block: TitleBlock, personal: bool) -> TitleBlock:
    """The block with the texts that are a candidate's own, or without; boxes stay, and so the room for the code."""
    def text(cell: Cell) -> Phrase | None:
        if cell.text is None or bool(cell.text.names & set(PERSONAL)) is personal:
            return cell.text
        return UNSEEN if "number" in cell.text.names else None

    return replace(block, cells=tuple(replace(cell, text=text(cell)) for cell in block.cells))


def seat_words(candidate: Candidate, plan: PaperPlan, settings: Settings) -> str:
    """A candidate's seat as sheets call it: with the room if there are several."""
    say, seat = settings.wording.render, candidate.seat
    if len(plan.rooms) > 1:
        return say("paper.seat_in", room=seat.room, row=seat.row, column=seat.column)
    return say("paper.seat", row=seat.row, column=seat.column)


class Numberer:
    """Finds what is printed of candidates: number and seat always, the name if the board lets it and its cell has room.
    ``remarks``: of names that are not printed as they are written."""

    def __init__(self, plan: PaperPlan, settings: Settings, file: str) -> None:
        self._plan, self._settings, self._file = plan, settings, file
        self._shown = set().union(*(cell.text.names for cell in settings.block.cells if cell.text))
        self._block = personal(settings)
        self.remarks: list[Fault] = []

    def cells(self, candidates: Sequence[Candidate]) -> Mapping[str, Cells]:
        """What the title block says of each, by number. Raises: CellsError for numbers and seats that find no room."""
        found: dict[str, Cells] = {}
        faults: list[Fault] = []
        if not self._shown & {"student", "student_number"}:
            raise CellsError([Fault(self._settings.block.file, 0, "cells", "no room for a candidate's number",
                                    'a cell with text: "{{ student }}" or "{{ student_number }}"')])
        for candidate in candidates:
            options = list(self._options(candidate))
            cells = next((option for option in options if self._fits(option)), None)
            if cells is None:
                place = Place(self._file, candidate.line, "number") if candidate.line else self._plan.places.get(
                    "rooms", Place(self._plan.file, 0, "rooms"))
                told = f"candidate {candidate.number}, seat {seat_words(candidate, self._plan, self._settings)}"
                faults.append(Fault(*place, f"{told}: too long for its cell, or in letters that the lettering lacks",
                                    "shorter numbers, or shorter names of rooms"))
                continue
            found[candidate.number] = cells
            if cells != options[0]:
                self.remarks.append(Fault(self._file, candidate.line, "name", shown(candidate.name),
                                          "a name that its cell can hold; the number is printed alone"))
        if faults:
            raise CellsError(faults)
        return found

    def _options(self, candidate: Candidate) -> Iterator[Cells]:
        """What may be printed, the best first."""
        say, name = self._settings.wording.render, clean(candidate.name).strip()
        seat = seat_words(candidate, self._plan, self._settings)
        apart, numbered = "seat" in self._shown, "student_number" in self._shown
        number = candidate.number if apart else say("paper.seated", number=candidate.number, seat=seat)
        rest = Cells(student_number=number if numbered else "", seat=seat if apart else "")
        if name and len(name) + len(number) <= MOST_NAMED and "student" in self._shown:
            yield replace(rest, student=name if numbered else say("students.named", name=name, number=number))
        yield replace(rest, student="" if numbered else number)

    def _fits(self, cells: Cells) -> bool:
        texts = (cells.student, cells.student_number, cells.seat)
        if any(missing_glyphs(text, face) for text in texts for face in Face):
            return False
        said = cells.on(Particulars())
        values = replace(self._settings.values, student=said.student, student_number=said.student_number, seat=said.seat)
        try:
            filled_marks(self._block, values, (0.0, 0.0))
        except TemplateError:
            return False
        return True
