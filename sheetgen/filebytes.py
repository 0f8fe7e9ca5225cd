"""The bytes of a file that may be a stranger's, within a limit; what is wrong with it is told as of all our files."""

from __future__ import annotations

from collections.abc import Collection
from itertools import islice
from pathlib import Path

from sheetgen.faults import Fault, FaultError, nearest, visible_text

MOST_LOOKED_AT = 2000
"""Files of a folder among which the nearest to a misspelt name is looked for."""


def file_like(folder: Path, name: str, suffixes: Collection[str] = ()) -> str | None:
    """The name of the file in a folder that is most like ``name``, of those that end in one of the ``suffixes`` (by default as it
    does itself), as a message shows it; None if none is like it."""
    ends = tuple(suffixes) or (Path(name).suffix.lower(),)
    try:
        looked_at = islice(folder.iterdir(), MOST_LOOKED_AT)
        there = [path.name for path in looked_at if path.name.lower().endswith(ends) and path.is_file()]
    except (OSError, ValueError):
        return None
    by_stem = {Path(found).stem.casefold(): found for found in sorted(there)}
    near = nearest(Path(name).stem.casefold(), by_stem)
    return visible_text(by_stem[near], quote=False) if near else None


def bytes_of(
    path: Path, file: str, kilobytes: int, error: type[FaultError] = FaultError, sort: str = "a file", smaller: str = ""
) -> bytes:
    """What a file holds; messages call it ``file``. ``sort``: of file that is wanted, in words; ``smaller``: what to give instead
    of one that is too big.

    Raises: ``error`` if it is missing, cannot be read, or has more than so many ``kilobytes``.
    """
    try:
        if not path.is_file():
            near = file_like(path.parent, path.name)
            found = "a folder" if path.is_dir() else "no such file"
            raise error([Fault(file, 0, "", found, f"{near}, which lies there, or another" if near else sort)])
        with path.open("rb") as stream:
            raw = stream.read(kilobytes * 1000 + 1)
    except (OSError, ValueError) as refused:
        reason = getattr(refused, "strerror", None) or "a path that cannot be used"
        raise error([Fault(file, 0, "", reason, "a file that can be read")]) from None
    if len(raw) > kilobytes * 1000:
        size = f"{kilobytes} kB" if kilobytes < 1000 else f"{kilobytes // 1000} MB"
        raise error([Fault(file, 0, "", f"a file of more than {size}", smaller or f"at most {size}")])
    return raw
