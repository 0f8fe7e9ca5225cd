"""The bytes of a file that may be a stranger's, within a limit; what is wrong with it is told as of all our files."""

from __future__ import annotations

from pathlib import Path

from sheetgen.faults import Fault, FaultError


def bytes_of(
    path: Path, file: str, kilobytes: int, error: type[FaultError] = FaultError, sort: str = "a file", smaller: str = ""
) -> bytes:
    """What a file holds; messages call it ``file``. ``sort``: of file that is wanted, in words; ``smaller``: what to give instead
    of one that is too big.

    Raises: ``error`` if it is missing, cannot be read, or has more than so many ``kilobytes``.
    """
    try:
        if not path.is_file():
            raise error([Fault(file, 0, "", "no such file", sort)])
        with path.open("rb") as stream:
            raw = stream.read(kilobytes * 1000 + 1)
    except (OSError, ValueError) as refused:
        reason = getattr(refused, "strerror", None) or "a path that cannot be used"
        raise error([Fault(file, 0, "", reason, "a file that can be read")]) from None
    if len(raw) > kilobytes * 1000:
        size = f"{kilobytes} kB" if kilobytes < 1000 else f"{kilobytes // 1000} MB"
        raise error([Fault(file, 0, "", f"a file of more than {size}", smaller or f"at most {size}")])
    return raw
