"""Who is in a class: records without anything of files or of paper."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from types import MappingProxyType

from sheetgen.faults import FaultError

MOST_STUDENTS = 10_000
"""Of one list: a year of a large school has a tenth of it."""

MOST_PAIRS = 10_000
"""Questions with their answers that one run makes: some hours' work."""

CALLED = 80
"""Letters by which a bookmark calls a student."""

ENCODINGS = ("utf-8", "windows-1252")
"""In which a list may be saved; what spreadsheets of the West call plain CSV is the second."""

COLUMNS = ("name", "first_name", "last_name", "number", "group", "seat", "room")
"""What a list can tell of a student."""

FOR_WHOM, ORDERS, DOUBTS = ("all", "each"), ("student", "problem"), ("print", "refuse")
BOOKS = ("whole", "hundreds", "groups", "rooms", "students")
"""The words of a plan: whether all have the same problems, how sheets are ordered, what is done with names that cannot be printed
as they are, and what a file holds."""


class ClassListError(FaultError):
    """A class list that cannot be used; it tells every fault of the file."""


@dataclass(frozen=True, slots=True)
class Student:
    """One row of a list, as it was written but for blanks; ``line``: of the file; ``place``: in the list, from 1."""

    line: int
    place: int
    name: str = ""
    number: str = ""
    group: str = ""
    seat: str = ""
    room: str = ""

    @property
    def called(self) -> str:
        """As bookmarks call a student, whatever the sheets can print.

        >>> Student(2, 1, "Ann Lee", "17").called, Student(3, 2, "", "").called
        ('17 Ann Lee', '2')
        """
        called = " ".join(filter(None, [self.number, self.name])) or str(self.place)
        return called if len(called) <= CALLED else f"{called[:CALLED - 3]}..."


@dataclass(frozen=True, slots=True)
class ClassList:
    """The students of a list in its order; ``file``: as messages call it."""

    file: str
    students: tuple[Student, ...]


@dataclass(frozen=True, slots=True)
class ClassWishes:
    """What a plan says of its class. ``path``: of the list, None if there is none, and ``file`` as messages call it; ``columns``:
    headings by what they hold; ``books``: None if it does not say; ``refuse``: whether a name that cannot be printed as it stands
    stops the run."""

    path: Path | None = None
    file: str = ""
    encoding: str = ENCODINGS[0]
    columns: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))
    each: bool = False
    order: str = ORDERS[0]
    books: str | None = None
    refuse: bool = False
    double_sided: bool = False
    answer_key: bool = False
