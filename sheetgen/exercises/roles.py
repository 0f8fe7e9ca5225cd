"""What a sheet is for, and what a set says on it."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Role(StrEnum):
    """What a sheet is for. Its value is its name in files and in the wording."""

    QUESTION = "question"
    ANSWER = "answer"
    BLANK = "blank"           # frame, title block and check bar, to draw the answer on

    @property
    def book(self) -> str:
        """What the sheets of a set are called together, and their file: questions.pdf."""
        return f"{self.value}s"


ASKED = (Role.QUESTION, Role.ANSWER)
"""The sheets that every exercise has; one of which either cannot be drawn right is not printed at all."""


@dataclass(frozen=True, slots=True)
class Particulars:
    """What a set says on the sheets of one exercise. Empty texts leave room for handwriting.

    ``code``: what ties a question to its answer; ``sheet`` of ``sheets``; ``student``: who draws.
    """

    code: str = ""
    sheet: int = 1
    sheets: int = 1
    student: str = ""
