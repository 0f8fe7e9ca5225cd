"""The folder that sheets are written to: all files of a set or none, nothing outside it, and one run in it at a time.

Whatever is not finished stands in one hidden folder in it: exercises that were made, files that wait to be moved to their place.
"""

from __future__ import annotations

import json
import os
import re
from collections.abc import Callable, Sequence
from pathlib import Path
from types import TracebackType
from typing import BinaryIO

from sheetgen.faults import FaultError
from sheetgen.sets.held import undisturbed
from sheetgen.sets.lock import Lock, LockedError
from sheetgen.sets.run import Run
from sheetgen.sets.shelf import Shelf
from sheetgen.sets.together import Exchange, begun, listed, lying, safe_name, write_whole
from sheetgen.sets.trouble import folder_error, path_shown, system_told
from sheetgen.sets.workers import WorkersError

WORK = ".sheetgen-work"
"""The name of the hidden folder."""

LOCK, MANIFEST = "lock", "manifest.json"

_OURS = re.compile(rf"{MANIFEST}|moving\.json|\d+\.made|\d+-[a-z]+\.pages|(new|old)-.+|.+\.part")
"""What we write into the hidden folder; anything else there is somebody else's, and left alone."""

TRIES = 20
"""How often the hidden folder is made anew, if others that have just ended take it away."""


class OutFolder:
    """``with`` it: files are written beside their place, and moved there together at the end when all are whole; after an error
    all is as it was. ``run``: what is being made; what an earlier process made of the same is taken up. ``say``: told of that.
    ``kept``: names of files that must not be there yet.

    Raises: FolderError if the folder cannot be made or written to, or if another process is writing to it.
    """

    def __init__(
        self, path: Path, run: Run | None = None, say: Callable[[str], None] = lambda _: None, kept: Sequence[str] = ()
    ) -> None:
        self.path, self.work = path, path / WORK
        self.shelf = Shelf(self.work)
        self._run, self._say, self._kept = run, say, tuple(map(safe_name, kept))
        self._names: list[str] = []
        self._made: list[Path] = []                    # folders that were not there before
        self._lock: Lock | None = None
        self.taken_up = False

    def check(self) -> None:
        """Find out before the work that the folder cannot be written to."""
        there = self.path
        while not os.path.lexists(there) and there != there.parent:
            there = there.parent
        if not there.is_dir():
            raise folder_error(self.path, f"{path_shown(there)}, which is a file", "a folder")
        if not os.access(there, os.W_OK | os.X_OK):
            raise folder_error(self.path, "a folder that cannot be written to", "a folder of your own; choose another with --out")
        self._check_room(*self._kept)

    def _check_room(self, *names: str) -> None:
        """Raises: FolderError if files that must not be replaced are there."""
        there = [name for name in names if name in self._kept and os.path.lexists(self.path / name)]
        if there:
            found = f"{listed(there)} already, which --no-overwrite keeps"
            raise folder_error(self.path, found, "another folder with --out")

    def add(self, name: str, write: Callable[[BinaryIO], None]) -> Path:
        """Write a file with ``write``; return where it will stand."""
        place = self.path / safe_name(name)
        self._check_room(place.name)
        if place.is_dir():
            raise folder_error(self.path, f"a folder in the place of {place.name}", "room for a file of this name")
        with system_told(self.path), self._exchange(place.name).new(place.name).open("wb") as file:
            write(file)
        self._names.append(place.name)
        return place

    def __enter__(self) -> OutFolder:
        with system_told(self.path):
            self.check()
        with undisturbed(), system_told(self.path):
            try:
                self._open()
            except BaseException:
                if self._lock is not None:
                    self._lock.let_go()
                raise
        return self

    def __exit__(self, kind: type[BaseException] | None, value: BaseException | None, trace: TracebackType | None) -> None:
        exchange = self._exchange(*self._names)
        with undisturbed():
            try:
                if kind is None and self._names:
                    with system_told(self.path, "files that may be replaced, and that no other program has open"):
                        exchange.run()
            except BaseException as error:
                self._close(exchange)
                error.add_note(lying(exchange, path_shown(self.path)))
                raise
            kept = isinstance(value, WorkersError | MemoryError) and self._run is not None
            self._close(exchange, keep=kept)
            if value is not None:
                if self._names or not isinstance(value, FaultError):     # a fault found before has been told, and that is enough
                    value.add_note(lying(exchange, path_shown(self.path)))
                if kept:
                    value.add_note(f"what was made by then waits in {path_shown(self.work)}/; the same command goes on there")

    def _open(self) -> None:
        """Have the hidden folder to ourselves, and see what is in it."""
        self._made = self._make()
        for _ in range(TRIES):
            self.work.mkdir(exist_ok=True)
            if self.work.is_symlink():
                raise folder_error(self.path, f"a link in the place of {WORK}", "no link there")
            try:
                self._lock = Lock(self.work / LOCK)
            except FileNotFoundError:
                continue                               # who had it has taken it away this moment
            except LockedError:
                raise folder_error(self.path, "another sheetgen that is writing to it",
                                   "to wait until that has ended; or another folder with --out") from None
            if self._lock.stands():
                break
            self._lock.let_go()
        else:
            raise folder_error(self.path, "others that write to it without end", "another folder with --out")
        self._recover()

    def _make(self) -> list[Path]:
        """Make the folder; return those that were not there, the innermost first."""
        missing = [folder for folder in (self.path, *self.path.parents) if not folder.exists()]
        try:
            self.path.mkdir(parents=True, exist_ok=True)
        except FileNotFoundError:                      # of a system's own places, such as /proc
            raise folder_error(self.path, "a place where no folder can be made",
                               "a folder of your own; choose another with --out") from None
        return missing

    def _recover(self) -> None:
        """End what an earlier process was killed in; take up its work if it was ours, take it away if not."""
        shown = path_shown(self.path)
        if exchange := begun(self.work, self.path):
            exchange.finish()
            self._say(f"An earlier run was stopped in moving its files; now its {listed(exchange.names)} are in {shown}/.")
        said = self._manifest()
        before = [path for path in self.work.iterdir() if _OURS.fullmatch(path.name)]
        if self._run is not None and said == self._run.digest:
            self.taken_up = any(path.suffix == ".made" for path in before)
            if self.taken_up:
                self._say(f"Going on with what an earlier run of this command has left unfinished in {shown}/.")
        elif before:
            self._clear()
            if not exchange:
                self._say(f"Removed what another command has left unfinished in {shown}/.")
        if self._run is not None:
            text = json.dumps({"run": self._run.digest, "mark": self._run.mark})
            write_whole(self.work / MANIFEST, text.encode())

    def _manifest(self) -> str | None:
        """Whose work it is that lies in the hidden folder."""
        try:
            said = json.loads((self.work / MANIFEST).read_bytes())
        except (FileNotFoundError, ValueError):
            return None
        return str(said.get("run")) if isinstance(said, dict) else None

    def _close(self, exchange: Exchange, keep: bool = False) -> None:
        """Leave no hidden folder, unless it holds what is still wanted; let others in."""
        assert self._lock is not None
        if keep or exchange.begun:
            self._lock.let_go()
            return
        try:
            self._clear()
            self._lock.take_away()
            for folder in (self.work, *self._made):
                folder.rmdir()
        except OSError:
            self._lock.let_go()                        # somebody has put something there; it stays

    def _clear(self) -> None:
        for path in self.work.iterdir():
            if _OURS.fullmatch(path.name) and not path.is_dir():
                path.unlink(missing_ok=True)

    def _exchange(self, *names: str) -> Exchange:
        return Exchange(self.work, self.path, names)
