"""How much a family file may hold, and what its faults are raised as; the reading itself is that of all our YAML files."""

from __future__ import annotations

from pathlib import Path

from sheetgen.bank.faults import BankError
from sheetgen.yamlines import Limits, YamlDocument
from sheetgen.yamlines import read as read_yaml
from sheetgen.yamlines import read_text as read_file

LIMITS = Limits(BankError, kilobytes=200, deepest=12, most_nodes=20_000)
"""A family needs about 5 kB."""


def read_text(path: Path, file: str) -> str:
    """The text of a family file. Raises: BankError if it is missing, too big or not UTF-8."""
    return read_file(path, file, LIMITS)


def read(text: str, file: str) -> YamlDocument:
    """Read a family's YAML. Raises: BankError if it cannot be read on: bad YAML, or beyond a limit."""
    return read_yaml(text, file, LIMITS)
