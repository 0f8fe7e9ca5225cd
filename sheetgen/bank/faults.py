"""What is wrong with a bank file, or with what is asked of it."""

from __future__ import annotations

from sheetgen.faults import FaultError


class BankError(FaultError):
    """A bank file, or a size asked of it, cannot be used. ``str`` gives one line for each fault."""


class UnknownFamilyError(BankError, KeyError):
    """A name asked of a bank that has no such family."""
