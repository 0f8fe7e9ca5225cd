"""The questions of a paper's book, each candidate's under a cover."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from sheetgen.ink import MadePages, Page
from sheetgen.sets.classes import BoundPages


class CoveredPages(MadePages):
    """The ``pages`` of a book in which each candidate's stand together; before them the ``cover`` of that candidate, and where
    paper is printed on both sides, its ``back``."""

    def __init__(self, pages: BoundPages, cover: Callable[[int], Page], back: Callable[[], Page] | None = None) -> None:
        self._pages, self._cover, self._back = pages, cover, back
        self._order = list(self._all())
        super().__init__(len(self._order), self._page)

    def _all(self) -> Iterator[tuple[str, int]]:
        """Of each page what it is, and which: a cover and its back are a student's, others are counted as without covers."""
        before: int | None = None
        for number, spot in enumerate(self._pages.spots):
            if spot.student != before:
                yield "cover", spot.student
                if self._back is not None:
                    yield "back", spot.student
            yield "page", number
            before = spot.student

    def _page(self, number: int) -> Page:
        what, which = self._order[number]
        if what == "cover":
            return self._cover(which)
        return self._back() if what == "back" and self._back is not None else self._pages[which]

    def outline(self, bookmarks: Sequence[tuple[str, int]]) -> list[tuple[str, int]]:
        """Bookmarks of the pages without covers, as they lead now: to a candidate's cover if the book is of several, else to the
        sheets."""
        places = {which: number for number, (what, which) in enumerate(self._order) if what == "page"}
        several = len({spot.student for spot in self._pages.spots}) > 1
        back = (1 if self._back is None else 2) if several else 0
        return [(title, places[page] - back) for title, page in bookmarks]
