"""What is told of a folder that the system will not let us use."""

from __future__ import annotations

import errno
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from sheetgen.faults import Fault, FaultError, visible_text


class FolderError(FaultError):
    """A folder that cannot be written to."""


def folder_error(path: Path, found: str, wanted: str) -> FolderError:
    """One fault of the folder ``path``."""
    return FolderError([Fault(path_shown(path), 0, "", found, wanted)])


def path_shown(path: Path) -> str:
    """A path as messages give it."""
    return visible_text(path.as_posix(), quote=False)


@contextmanager
def system_told(path: Path, wanted: str = "a folder with room to write in") -> Iterator[None]:
    """What the system refuses within the block is told of ``path``. Raises: FolderError."""
    try:
        yield
    except OSError as error:
        wanted = "a shorter one" if error.errno == errno.ENAMETOOLONG else wanted
        raise folder_error(path, error.strerror or "a folder that cannot be used", wanted) from None
