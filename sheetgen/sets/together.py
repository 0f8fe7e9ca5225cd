"""Files exchanged together: all of a set, or none. In: finished files in a work folder; out: the same in their folder.

First the old ones go into the work folder, then the new ones come out of it, so that at no moment do sheets of two sets stand
side by side. What is to be moved is noted before: if the process ends in between, the next one reads it and goes on. In the work
folder, ``new-NAME`` waits to be moved out, and ``old-NAME`` has been moved in.
"""

from __future__ import annotations

import json
import os
import re
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

NOTE = "moving.json"

ARCHIVE = "..zip"
"""Stands for the one file that lies beside the folder and is called after it, FOLDER.zip; no file in it can have this name."""

GONE = "-"
"""Before the name of a file of the folder that is to go, with none in its place; no file's name begins so."""


def safe_name(name: str) -> str:
    """``name`` as a file name that no system takes for a path or a command.

    >>> safe_name("stepped-block-7-question.pdf"), safe_name("../../etc/x y.pdf"), safe_name("..")
    ('stepped-block-7-question.pdf', 'etc-x-y.pdf', 'sheet')
    """
    return re.sub(r"[^A-Za-z0-9._-]+", "-", name).lstrip(".-")[:120].rstrip(".") or "sheet"


@dataclass(frozen=True, slots=True)
class Exchange:
    """The files ``names`` of the folder ``out``, exchanged for those that wait in ``work``; ARCHIVE and GONE are names too."""

    work: Path
    out: Path
    names: tuple[str, ...]

    def new(self, name: str) -> Path:
        """Where the new file is made."""
        return self.work / f"new-{name}"

    def old(self, name: str) -> Path:
        """Where the old file is kept meanwhile."""
        return self.work / f"old-{name}"

    def place(self, name: str) -> Path:
        """Where the file stands at the end, or stood before."""
        return beside(self.out) if name == ARCHIVE else self.out / name.removeprefix(GONE)

    def run(self) -> None:
        """Exchange them. Raises: OSError if one cannot be; then the old ones are back, unless that cannot be either."""
        for name in self.names:
            if not name.startswith(GONE):
                _settled(self.new(name))
        write_whole(self.work / NOTE, json.dumps(self.names).encode(), settled=True)
        self.finish()

    def finish(self) -> None:
        """Do what is left to be done. Raises: OSError, as ``run``."""
        left = [name for name in self.names if os.path.lexists(self.new(name))]
        gone = [name for name in self.names if name.startswith(GONE)]
        try:
            for name in (*left, *gone):
                if os.path.lexists(self.place(name)) and not os.path.lexists(self.old(name)):
                    self.place(name).replace(self.old(name))
            for name in left:
                self.new(name).replace(self.place(name))
        except OSError:
            self.undo()
            raise
        (self.work / NOTE).unlink(missing_ok=True)
        for name in self.names:
            self.old(name).unlink(missing_ok=True)

    def undo(self) -> None:
        """Put everything back where it was. Raises: OSError."""
        for name in self.names:
            if not name.startswith(GONE) and not os.path.lexists(self.new(name)) and os.path.lexists(self.place(name)):
                self.place(name).replace(self.new(name))
        for name in self.names:
            if os.path.lexists(self.old(name)):
                self.old(name).replace(self.place(name))
        (self.work / NOTE).unlink(missing_ok=True)

    @property
    def begun(self) -> bool:
        """Whether it has been begun and not ended, one way or the other."""
        return (self.work / NOTE).exists()


def begun(work: Path, out: Path) -> Exchange | None:
    """The exchange that a process was at when it ended, if it was at any. A note that no process of ours wrote is none."""
    try:
        names = json.loads((work / NOTE).read_text(encoding="utf-8"))
    except (FileNotFoundError, ValueError):
        return None
    plain = isinstance(names, list) and all(isinstance(name, str) and _plain(name) for name in names)
    return Exchange(work, out, tuple(names)) if plain else None


def lying(exchange: Exchange, shown: str) -> str:
    """What lies in the folder, by looking: of an exchange not begun, undone, or stuck in between. ``shown``: the folder."""
    there = [name for name in exchange.names if not name.startswith(GONE) and os.path.lexists(exchange.place(name))]
    if not exchange.begun:
        named = [exchange.place(name).name for name in there]
        return f"as before, {shown}/ holds {listed(named)}" if there else f"nothing was written to {shown}/"
    new = [name for name in there if not os.path.lexists(exchange.new(name))]
    before = [name for name in there if name not in new]
    each = ((new, "as made now"), (before, "as before"))
    said = [f"{listed([exchange.place(name).name for name in some])} {which}" for some, which in each if some]
    kept = [place.name for name in exchange.names for place in (exchange.new(name), exchange.old(name)) if os.path.lexists(place)]
    here, aside = ", ".join(said) or "none of the files", f"{shown}/{exchange.work.name}/ {listed(kept)}"
    return f"now {shown}/ holds {here}, and {aside}; the next command that writes there puts that right"


def beside(out: Path) -> Path:
    """The archive that belongs to a folder: its path with .zip.

    >>> beside(Path("/school/output")).name
    'output.zip'
    """
    whole = Path(os.path.abspath(out))  # noqa: PTH100 - so that "." has a name; links are kept, as nothing else keeps them
    return whole.with_name(f"{whole.name}.zip")


def _plain(name: str) -> bool:
    """Whether a name is one that an exchange can have."""
    return name == ARCHIVE or safe_name(name.removeprefix(GONE)) == name.removeprefix(GONE)


def listed(names: Sequence[str]) -> str:
    """Names in a row.

    >>> listed(["a", "b", "c"]), listed(["a"])
    ('a, b and c', 'a')
    """
    return " and ".join(filter(None, [", ".join(names[:-1]), *names[-1:]]))


def _settled(path: Path) -> None:
    """Wait until a file is on the disk, so that a power cut does not leave its name without its contents."""
    with path.open("rb+") as file:
        os.fsync(file.fileno())


def write_whole(path: Path, contents: bytes, *, settled: bool = False) -> None:
    """Write a file that is there whole or not at all, whenever the process ends; ``settled``: or the computer."""
    beside = path.with_name(f"{path.name}.part")
    beside.write_bytes(contents)
    if settled:
        _settled(beside)
    beside.replace(path)
