"""The command that gives a teacher a file to begin with."""

from __future__ import annotations

import os
from pathlib import Path
from typing import Any

import click

from sheetgen.cli.common import errors_told
from sheetgen.cli.telling import path_linked, say, tell
from sheetgen.faults import Fault, FaultError, visible_text

SORTS = {
    "plan": "sheetgen worksheet {}", "family": "sheetgen sheet {} --seed 1",
    "title-block": "sheetgen sheet stepped-block --title-block {}",
    "class-list": "sheetgen worksheet --class-list {}", "pack": "sheetgen pack {}", "paper": "sheetgen paper {} --key KEY-FILE",
    "key": "sheetgen paper PLAN.yaml --key {}",
    "instructions": "sheetgen paper PLAN.yaml --key KEY-FILE  (with `instructions: {}` in the plan, beside it)",
}
"""What files there are to begin with, and the command that shows what each gives."""


class NewFileError(FaultError):
    """A file that cannot be begun."""


@click.command("new", short_help="Begin a plan, a pack, a family, a title block, a class list, a paper, its instructions, a key.")
@click.argument("sort", type=click.Choice(list(SORTS)), metavar="plan|family|title-block|class-list|pack|paper|instructions|key")
@click.argument("path", type=click.Path(path_type=Path), metavar="FILE")
@errors_told
def new(sort: str, path: Path) -> None:
    """Write a file to begin with, full of remarks, that works as it stands.

    \b
    plan          a worksheet: your school, your problems
    family        a block of your own
    title-block   your own title block
    class-list    the students of a class: a .csv file
    pack          practice on a page, for students by themselves
    paper         an examination: items, rooms, candidates
    instructions  what its cover says, if not what comes with sheetgen
    key           256 random bits that papers are drawn from, in a .key file; all others are .yaml

    A file that is there already is never overwritten.
    """
    from sheetgen.shared import shipped

    _check_name(sort, path)
    if sort == "key":
        _new_key(path)
        return
    _write(path, (shipped("templates") / "start" / f"{sort}{_suffix(sort)}").read_bytes())
    shown = visible_text(str(path), quote=False)
    named = f'"{shown}"' if " " in shown else shown
    say(f"{path_linked(path)} written. See what it gives:  {SORTS[sort].format(named)}")


def _check_name(sort: str, path: Path) -> None:
    """Find out before writing that the program would not read a file of this name."""
    from sheetgen.bank import FAMILY_NAME, NAME_WANTED

    suffix = _suffix(sort)
    if path.suffix != suffix or not path.stem:
        raise _fault(path, f"a name that does not end in {suffix}", f"such as {path.stem or 'our'}{suffix}")
    if sort == "family" and not FAMILY_NAME.fullmatch(path.stem):
        raise _fault(path, "a name that no family can have", NAME_WANTED)


def _new_key(path: Path) -> None:
    """Write a new key, and say how to keep it."""
    from sheetgen.sets.papers.secret import new_key

    new_key(path)
    say(f"{path_linked(path)} written. Keep it to yourself, and a copy in a safe place: who has lost it cannot make the papers "
        "that were drawn from it again, nor their answers.")
    if os.name == "nt":
        tell("This system has no modes for files: keep the key in a folder that nobody but you can open.")


def _suffix(sort: str) -> str:
    return {"class-list": ".csv", "key": ".key"}.get(sort, ".yaml")


def _write(path: Path, contents: bytes) -> None:
    """Write a file that is not there yet. Raises: NewFileError."""
    if not path.parent.is_dir():
        raise _fault(path, f"no such folder as {visible_text(path.parent.as_posix(), quote=False)}", "a folder that is there")
    try:
        with path.open("xb") as file:
            try:
                file.write(contents)
                file.flush()
            except OSError:
                path.unlink()                          # half a file is worse than none
                raise
    except FileExistsError:
        raise _fault(path, "something of that name already, which stays as it is", "another name") from None
    except (OSError, ValueError) as error:
        reason: Any = getattr(error, "strerror", None)
        raise _fault(path, str(reason or "a path that cannot be used"), "a file in a folder that is there and yours") from None


def _fault(path: Path, found: str, wanted: str) -> NewFileError:
    return NewFileError([Fault(visible_text(path.as_posix(), quote=False), 0, "", found, wanted)])
