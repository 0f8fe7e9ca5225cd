"""Pages of a paper's books: the sheets of the lots that candidates got, with number, seat and code put on."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from functools import lru_cache

from sheetgen.exercises import Particulars, Role
from sheetgen.exercises.cells import cells_of
from sheetgen.exercises.marking.overlay import coded
from sheetgen.ink import Mark, Page
from sheetgen.sets.classes import Bound, Cells
from sheetgen.sets.classes.pages import Spot
from sheetgen.sets.papers.cells import personal
from sheetgen.sets.papers.lots import Slot
from sheetgen.sets.shelf import Kept, Shelf
from sheetgen.sheet.titleblock_ink import coded_marks, filled_marks

AT_HAND = 8
"""Lots whose pages are kept at hand: one question after another is asked for, each once."""


class PaperBound(Bound):
    """All sheets of a paper, by candidate and item. ``numbers``: of each candidate, in the order of the books, the exercises on
    the shelf, item by item; ``slots``: which slot each is of; ``code_of``: the code of a candidate's item, both by their places
    from 0."""

    def __init__(
        self, kept: Mapping[int, Kept], shelf: Shelf, cells: Sequence[Cells], numbers: Sequence[Sequence[tuple[int, Slot]]],
        code_of: Callable[[int, int], str],
    ) -> None:
        super().__init__(kept, shelf, cells, len(numbers[0]), True, numbers[0][0][1].settings)
        self._numbers, self._code_of = numbers, code_of
        self._sheets = lru_cache(maxsize=AT_HAND)(shelf.sheets)

    def of(self, student: int, problem: int) -> Kept:
        """What is known of a candidate's exercise, as bookmarks call it: by its item and its code."""
        title = self._numbers[student][problem][1].shown.topics[0]
        return replace(super().of(student, problem), title=title, code=self._code_of(student, problem))

    def number(self, student: int, problem: int) -> int:
        """Of an exercise on the shelf."""
        return self._numbers[student][problem][0]

    @property
    def one_code(self) -> bool:
        """Each candidate's sheet has its own."""
        return False

    def adds_to(self, role: Role) -> bool:
        """To all sheets: of whoever shares a lot, each has a marking sheet too, with number and code."""
        return True

    def page(self, role: Role, spot: Spot) -> Page:
        """One page, with what is the candidate's own in its title block, and its code; a film has no title block."""
        if role is Role.OVERLAY:
            return coded(self._sheets(self.number(spot.student, spot.problem), role)[spot.page], self._film_words(spot))
        page = super().page(role, spot)
        return page if spot.blank else replace(page, marks=[*page.marks, *self._code_marks(spot)])

    def _said(self, spot: Spot) -> Particulars:
        code = self._code_of(spot.student, spot.problem)
        return self.cells[spot.student].on(Particulars(code, spot.problem + 1, self.problems))

    def _film_words(self, spot: Spot) -> str:
        said = self._said(spot)
        who = " ".join(filter(None, (said.student, said.student_number, said.seat)))
        return self.settings.wording.render("paper.film", code=said.code, item=said.sheet, who=who)

    def _own_marks(self, role: Role, spot: Spot) -> list[Mark]:
        slot, paper = self._numbers[spot.student][spot.problem][1], self.settings.paper
        values = cells_of(slot.shown, slot.own, role, "", self._said(spot))
        return filled_marks(personal(slot.own), values, (paper.x1, paper.y0))

    def _code_marks(self, spot: Spot) -> list[Mark]:
        slot, paper = self._numbers[spot.student][spot.problem][1], self.settings.paper
        return coded_marks(slot.own.block, self._said(spot).code, (paper.x1, paper.y0))
