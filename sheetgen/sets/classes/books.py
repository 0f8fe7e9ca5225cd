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


def books_of(students: Sequence[Student], by: str | None, settings: Settings) -> list[Book]:
    """The books of a class, ``by`` one of BOOKS; None: whole, or by the hundred if it is large."""
    if by in ("groups", "rooms"):
        return _by_word(students, by.removesuffix("s"))
    if by == "students":
        names = plain_names([student.number or f"{student.place:0{len(str(len(students)))}}" for student in students], "student")
        return [Book(name, student.called, (k,)) for k, (name, student) in enumerate(zip(names, students, strict=True))]
    if by == "hundreds" or (by is None and len(students) > MANY):
        return _hundreds(students, settings)
    return [Book("", "", tuple(range(len(students))))]


def _by_word(students: Sequence[Student], what: str) -> list[Book]:
    """A book for each group or room, in the order in which the list has them; one for those that have none."""
    found: dict[str, list[int]] = {}
    for k, student in enumerate(students):
        found.setdefault(getattr(student, what), []).append(k)
    names = plain_names([word or f"without-{what}" for word in found], what)
    return [Book(name, word, tuple(some)) for name, (word, some) in zip(names, found.items(), strict=True)]


def _hundreds(students: Sequence[Student], settings: Settings) -> list[Book]:
    digits, books = len(str(len(students))), list[Book]()
    for first in range(0, len(students), MANY):
        some = range(first, min(first + MANY, len(students)))
        span = settings.wording.render("files.span", first=some[0] + 1, last=some[-1] + 1)
        books.append(Book(f"{some[0] + 1:0{digits}}-{some[-1] + 1:0{digits}}", span, tuple(some)))
    return books
