"""Marks of a set: what a plan says of them, and the list in which they are written down, a row a student."""

from __future__ import annotations

import csv
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from io import StringIO
from pathlib import Path

from sheetgen.exercises import ONCE, Role, kinds
from sheetgen.exercises.marking import Marking, columns_of, usual_marking
from sheetgen.exercises.marking.record import marks_text
from sheetgen.faults import Fault, FaultError
from sheetgen.sets.classes import Student
from sheetgen.sheet import Settings
from sheetgen.templating import load_marking
from sheetgen.templating.marking import USUAL_MARKS, USUAL_SCHEME

LIST_NAME = "marks"
"""What the file of the list is called."""

FIELDS = {Role.KEY: "answer_key"}
"""The fields of a plan that ask for sheets of a role, where they are not called as it is."""

FORMULA = ("=", "+", "-", "@", "\t", "\r", "\n", "\uff1d", "\uff0b", "\uff0d", "\uff20")
"""Signs with which a spreadsheet takes a cell for a formula (general advice on CSV injection, from memory); the last four are
those of wide lettering."""


class MarkingRoleError(FaultError):
    """Sheets beside question and answer asked of a kind of exercise that has none."""


@dataclass(frozen=True, slots=True)
class MarkingWishes:
    """``marks``: of each problem, None for the usual number; ``scheme``: the name of a template that comes with sheetgen, or the
    path of a teacher's own, None for the usual; ``sheets``: which of FOR_MARKERS are made."""

    marks: float | None = None
    scheme: str | Path | None = None
    sheets: tuple[Role, ...] = ()

    def marking(self) -> Marking | None:
        """What each problem is worth, and by which scheme; None if nothing is said of it. Raises: TemplateError."""
        if self.marks is None and self.scheme is None:
            return None
        return Marking.of(self.marks or USUAL_MARKS, load_marking(self.scheme or USUAL_SCHEME))


def check_roles(asked: Iterable[str], roles: Iterable[Role], file: str = "the command line") -> None:
    """Raise MarkingRoleError if there is a role of ONCE, or the key, for which none of the kinds ``asked`` has sheets."""
    some = list(dict.fromkeys(asked))
    missing = [role for role in (*ONCE, Role.KEY) if role in roles and not any(kinds()[kind].gives(role) for kind in some)]
    if missing:
        raise MarkingRoleError([Fault(file, 0, FIELDS.get(role, role), *lacked(some, role)) for role in missing])


def lacked(some: Sequence[str], role: Role) -> tuple[str, str]:
    """What is found if ``some`` kinds have no sheets for a role, and what would be right."""
    able = [name for name, kind in kinds().items() if kind.gives(role)]
    found = f"the kind {some[0]}, which has" if len(some) == 1 else f"the kinds {', '.join(some)}, which have"
    return f"{found} none", f"another kind: {', '.join(able)}"


OF_CLASS = ("number", "name", "group")
"""What a list tells of a student, as records and wording call it."""


def marks_list(
    students: Sequence[Student], codes: Mapping[tuple[int, int], str], markings: Sequence[Marking | None], settings: Settings,
    told: Sequence[str] = OF_CLASS, *, summed: bool = False, asked: Sequence[str] = (),
) -> bytes:
    """The list as a file of comma-separated values: a row a student; of each problem its code, a column for each part that has
    marks, and one for their sum. ``codes``: by the places of student and problem, from 0; ``markings``: of each problem, None
    for the usual; ``told``: which of OF_CLASS; ``summed``: with a last column for the marks of all problems; ``asked``: of each
    problem its kind, if not the usual; one that is not marked by parts has a column for the whole alone.

    It is UTF-8 with the mark by which spreadsheets know it, rows end as RFC 4180 wants it, and no cell begins a formula.
    """
    text = StringIO()
    writer = csv.writer(text, lineterminator="\r\n")
    for row in _rows(students, codes, [marking or usual_marking() for marking in markings], settings, told, summed, asked):
        writer.writerow([plain_cell(cell) for cell in row])
    return text.getvalue().encode("utf-8-sig")


def plain_cell(text: str) -> str:
    """A cell that no spreadsheet takes for a formula: an apostrophe goes before what begins like one.

    >>> plain_cell("=1+1"), plain_cell("Ann"), plain_cell(" -3")
    ("'=1+1", 'Ann', "' -3")
    """
    return f"'{text}" if text.lstrip(" \u00a0").startswith(FORMULA) or text[:1] in FORMULA else text


def _rows(
    students: Sequence[Student], codes: Mapping[tuple[int, int], str], markings: Sequence[Marking], settings: Settings,
    told: Sequence[str], summed: bool, asked: Sequence[str],
) -> Iterator[list[str]]:
    say = settings.wording.render
    parted = [kinds()[kind].by_parts for kind in asked] or [True] * len(markings)
    parts = [columns_of(settings.side, marking) if each else () for marking, each in zip(markings, parted, strict=True)]
    headings = [say(f"marks.{heading}") for heading in told]
    for item, (marking, its) in enumerate(zip(markings, parts, strict=True), 1):
        headings.append(say("marks.code", item=item))
        headings += [say("marks.part", item=item, part=_called(name, settings), marks=marks_text(part)) for name, part in its]
        headings.append(say("marks.total", item=item, marks=marks_text(marking.halves)))
    last = [say("marks.sum", marks=marks_text(sum(marking.halves for marking in markings)))] if summed else []
    yield [*headings, *last]
    for place, student in enumerate(students):
        row = [str(getattr(student, what)) for what in told]
        for problem, its in enumerate(parts):
            row += [codes[place, problem], *[""] * (len(its) + 1)]
        yield [*row, *("" for _ in last)]


def _called(part: str, settings: Settings) -> str:
    """A part as the list calls it."""
    say = settings.wording.render
    return say(f"views.{part}" if part in ("front", "top", "left", "right") else f"marking.{part}")
