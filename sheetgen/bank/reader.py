"""How much a family file may hold, and what its faults are raised as; the reading itself is that of all our YAML files."""

from __future__ import annotations

from sheetgen.bank.faults import BankError
from sheetgen.yamlines import Limits, YamlDocument
from sheetgen.yamlines import read as read_yaml

LIMITS = Limits(BankError, kilobytes=200, deepest=12, most_nodes=20_000)
"""A family needs about 5 kB."""


def read(text: str, file: str) -> YamlDocument:
    """Read a family's YAML. Raises: BankError if it cannot be read on: bad YAML, or beyond a limit."""
    return read_yaml(text, file, LIMITS)
