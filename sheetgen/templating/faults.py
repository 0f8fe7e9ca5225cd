"""What is wrong with a template, told to the teacher who wrote it."""

from __future__ import annotations

from collections.abc import Iterable

from sheetgen.faults import Fault, FaultError


class TemplateError(FaultError):
    """A template that cannot be used; ``faults`` in line order."""

    def __init__(self, faults: Iterable[Fault]) -> None:
        super().__init__(sorted(faults, key=lambda fault: (fault.file, fault.line)))
