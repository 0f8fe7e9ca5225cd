"""A lock on a file, which ends with the process that has it, however that ends: the system holds it, not the file."""

from __future__ import annotations

import os
import sys
from pathlib import Path

if sys.platform == "win32":
    import msvcrt

    def _lock(handle: int) -> None:
        msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
else:
    import fcntl

    def _lock(handle: int) -> None:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)


class LockedError(Exception):
    """Another process has the lock."""


class Lock:
    """Held until it is let go, or until this process ends.

    Raises: LockedError if another process has it; OSError if the file cannot be opened, or files cannot be locked there.
    """

    def __init__(self, path: Path) -> None:
        self.path = path
        self._handle: int | None = os.open(path, os.O_RDWR | os.O_CREAT | getattr(os, "O_NOFOLLOW", 0), 0o666)
        try:
            _lock(self._handle)
        except (BlockingIOError, PermissionError):
            self.let_go()
            raise LockedError from None
        except OSError:
            self.let_go()
            raise

    def stands(self) -> bool:
        """Whether the file is still the one at its path: who had it before may have taken it away."""
        try:
            return self._handle is not None and os.path.samestat(os.fstat(self._handle), self.path.stat())
        except FileNotFoundError:
            return False

    def take_away(self) -> None:
        """Let go, and leave no file. (Windows takes no file away that is open; elsewhere nobody may get in between.)"""
        if sys.platform == "win32":
            self.let_go()
        self.path.unlink(missing_ok=True)
        self.let_go()

    def let_go(self) -> None:
        """Let another process have it."""
        if self._handle is not None:
            os.close(self._handle)
            self._handle = None
