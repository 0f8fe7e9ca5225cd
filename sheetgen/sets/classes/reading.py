"""Class lists as schools export them: a CSV file in, the students in its order out."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from sheetgen.faults import Fault, shown, visible_text
from sheetgen.sets.classes.csvtext import TOLD, Row, delimiter_of, rows_of, text_of
from sheetgen.sets.classes.headings import columns_of
from sheetgen.sets.classes.students import MOST_STUDENTS, ClassList, ClassListError, ClassWishes, Student

LONGEST = 1000
"""Letters of a cell; a longer one is no name, number or group."""


def load_class_list(wishes: ClassWishes) -> ClassList:
    """Read the list that a plan or the command line names.

    Raises: ClassListError with the faults of the file: what is no CSV, headings, rows that are too long, numbers that come twice.
    """
    assert wishes.path is not None
    file = wishes.file or visible_text(wishes.path.as_posix(), quote=False)
    return class_list_of(text_of(wishes.path, file, wishes.encoding), file, wishes.columns)


def class_list_of(text: str, file: str, said: Mapping[str, str]) -> ClassList:
    """The students of a list's text; ``said``: headings that a plan names. Raises: ClassListError."""
    rows = rows_of(text, file, delimiter_of(text, file))
    head = next(rows, None)
    if head is None:
        raise ClassListError([Fault(file, 0, "", "an empty file", "a row of headings, then a row for each student")])
    columns = columns_of(head.cells, file, head.line, said)
    students: list[Student] = []
    faults: list[Fault] = []
    for row in rows:
        if len(students) == MOST_STUDENTS:
            raise ClassListError([Fault(file, row.line, "", f"more than {MOST_STUDENTS:,} students", "several lists")])
        fault = _row_fault(row, head, file)
        if fault is None:
            students.append(_student(row, columns, len(students) + 1))
            fault = _nameless(students[-1], file)
        if fault is not None and len(faults) < TOLD:
            faults.append(fault)
    faults += _twice(students, file)
    if not students and not faults:
        faults.append(Fault(file, head.line, "", "headings without students", "a row for each student"))
    if faults:
        raise ClassListError(sorted(faults)[:TOLD])
    return ClassList(file, tuple(students))


def _row_fault(row: Row, head: Row, file: str) -> Fault | None:
    """What is wrong with a row as such. Empty cells at its end, which spreadsheets write, are none."""
    used = max(place for place, cell in enumerate(row.cells, 1) if cell)
    if used > len(head.cells):
        return Fault(file, row.line, "", f"{used} cells under {len(head.cells)} headings",
                     'as many cells as headings; one that has the separating sign in it stands in quotation marks, "Lee, Ann"')
    if long := next((cell for cell in row.cells if len(cell) > LONGEST), None):
        return Fault(file, row.line, "", f"{len(long)} letters in one cell, {shown(long)}", f"at most {LONGEST}")
    return None


def _student(row: Row, columns: Mapping[str, int], place: int) -> Student:
    def cell(what: str) -> str:
        column = columns.get(what)
        return row.cells[column] if column is not None and column < len(row.cells) else ""

    parts = filter(None, [cell("first_name"), cell("last_name")])
    return Student(row.line, place, cell("name") or " ".join(parts), *map(cell, ("number", "group", "seat", "room")))


def _nameless(student: Student, file: str) -> Fault | None:
    if student.name or student.number:
        return None
    return Fault(file, student.line, "name", "neither a name nor a number", "one of them; or an empty row")


def _twice(students: Sequence[Student], file: str) -> list[Fault]:
    """Numbers that two students of one group have."""
    first: dict[tuple[str, str], Student] = {}
    faults = []
    for student in students:
        before = first.setdefault((student.group, student.number.casefold()), student)
        if student.number and before is not student:
            found = f"{shown(student.number)}, which stands in line {before.line} already"
            faults.append(Fault(file, student.line, "number", found, "a number of its own for each student of a group"))
    return faults
