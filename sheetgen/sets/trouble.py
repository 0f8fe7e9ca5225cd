"""What is told of a folder that the system will not let us use."""

from __future__ import annotations

import errno
from collections.abc import Iterator, Mapping
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


_OTHER = "a folder of your own; choose another with --out"
_WORDS: Mapping[int, tuple[str, str]] = {
    errno.ENAMETOOLONG: ("a name that is too long", "a shorter one"),
    errno.ENOENT: ("a place in which the system makes no folder", _OTHER),
    errno.EACCES: ("a folder that you may not write to", _OTHER),
    errno.EPERM: ("a folder that you may not write to", _OTHER),
    errno.EROFS: ("a disk that can only be read", _OTHER),
    errno.ENOSPC: ("a full disk", "a folder with room to write in"),
}
"""What the system says most often, as found and wanted."""


@contextmanager
def system_told(path: Path, wanted: str = "a folder with room to write in") -> Iterator[None]:
    """What the system refuses within the block is told of ``path``. Raises: FolderError."""
    try:
        yield
    except OSError as error:
        found, wanted = _WORDS.get(error.errno or 0, (error.strerror or "a folder that cannot be used", wanted))
        raise folder_error(path, found, wanted) from None
