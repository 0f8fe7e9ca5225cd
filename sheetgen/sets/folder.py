"""The folder that sheets are written to: whole files or none, and nothing outside it."""

from __future__ import annotations

import os
import re
from collections.abc import Callable
from pathlib import Path
from tempfile import mkstemp
from types import TracebackType
from typing import BinaryIO

from sheetgen.faults import Fault, FaultError, visible_text

_MASK = os.umask(0)
os.umask(_MASK)


class FolderError(FaultError):
    """A folder that cannot be written to."""


def safe_name(name: str) -> str:
    """``name`` as a file name that no system takes for a path or a command.

    >>> safe_name("stepped-block-7-question.pdf"), safe_name("../../etc/x y.pdf"), safe_name("..")
    ('stepped-block-7-question.pdf', 'etc-x-y.pdf', 'sheet')
    """
    return re.sub(r"[^A-Za-z0-9._-]+", "-", name).lstrip(".-")[:120].rstrip(".") or "sheet"


class OutFolder:
    """Files are written beside their place and moved there together when all are whole; after an error none is left behind.

    Raises: FolderError if the folder cannot be made or written to.
    """

    def __init__(self, path: Path) -> None:
        self.path = path
        self._waiting: list[tuple[Path, Path]] = []       # temporary file, its place

    def check(self) -> None:
        """Find out before the work that the folder cannot be written to."""
        there = self.path
        while not there.exists() and there != there.parent:
            there = there.parent
        if not there.is_dir():
            raise self._error(f"{_shown(there)}, which is a file", "a folder")
        if not os.access(there, os.W_OK | os.X_OK):
            raise self._error("a folder that cannot be written to", "a folder of your own; choose another with --out")

    def add(self, name: str, write: Callable[[BinaryIO], None]) -> Path:
        """Write a file with ``write``; return where it will stand."""
        place = self.path / safe_name(name)
        try:
            if place.is_dir():
                raise self._error(f"a folder in the place of {place.name}", "room for a file of this name")
            self.path.mkdir(parents=True, exist_ok=True)
            handle, temporary = mkstemp(prefix=".", suffix=".part", dir=self.path)
            self._waiting.append((Path(temporary), place))
            with os.fdopen(handle, "wb") as file:
                write(file)
        except OSError as error:
            raise self._error(error.strerror or "a folder that cannot be used", "a folder with room to write in") from None
        return place

    def __enter__(self) -> OutFolder:
        self.check()
        return self

    def __exit__(self, kind: type[BaseException] | None, value: BaseException | None, trace: TracebackType | None) -> None:
        try:
            if kind is None:
                self._move()
        finally:
            for temporary, _ in self._waiting:
                temporary.unlink(missing_ok=True)

    def _move(self) -> None:
        try:
            for temporary, place in self._waiting:
                temporary.chmod(0o666 & ~_MASK)            # as any new file; temporary ones are for their owner alone
                temporary.replace(place)
        except OSError as error:
            raise self._error(error.strerror or "a file that cannot be replaced", "files that may be replaced") from None

    def _error(self, found: str, wanted: str) -> FolderError:
        return FolderError([Fault(_shown(self.path), 0, "", found, wanted)])


def _shown(path: Path) -> str:
    return visible_text(path.as_posix(), quote=False)
