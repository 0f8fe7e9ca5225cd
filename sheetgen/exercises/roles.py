"""What a sheet is for, and what a set says on it."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Role(StrEnum):
    """What a sheet is for. Its value is its name in files and in the wording."""

    QUESTION = "question"
    ANSWER = "answer"
    BLANK = "blank"           # frame, title block and check bar, to draw the answer on
    KEY = "key"               # the answer's drawing alone, half as large: several of them make a sheet of the answer key

    @property
    def book(self) -> str:
        """What the sheets of a set are called together, and their file: questions.pdf."""
        return f"{self.value}s"

    @property
    def tells(self) -> bool:
        """Whether its sheets have the answer on them."""
        return self in (Role.ANSWER, Role.KEY)


PRINTED = tuple(role for role in Role if role is not Role.KEY)
"""The roles whose pages are sheets, each with frame and title block."""

ASKED = (Role.QUESTION, Role.ANSWER)
"""The sheets that every exercise has; one of which either cannot be drawn right is not printed at all."""


@dataclass(frozen=True, slots=True)
class Particulars:
    """What a set says on the sheets of one exercise. Empty texts leave room for handwriting.

    ``code``: what ties a question to its answer; ``sheet`` of ``sheets``; ``student``: who draws, and ``student_number``,
    ``group`` (in place of the course's class) and ``seat`` as a class list has them.
    """

    code: str = ""
    sheet: int = 1
    sheets: int = 1
    student: str = ""
    student_number: str = ""
    group: str = ""
    seat: str = ""
