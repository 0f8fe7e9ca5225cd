"""What the title block says of each student, found out before anything is drawn; and of what cannot be said as it is written,
what is printed instead."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import lru_cache

from sheetgen.exercises import Particulars
from sheetgen.faults import Fault, shown
from sheetgen.ink import Face, clean, missing_glyphs
from sheetgen.sets.classes.students import ClassList, Student
from sheetgen.sheet import Settings
from sheetgen.sheet.titleblock_ink import filled_marks
from sheetgen.templating import TemplateError, TitleBlock

OWN = ("student", "student_number", "group", "seat")
"""The values of a title block that are a student's own."""

MOST_NAMED = 200
"""Letters of a name with its number that may be tried in a cell."""

BY_HAND = "the cell is left for handwriting"


@dataclass(frozen=True, slots=True)
class Cells:
    """What the title block says of a student. Empty texts leave room for handwriting."""

    student: str = ""
    student_number: str = ""
    group: str = ""
    seat: str = ""

    def on(self, particulars: Particulars) -> Particulars:
        """The particulars of a sheet, of this student."""
        return replace(particulars, student=self.student, student_number=self.student_number, group=self.group, seat=self.seat)


def own_cells(block: TitleBlock) -> TitleBlock:
    """The cells of a block that show something of a student's own, and nothing else of it."""
    return replace(block, cells=tuple(cell for cell in block.cells if cell.text and cell.text.names & set(OWN)), pieces=())


def without_own(block: TitleBlock) -> TitleBlock:
    """The block without the texts that show something of a student's own."""
    return replace(block, cells=tuple(
        replace(cell, text=None) if cell.text and cell.text.names & set(OWN) else cell for cell in block.cells))


class Namer:
    """Finds what is printed of the students of a list, on sheets of these ``settings``. ``remarks``: of what is not printed as it
    is written, in the order of the list."""

    def __init__(self, students: ClassList, settings: Settings) -> None:
        self._settings = settings
        self._block = own_cells(settings.block)
        self._shown = set().union(*(cell.text.names for cell in self._block.cells if cell.text))
        self._fits = lru_cache(maxsize=4096)(self._tried)
        self._file = students.file
        self._bearers = Counter(_same(student) for student in students.students)
        self._first: dict[str, Student] = {}
        for student in students.students:
            self._first.setdefault(_same(student), student)
        self.remarks: list[Fault] = []
        self.cells = tuple(map(self._cells, students.students))

    def _cells(self, student: Student) -> Cells:
        fields = {"number": "student_number", "group": "group", "seat": "seat"}
        return Cells(self._named(student), *(self._plain(student, name, field) for name, field in fields.items()))

    def _plain(self, student: Student, name: str, field: str) -> str:
        """A value as it is written, if its cell can hold it."""
        text = clean(getattr(student, name))
        if field not in self._shown or not text:
            return ""
        if why := self._why_not(text, field):
            instead = "the plan's class is printed" if field == "group" and self._settings.values.group else BY_HAND
            self._remark(student, name, *why, instead)
            return ""
        return text

    def _named(self, student: Student) -> str:
        """The name, with the number where the title block has no other place for it, or where another student has the name."""
        name, number = clean(student.name).strip(), clean(student.number).strip()
        if "student" not in self._shown:
            return ""
        if hidden := [sign for sign in student.name if not sign.isprintable()]:
            self._remark(student, "name", f"signs in {shown(student.name)} that cannot be seen, such as {shown(hidden[0])}",
                         "a name without them", f"{shown(name)} is printed")
        twin = bool(name) and self._bearers[_same(student)] > 1
        texts = list(self._texts(name, number or str(student.place), bool(number), twin))
        text = next((text for text in texts if not self._why_not(text, "student")), None)
        if text is None:
            self._remark(student, "name", *(self._why_not(texts[-1], "student") or ("", "")), BY_HAND)
            return ""
        if twin:
            first = self._first[_same(student)]
            where = f"as in line {first.line} too" if first is not student else "which another student has too"
            self._remark(student, "name", f"{shown(name)}, {where}", "names that differ", f"{shown(text)} is printed")
        elif text != texts[0]:
            self._remark(student, "number", f"{shown(number)}, for which the cell has no room beside the name",
                         "a shorter one", "the name alone is printed")
        return text

    def _texts(self, name: str, number: str, has_number: bool, twin: bool) -> Iterator[str]:
        """What may be printed for a name, the best first."""
        both = number
        if name:        # far too long a name is no phrase; then it is no text for a cell either, with the number or without
            named = len(name) + len(number) <= MOST_NAMED
            both = self._settings.wording.render("students.named", name=name, number=number) if named else name + number
        if twin and not (has_number and "student_number" in self._shown):
            yield both
        elif has_number and "student_number" not in self._shown:
            yield from dict.fromkeys([both, name or number])
        else:
            yield name

    def _why_not(self, text: str, field: str) -> tuple[str, str] | None:
        """Why a text cannot be printed, and what could be; None if it can."""
        if missing := "".join(dict.fromkeys("".join(missing_glyphs(text, face) for face in Face))):
            signs = "sign" if len(missing) == 1 else "signs"
            return f"the {signs} {shown(missing[:5])} in {shown(text)}, which the lettering lacks", "Latin letters"
        return None if self._fits(field, text) else (f"{shown(text)}, too long for its cell", "a shorter one")

    def _tried(self, field: str, text: str) -> bool:
        try:
            own = Cells(**{field: text})
            values = replace(self._settings.values, student=own.student, student_number=own.student_number, seat=own.seat,
                             group=own.group or self._settings.values.group)
            filled_marks(self._block, values, (0.0, 0.0))
        except TemplateError:
            return False
        return True

    def _remark(self, student: Student, field: str, found: str, wanted: str, instead: str) -> None:
        self.remarks.append(Fault(self._file, student.line, field, found, f"{wanted}; {instead}"))


def _same(student: Student) -> str:
    """The same for students who could not be told apart by their names."""
    return " ".join(clean(student.name).casefold().split())
