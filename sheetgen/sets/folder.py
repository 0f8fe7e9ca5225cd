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
from sheetgen.sets.archive import is_ours, write_archive
from sheetgen.sets.held import undisturbed
from sheetgen.sets.lock import Lock, LockedError
from sheetgen.sets.run import Run
from sheetgen.sets.shelf import Shelf
from sheetgen.sets.together import ARCHIVE, GONE, Exchange, begun, beside, listed, lying, safe_name, write_whole
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
    ``kept``: names of files that must not be there yet. ``secret``: what waits in the hidden folder is for nobody else to see.
    ``archived``: there will be an archive beside it.

    Raises: FolderError if the folder cannot be made or written to, or if another process is writing to it.
    """

    def __init__(
        self, path: Path, run: Run | None = None, say: Callable[[str], None] = lambda _: None, kept: Sequence[str] = (),
        secret: bool = False, archived: bool = False,
    ) -> None:
        self.path, self.work = path, path / WORK
        self.shelf = Shelf(self.work)
        self._run, self._say, self._kept = run, say, tuple(map(safe_name, kept))
        self._secret, self._archived = secret, archived
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
        if self._archived:
            self._check_beside()

    def _check_beside(self) -> None:
        """Raises: FolderError if no archive can stand beside the folder."""
        place = beside(self.path)
        there = place.parent
        while not there.exists():
            there = there.parent
        alone = self.path.is_mount() or not place.stem
        if alone or place.is_dir() or not os.access(there, os.W_OK | os.X_OK):
            found = f"no room beside it for the archive {path_shown(place)}"
            raise folder_error(self.path, found, "a folder within a folder of your own; choose another with --out")
        if os.path.lexists(place) and not is_ours(place):
            raise folder_error(self.path, f"{path_shown(place)} beside it, which no pack has made",
                               "another folder with --out; or give that archive another name")
        if self._kept and os.path.lexists(place):
            found = f"{place.name} beside it already, which --no-overwrite keeps"
            raise folder_error(self.path, found, "another folder with --out")

    def _check_room(self, *names: str) -> None:
        """Raises: FolderError if files that must not be replaced are there."""
        there = [name for name in names if name in self._kept and os.path.lexists(self.path / name)]
        if there:
            found = f"{listed(there)} already, which --no-overwrite keeps"
            raise folder_error(self.path, found, "another folder with --out")

    def add(self, name: str, write: Callable[[BinaryIO], None], secret: bool = False) -> Path:
        """Write a file with ``write``; return where it will stand. ``secret``: only its owner may read it."""
        place = self.path / safe_name(name)
        self._check_room(place.name)
        if place.is_dir():
            raise folder_error(self.path, f"a folder in the place of {place.name}", "room for a file of this name")
        with system_told(self.path), _new(self._exchange(place.name).new(place.name), secret) as file:
            write(file)
        self._names.append(place.name)
        return place

    def archive(self) -> Path:
        """Put all files that were added into an archive beside the folder, FOLDER.zip; return where it will stand."""
        place = beside(self.path)
        names = [name for name in self._names if not name.startswith(GONE)]
        exchange = self._exchange(ARCHIVE)
        with system_told(self.path), _new(exchange.new(ARCHIVE), self._secret) as file:
            write_archive(file, safe_name(place.stem), [(name, exchange.new(name)) for name in names])
        self._names.append(ARCHIVE)
        return place

    def take_away(self, names: Sequence[str]) -> None:
        """Have files of an earlier set go when the new ones come. ``names``: plain ones, of files or of nothing."""
        there = [safe_name(name) for name in names if (self.path / safe_name(name)).is_file()]
        self._names += [f"{GONE}{name}" for name in there if name not in self._names]

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
            self.work.mkdir(0o700 if self._secret else 0o777, exist_ok=True)
            if self.work.is_symlink():
                raise folder_error(self.path, f"a link in the place of {WORK}", "no link there")
            if self._secret:
                self.work.chmod(0o700)
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
            names = [exchange.place(name).name for name in exchange.names if not name.startswith(GONE)]
            self._say(f"An earlier run was stopped in moving its files; now its {listed(names)} are in {shown}/.")
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


def _new(path: Path, secret: bool) -> BinaryIO:
    """A new file to be written; a ``secret`` one is so from its first moment."""
    path.unlink(missing_ok=True)                       # of an earlier process, perhaps with another mode
    return os.fdopen(os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0), 0o600 if secret else 0o666),
                     "wb")
