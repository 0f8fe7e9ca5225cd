"""Which students' sheets go to one file."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from sheetgen.sets.classes.files import plain_names
from sheetgen.sets.classes.students import Student
from sheetgen.sheet import Settings

MANY = 100
"""Students of a book; more make it too thick to staple and too large to open."""


@dataclass(frozen=True, slots=True)
class Book:
    """A file of each role: what its name and its title add to those of the set, and whose sheets it holds, by places in the list
    from 0."""

    file: str
    title: str
    students: tuple[int, ...]


MOST_SHEETS = 2000
"""Of a book, where nobody says how a class is parted: writing it takes 40 kB of memory a sheet."""


def books_of(students: Sequence[Student], by: str | None, problems: int, settings: Settings) -> list[Book]:
    """The books of a class whose students have so many ``problems``. ``by``: one of BOOKS; None: whole, or parted if it is
    large."""
    if by in ("groups", "rooms"):
        return _by_word(students, by.removesuffix("s"))
    if by == "students":
        names = plain_names([student.number or f"{student.place:0{len(str(len(students)))}}" for student in students], "student")
        return [Book(name, student.called, (k,)) for k, (name, student) in enumerate(zip(names, students, strict=True))]
    most = MANY if by == "hundreds" else min(MANY, max(1, MOST_SHEETS // problems))
    if by == "hundreds" or (by is None and len(students) > most):
        return _parted(students, most, settings)
    return [Book("", "", tuple(range(len(students))))]


def _by_word(students: Sequence[Student], what: str) -> list[Book]:
    """A book for each group or room, in the order in which the list has them; one for those that have none."""
    found: dict[str, list[int]] = {}
    for k, student in enumerate(students):
        found.setdefault(getattr(student, what), []).append(k)
    names = plain_names([word or f"without-{what}" for word in found], what)
    return [Book(name, word, tuple(some)) for name, (word, some) in zip(names, found.items(), strict=True)]


def _parted(students: Sequence[Student], most: int, settings: Settings) -> list[Book]:
    """Books of so many students each, in the order of the list."""
    digits, books = len(str(len(students))), list[Book]()
    for first in range(0, len(students), most):
        some = range(first, min(first + most, len(students)))
        span = settings.wording.render("files.span", first=some[0] + 1, last=some[-1] + 1)
        books.append(Book(f"{some[0] + 1:0{digits}}-{some[-1] + 1:0{digits}}", span, tuple(some)))
    return books
