"""The banks that a plan names: folders of families beside it, which join those of the command line."""

from __future__ import annotations

from collections.abc import Mapping
from itertools import islice
from pathlib import Path

from sheetgen.bank import FAMILY_NAME, Bank, BankError, load_bank
from sheetgen.faults import nearest, shown
from sheetgen.records import Reader
from sheetgen.templating import folder_beside
from sheetgen.yamlines import SUFFIXES

MOST_FOLDERS = 200
"""Beside a plan, in which a family that it names is looked for."""


def with_banks(reader: Reader, data: Mapping[str, object], bank: Bank, folder: Path) -> Bank:
    """The ``bank`` with those that a plan in ``folder`` names; faults are noted in the reader's document. What is no name has its
    fault already."""
    said = data.get("banks", [])
    for number, name in enumerate(said if isinstance(said, list) else [said]):
        path = ("banks", number) if isinstance(said, list) else ("banks",)
        if not isinstance(name, str) or not name:
            continue
        place = folder_beside(folder, name)
        if place is None:
            near, wanted = nearest(name, _folders(folder)), "the name of a folder beside the plan"
            reader.fault(path, shown(name), f"{near}, which lies there; or {wanted}" if near else wanted)
            continue
        try:
            bank = bank.joined(load_bank(place))
        except BankError as error:
            for fault in error.faults:
                reader.fault(path, f"{fault.file}, {fault.found}", fault.wanted)
    return bank


def home_of(family: str, folder: Path) -> str | None:
    """The folder beside a plan in which a family of that name lies, if a plan could name it."""
    if not FAMILY_NAME.fullmatch(family):
        return None
    return next((name for name in _folders(folder) if folder_beside(folder, name)
                 and any((folder / name / f"{family}{suffix}").is_file() for suffix in SUFFIXES)), None)


def _folders(folder: Path) -> list[str]:
    try:
        return sorted(path.name for path in islice(folder.iterdir(), 10 * MOST_FOLDERS) if path.is_dir())[:MOST_FOLDERS]
    except OSError:
        return []
