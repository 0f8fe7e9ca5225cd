"""What is wrong with a template, told to the teacher who wrote it: all faults at once, each with its place."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Fault:
    """One fault of a template file; ``line`` 0 stands for the file as a whole."""

    file: str
    line: int
    field: str
    found: str
    wanted: str

    def __str__(self) -> str:
        """One line, as an editor can follow it.

        >>> print(Fault("harbour.yaml", 4, "width", "'wide'", "a number of millimetres"))
        harbour.yaml:4: width: found 'wide', wanted a number of millimetres
        """
        place = f"{self.file}:{self.line}" if self.line else self.file
        field = f"{self.field}: " if self.field else ""
        return f"{place}: {field}found {self.found}, wanted {self.wanted}"


class TemplateError(ValueError):
    """A template that cannot be used; ``faults`` in line order."""

    def __init__(self, faults: Iterable[Fault]) -> None:
        self.faults: tuple[Fault, ...] = tuple(sorted(faults, key=lambda fault: (fault.file, fault.line)))
        super().__init__("\n".join(str(fault) for fault in self.faults))

    def __reduce__(self) -> tuple[type[TemplateError], tuple[tuple[Fault, ...]]]:
        """Errors travel between processes when a set is made in parallel."""
        return (type(self), (self.faults,))
