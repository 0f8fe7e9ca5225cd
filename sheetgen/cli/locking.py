"""The options by which books of answers are locked. No password is ever given on the command line, where others can read it."""

from __future__ import annotations

import signal
import sys
from collections.abc import Callable
from functools import wraps
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from sheetgen.cli.stopping import StoppedError

if TYPE_CHECKING:
    from sheetgen.ink import Password

Ask = Callable[[], "Password | None"]
"""Gives the password by which answers are locked, asking for it if need be; None: they are not locked."""

TYPED = "the password"
"""What messages call one that is typed."""


def lock_options(command: Callable[..., None]) -> Callable[..., None]:
    """--lock and --lock-with, which the command gets as ``password``, to be called before anything is made."""

    @wraps(command)
    def run(*args: Any, lock: bool, lock_with: Path | None, **named: Any) -> None:
        if lock and lock_with:
            raise click.UsageError("--lock asks for a password and --lock-with has it in a file: only one of them")
        command(*args, password=lambda: _password(lock, lock_with), **named)

    for each in reversed((
        click.option("--lock", is_flag=True,
                     help="Lock what has answers in it (AES, 256 bits) by a password, which is asked for twice."),
        click.option("--lock-with", type=click.Path(path_type=Path), metavar="FILE",
                     help="The same, with the password that is the only line of a text file."),
    )):
        run = each(run)
    return run


def _password(lock: bool, file: Path | None) -> Password | None:
    """Raises: PasswordError."""
    if not lock and file is None:
        return None
    from sheetgen.ink import password_in, password_of

    return password_in(file) if file is not None else password_of(_typed(), TYPED)


def _typed() -> str:
    """What is typed twice, unseen."""
    if not sys.stdin.isatty():
        raise click.UsageError("--lock needs somebody who types a password; without a terminal there is --lock-with FILE")
    try:
        return str(click.prompt("Password for the answers", hide_input=True, confirmation_prompt="The same again", err=True))
    except click.Abort:                # of Ctrl-C, or of a terminal that is closed
        raise StoppedError(signal.SIGINT) from None
