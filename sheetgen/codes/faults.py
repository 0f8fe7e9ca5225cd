"""What is wrong with a code that was typed."""

from __future__ import annotations

from sheetgen.faults import Fault, FaultError


class CodeError(FaultError):
    """A code that cannot be understood, or that belongs to nothing here."""


def wrong_code(found: str, wanted: str) -> CodeError:
    """One thing wrong with a code."""
    return CodeError([Fault("the code", 0, "", found, wanted)])
