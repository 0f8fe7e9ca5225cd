"""How even a paper is: for each item pictures of how its variants are spread over the candidates, and a table of what was bounded
and what was reached; at the end all items together. Sheet millimetres.

It is for the board, and tells nothing of who has which variant.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from sheetgen.ink import Document, MadePages, Mark, Page
from sheetgen.sets.documents import described
from sheetgen.sets.papers.equal import QUANTITIES
from sheetgen.sets.papers.office import (
    ROW,
    SMALL,
    Column,
    head_marks,
    lines_marks,
    paper_of,
    paragraph,
    room_of,
    table_marks,
)
from sheetgen.sets.papers.records import LINES, Assignment, Item, Lot, PaperPlan, Reached
from sheetgen.sets.papers.spread import DIGITS, Spread, picture_marks, spread_of
from sheetgen.sheet import Settings
from sheetgen.sheet.paper import Box
from sheetgen.sheet.textblock import PITCH
from sheetgen.templating.phrases import number_text

PICTURES = (("index", "dimensions"), LINES)
"""Rows of pictures."""

BETWEEN = 10.0
"""mm between two pictures."""

NUMBER = 27.0
"""mm, width of a column of numbers."""


class EquitySheets(MadePages):
    """The pages of a paper's ``assignment``, with what it has ``reached``: one for each item; of several, one of all."""

    def __init__(
        self, plan: PaperPlan, assignment: Assignment, reached: Sequence[Reached], settings: Settings, mark: str = ""
    ) -> None:
        self._plan, self._assignment, self._settings, self._mark = plan, assignment, settings, mark
        self._say, self._box = settings.wording.render, room_of(paper_of(settings))
        self._reached = {(one.item, one.quantity): one for one in reached}
        super().__init__(len(plan.items) + (1 if len(plan.items) > 1 else 0), self._page)

    @property
    def document(self) -> Document:
        """The file, with a bookmark for each page."""
        titles = [self._say("equity.item", item=item.number) for item in self._plan.items]
        outline = [(title, number) for number, title in enumerate([*titles, self._say("equity.whole")][:len(self)])]
        return described(self, self._say("files.equity", title=self._plan.title), self._settings, (), outline, self._mark)

    def _page(self, number: int) -> Page:
        paper, items = paper_of(self._settings), self._plan.items
        marks = self._item_page(items[number], number) if number < len(items) else self._whole_page(number)
        return Page(paper.width, paper.height, list(marks))

    def _item_page(self, item: Item, number: int) -> Iterator[Mark]:
        say, lots = self._say, self._assignment.of_item(item.number)
        variants = len({(lot.family, lot.form, lot.index) for lot in lots})
        said = say("equity.candidates", candidates=len(lots), variants=variants)
        yield from self._head(say("equity.item", item=item.number), said, number)
        spreads = dict(self._spreads(item, lots))
        yield from self._pictures(spreads, say("equity.how"))
        rows = [self._row(self._reached[item.number, name]) for name in QUANTITIES]
        yield from self._table(["middle", "bound", "least", "greatest", "reached", "within"], rows)

    def _spreads(self, item: Item, lots: Sequence[Lot]) -> Iterator[tuple[str, Spread]]:
        found = [lot.quantities() for lot in lots]
        for name in QUANTITIES:
            reached = self._reached[item.number, name]
            values = (one[name] for one in found)
            yield name, spread_of(values, whole=name != "index", middle=reached.middle, bound=reached.bound)

    def _row(self, reached: Reached) -> list[str]:
        """The table's row of a quantity: what was bounded, and what the candidates have."""
        farthest = round(max(reached.middle - reached.least, reached.greatest - reached.middle), DIGITS)
        within = self._say("equity.met" if farthest <= round(reached.bound, DIGITS) else "equity.missed")
        found = map(_number, (reached.least, reached.greatest, farthest))
        return [self._say(f"equity.{reached.quantity}"), _number(reached.middle), f"± {_number(reached.bound)}", *found, within]

    def _whole_page(self, number: int) -> Iterator[Mark]:
        """Of each candidate all items together."""
        say, plan = self._say, self._plan
        said = say("equity.candidates_whole", candidates=len(self._assignment.lots), items=len(plan.items), marks=plan.marks)
        yield from self._head(say("equity.whole"), said, number)
        sums = [[lot.quantities() for lot in lots] for lots in self._assignment.lots.values()]
        spreads = {name: spread_of((sum(one[name] for one in own) for own in sums), whole=name != "index") for name in QUANTITIES}
        yield from self._pictures(spreads, say("equity.how_whole"))
        rows = [[say(f"equity.{name}"), *map(_number, (spread.least, spread.mean, spread.greatest))]
                for name, spread in spreads.items()]
        yield from self._table(["least", "mean", "greatest"], rows)

    def _head(self, what: str, said: str, number: int) -> Iterator[Mark]:
        below = ". ".join([what, said])
        yield from head_marks(self._settings, self._say("equity.title", title=self._plan.title), below, number + 1, len(self))

    def _pictures(self, spreads: dict[str, Spread], how: str) -> Iterator[Mark]:
        """The pictures in two rows, and how they are read."""
        x0, low, x1, top = self._pictures_box
        explained = paragraph(how, x1 - x0)
        room = top - low - len(explained) * PITCH * SMALL - 3.0
        high = room / len(PICTURES)
        for row, names in enumerate(PICTURES):
            wide = (x1 - x0 - BETWEEN * (len(names) - 1)) / len(names)
            for place, name in enumerate(names):
                left, above = x0 + place * (wide + BETWEEN), top - row * high
                box = (left, above - high + 4.0, left + wide, above)
                yield from picture_marks(spreads[name], self._say(f"equity.{name}"), box)
        yield from lines_marks(explained, x0, top - room)

    @property
    def _pictures_box(self) -> Box:
        x0, y0, x1, y1 = self._box
        return x0, y0 + self._foot + (len(QUANTITIES) + 1) * ROW + 4.0, x1, y1

    @property
    def _foot(self) -> float:
        """mm that the last sentences take."""
        return len(self._sentences) * PITCH * SMALL + 2.0

    @property
    def _sentences(self) -> list[str]:
        return paragraph(f"{self._say('equity.uncalibrated')} {self._say('equity.not_proven')}", self._box[2] - self._box[0])

    def _table(self, names: Sequence[str], rows: Sequence[Sequence[str]]) -> Iterator[Mark]:
        """The table, and under it what the index is not."""
        x0, y0, x1, _ = self._box
        wide = min(NUMBER, (x1 - x0) * 0.75 / len(names))
        columns = [Column(self._say("equity.quantity"), x1 - x0 - wide * len(names)),
                   *(Column(self._say(f"equity.{name}"), wide, right=True) for name in names)]
        top = y0 + self._foot + (len(rows) + 1) * ROW
        yield from table_marks(columns, rows, x0, top, ROW)
        yield from lines_marks(self._sentences, x0, y0 + self._foot - 2.0)


def _number(value: float) -> str:
    return number_text(float(value))
