"""What a sheet is for, and what a set says on it."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from sheetgen.exercises.marking.record import Marking


class Role(StrEnum):
    """What a sheet is for. Its value is its name in files and in the wording."""

    QUESTION = "question"
    ANSWER = "answer"
    BLANK = "blank"           # frame, title block and check bar, to draw the answer on
    MARKING = "marking"       # the scheme by which the answer is marked, its lines numbered
    OVERLAY = "overlay"       # each view of the answer alone, on film to be laid over a script
    HINTS = "hints"           # three hints and a self-check, on paper that is folded so that each shows when it is wanted
    CONSTRUCTION = "construction"    # how the answer is built, a page a stage
    PROJECTORS = "projectors"    # the answer with all its projectors and the mitre line
    KEY = "key"               # the answer's drawing alone, half as large: several of them make a sheet of the answer key

    @property
    def book(self) -> str:
        """What the sheets of a set are called together, and their file: questions.pdf."""
        alike = self in (Role.MARKING, Role.CONSTRUCTION) or self.value.endswith("s")
        return self.value if alike else f"{self.value}s"

    @property
    def together(self) -> str:
        """What the wording calls the text that is the title of such a file."""
        return f"all_{self.value}" if self.value.endswith("s") else f"{self.value}s"

    @property
    def tells(self) -> bool:
        """Whether its sheets have the answer on them."""
        return self in (Role.ANSWER, Role.KEY, *FOR_MARKERS, *WORKED)


PRINTED = (Role.QUESTION, Role.ANSWER, Role.BLANK)
"""The sheets that every kind has, one for each who draws."""

FOR_MARKERS = (Role.MARKING, Role.OVERLAY)
"""What only its marker sees, once for all who draw the same."""

WORKED = (Role.CONSTRUCTION, Role.PROJECTORS)
"""What shows how the answer is built."""

FOR_STUDENTS = (Role.HINTS, *WORKED)
"""What helps those who draw, to be handed out by whoever teaches them: once for all who draw the same, and printed as often as it
is asked for."""

ONCE = (*FOR_MARKERS, *FOR_STUDENTS)
"""What is made once for all who draw the same, and has no say in which variant is printed: question and answer must be the same
with it and without."""

TITLED = (*PRINTED, Role.MARKING, *WORKED)
"""The roles whose pages have frame and title block."""

ASKED = (Role.QUESTION, Role.ANSWER)
"""The sheets that every exercise has; one of which either cannot be drawn right is not printed at all."""


@dataclass(frozen=True, slots=True)
class Particulars:
    """What a set says on the sheets of one exercise. Empty texts leave room for handwriting.

    ``code``: what ties a question to its answer; ``sheet`` of ``sheets``; ``student``: who draws, and ``student_number``,
    ``group`` (in place of the course's class) and ``seat`` as a class list has them; ``marking``: what it is worth, and by which
    scheme, None for the usual.
    """

    code: str = ""
    sheet: int = 1
    sheets: int = 1
    student: str = ""
    student_number: str = ""
    group: str = ""
    seat: str = ""
    marking: Marking | None = None
