"""The command line in a process of its own, to be stopped: for the tests of stopping, and for the benchmark of it.

All processes of one run carry a word in their environment, by which they are found however they were started. (Linux only: it
looks into /proc.)
"""

from __future__ import annotations

import os
import re
import signal
import subprocess
import sys
import time
import uuid
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path

from sheetgen.sets.folder import WORK

WORD = "SHEETGEN_TRIAL"
PATIENCE = 120.0
"""Seconds that a test waits for what must come; a machine may be slow."""

AT_ONCE = 2.0
"""Seconds within which workers must end."""

HEARD = """
import signal
signal.signal(signal.SIGINT, signal.default_int_handler)
signal.signal(signal.SIGHUP, signal.SIG_DFL)
"""
"""A program begun in the background by a script would not hear these: a teacher's terminal is played here."""


class Trial:
    """One run of the command, the leader of a process group as it would be in a terminal."""

    def __init__(self, words: Sequence[object], folder: Path, before: str = "", **options: object) -> None:
        self.word = uuid.uuid4().hex
        code = f"{HEARD}{before}\nfrom sheetgen.cli import main\nmain(prog_name='sheetgen')"
        environment = {**os.environ, WORD: self.word, "PYTHONPATH": str(Path(__file__).resolve().parent.parent)}
        streams = {"stdout": subprocess.PIPE, "stderr": subprocess.PIPE, **options}
        self.process = subprocess.Popen(
            [sys.executable, "-c", code, *map(str, words)], cwd=folder, env={**environment, **streams.pop("extra", {})},
            start_new_session=True, text=True, **streams)

    def all(self) -> set[int]:
        """The processes of this run that have not ended."""
        found = set()
        for place in Path("/proc").glob("[0-9]*"):
            try:
                mine = f"{WORD}={self.word}".encode() in (place / "environ").read_bytes().split(b"\0")
                state = (place / "stat").read_text(encoding="utf-8", errors="replace").rpartition(")")[2].split()[0]
            except OSError:
                continue                                   # it has ended meanwhile
            if mine and state not in "ZX":
                found.add(int(place.name))
        return found

    def wait_for(self, true: Callable[[], bool], what: str) -> None:
        """Wait until something is so, while the run goes on."""
        until = time.monotonic() + PATIENCE
        while not true():
            assert self.process.poll() is None, f"it ended before {what}: {self.process.communicate()}"
            assert time.monotonic() < until, f"no {what}"
            time.sleep(0.005)

    def stop(self, number: int, *, group: bool = False) -> float:
        """Send a signal, to the whole group if so; return the seconds until no process of the run is left."""
        start = time.monotonic()
        (os.killpg if group else os.kill)(self.process.pid, number)
        while self.all():
            assert time.monotonic() - start < PATIENCE, f"still there: {self.all()}"
            self.process.poll()
            time.sleep(0.01)
        return time.monotonic() - start

    def ended(self) -> tuple[int, str, str]:
        """Wait for its end; exit code, and what it has said."""
        said, told = self.process.communicate(timeout=PATIENCE)
        return self.process.returncode, said or "", told or ""

    def end(self) -> None:
        """Leave no process, whatever the test has found."""
        for number in self.all():
            os.kill(number, signal.SIGKILL)
        self.process.communicate()


def contents(folder: Path) -> dict[str, bytes]:
    """The files of a folder by their names; none in folders within it."""
    return {path.name: path.read_bytes() for path in sorted(folder.iterdir()) if path.is_file()} if folder.exists() else {}


def marks(files: Mapping[str, bytes]) -> set[str]:
    """The marks that some PDFs carry."""
    return {found.decode() for file in files.values() for found in re.findall(rb"/Creator \(sheetgen, set ([0-9a-f]+)\)", file)}


def faults_after_kill(out: Path, before: Mapping[str, bytes], wanted: Mapping[str, bytes]) -> list[str]:
    """What is wrong with what a killed run has left: anything but its hidden folder, and whole files, all of one set."""
    left = contents(out)
    found = [f"{name} is neither the old nor the new file" for name, file in left.items()
             if file not in (before.get(name), wanted.get(name))]
    others = [path.name for path in out.iterdir() if not path.is_file() and path.name != WORK] if out.exists() else []
    found += [f"{name} lies there" for name in others]
    return found + ([f"sheets of {len(marks(left))} sets side by side"] if len(marks(left)) > 1 else [])
