"""What is printed, and what becomes of it where nobody can read it: streams that are closed, full, or short of letters."""

from __future__ import annotations

import io
import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TextIO

import click

from sheetgen.faults import visible_text


class UnsaidError(Exception):
    """Something could not be printed. ``broken``: because whoever read it has gone."""

    def __init__(self, error: OSError) -> None:
        super().__init__(error.strerror or "the output cannot be written to")
        self.broken = isinstance(error, BrokenPipeError)


def ready_streams() -> None:
    """See to it that no file of ours takes the place of a stream that was closed, and that a letter that a console lacks becomes
    a question mark, not the end of the program."""
    for handle in (0, 1, 2):
        try:
            os.fstat(handle)
        except OSError:
            os.open(os.devnull, os.O_RDWR)             # takes the lowest place that is free: this one
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper) and not (stream.encoding or "").lower().startswith("utf"):
            stream.reconfigure(errors="replace")


@contextmanager
def printing() -> Iterator[None]:
    """Within the block, something that was asked for is printed. Raises: UnsaidError if it cannot be."""
    try:
        yield
    except OSError as error:
        _give_up(sys.stdout, 1)
        raise UnsaidError(error) from None


def say(text: str) -> None:
    """Print a line that was asked for. Raises: UnsaidError."""
    with printing():
        click.echo(text)


def closing_line(text: str) -> None:
    """Print what was written and where. It is written, whether or not that can be printed; so it is told elsewhere then."""
    try:
        say(text)
    except UnsaidError:
        tell(text)


def tell(text: str) -> None:
    """Print beside it what else is to be known, if anybody can read it."""
    try:
        click.echo(text, err=True)
    except OSError:
        _give_up(sys.stderr, 2)


def path_linked(path: Path) -> str:
    """A path as it was given; where a terminal reads it, a link to the file (the escape sequence OSC 8)."""
    text = visible_text(str(path), quote=False)
    if not _terminal():
        return text
    return f"\033]8;;{path.resolve().as_uri()}\033\\{text}\033]8;;\033\\"


def _terminal() -> bool:
    """Whether what is printed goes to a terminal that knows, or at least swallows, escape sequences."""
    if sys.stdout is None or not sys.stdout.isatty() or os.environ.get("TERM") in ("dumb", "linux"):
        return False
    return os.name != "nt" or "WT_SESSION" in os.environ


def _give_up(stream: TextIO, handle: int) -> None:
    """Let what waits in a stream that takes nothing go nowhere, or Python would try again when it ends."""
    if stream in (sys.__stdout__, sys.__stderr__):
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, handle)
        os.close(nowhere)
