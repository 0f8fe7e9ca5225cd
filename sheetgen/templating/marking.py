"""Marking templates: how the marks of a problem are shared out, from ``templates/marking`` or a teacher's own file."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from sheetgen.faults import Fault
from sheetgen.shared import shipped
from sheetgen.templating.files import found

PARTS = ("arrangement", "front", "top", "side", "dimensions", "line_work", "title_block")
"""What marks are shared out to; each side view has the share of ``side``."""

SORTS = ("outlines", "curves", "hidden", "centre")
"""Of the lines of a view: visible straight ones, visible curves, hidden ones, centre lines."""

FAULTS = ("arrangement", "wrong_side", *SORTS, "dimensions", "line_work", "title_block")
"""For what marks are taken off."""

USUAL_SCHEME, USUAL_MARKS = "by-parts", 20.0
"""The template, and the marks of a problem, of who names none."""

MOST_MARKS = 200.0
"""Of one problem: a paper of nothing else has 100."""


MARKS_WANTED = f"a number of marks, whole or with a half, from 0.5 to {MOST_MARKS:g}"
"""What would be right where it is no such number."""


def are_marks(number: float | None) -> bool:
    """Whether a number can be the marks of a problem.

    >>> [are_marks(number) for number in (20.0, 0.5, 7.25, 0.0, 1e9, None)]
    [True, True, False, False, False, False]
    """
    return number is not None and 0.5 <= number <= MOST_MARKS and number * 2 == int(number * 2)


@dataclass(frozen=True, slots=True)
class MarkingTemplate:
    """``deducts``: marks are taken off for faults, not given for what is right; ``parts``: their shares, by PARTS;
    ``lines``: what a line of each of SORTS counts within its view; ``off``: marks of 100 taken off for each fault, by FAULTS;
    ``remarks``: what had better be changed in its file."""

    deducts: bool
    parts: Mapping[str, float]
    lines: Mapping[str, float]
    off: Mapping[str, float]
    file: str
    remarks: tuple[Fault, ...] = ()


def marking_names() -> tuple[str, ...]:
    """Return the names of the marking templates that come with the program."""
    return tuple(sorted(path.stem for path in (shipped("templates") / "marking").glob("*.yaml")))


def load_marking(name: str | Path = USUAL_SCHEME) -> MarkingTemplate:
    """Return a marking template: a ``str`` is the plain name of one in ``templates/marking``, a ``Path`` any YAML file.

    Raises: TemplateError with every fault of the file.

    >>> load_marking("by-deductions").deducts
    True
    """
    from sheetgen.templating.marking_file import read_marking

    return read_marking(*found(name, "marking template", "marking", marking_names()))
