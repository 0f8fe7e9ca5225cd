"""What a problem is worth, and by which scheme it is marked."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from sheetgen.templating import MarkingTemplate, load_marking
from sheetgen.templating.marking import MARKS_WANTED, USUAL_MARKS, are_marks


@dataclass(frozen=True, slots=True)
class Marking:
    """``halves``: the marks of one problem, counted in halves."""

    halves: int
    template: MarkingTemplate

    @classmethod
    def of(cls, marks: float, template: MarkingTemplate) -> Marking:
        """For so many ``marks``. Raises: ValueError for marks that are not whole or halves, or none, or too many."""
        if not are_marks(marks):
            raise ValueError(f"{marks:g}, wanted {MARKS_WANTED}")
        return cls(int(marks * 2), template)


@cache
def usual_marking() -> Marking:
    """Of who says nothing: the usual marks by the usual scheme."""
    return Marking.of(USUAL_MARKS, load_marking())


def marks_text(halves: int) -> str:
    """Marks as they are printed.

    >>> marks_text(5), marks_text(6)
    ('2.5', '3')
    """
    return f"{halves / 2:g}"
