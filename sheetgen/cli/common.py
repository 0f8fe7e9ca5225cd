"""What all commands share: how errors are told, and the options for bank and folder."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable
from functools import wraps
from pathlib import Path
from typing import TYPE_CHECKING, ParamSpec

import click

from sheetgen.faults import Fault, FaultError, visible_text

if TYPE_CHECKING:
    from sheetgen.exercises import Role

P = ParamSpec("P")

WRONG, BROKEN, STOPPED = 2, 70, 130
"""Exit codes: something to be put right by the user, a fault of the program itself, stopped with Ctrl-C."""

DEBUG = "SHEETGEN_DEBUG"
"""Set in the environment, it shows developers where a fault of the program arose."""


def errors_told(command: Callable[P, None]) -> Callable[P, None]:
    """Turn every error of ``command`` into plain lines on stderr and an exit code."""

    @wraps(command)
    def run(*args: P.args, **kwargs: P.kwargs) -> None:
        try:
            command(*args, **kwargs)
        except FaultError as error:
            click.echo(str(error), err=True)
            raise SystemExit(WRONG) from None
        except KeyboardInterrupt:
            click.echo("Stopped; nothing was written.", err=True)
            raise SystemExit(STOPPED) from None
        except (click.ClickException, click.exceptions.Exit, click.Abort, BrokenPipeError):
            raise
        except Exception as error:      # the last catch: a teacher sees a line and code 70 for any fault of ours, not a traceback
            if os.environ.get(DEBUG):
                raise
            what = visible_text(f"{type(error).__name__}: {error}"[:300], quote=False)
            click.echo(f"sheetgen itself has failed, and nothing was written. Please report this: {what}", err=True)
            raise SystemExit(BROKEN) from None

    return run


def tell_remarks(remarks: Iterable[Fault]) -> None:
    """Say what had better be changed; the sheets are made all the same."""
    for remark in remarks:
        click.echo(f"Remark: {remark}", err=True)


def roles_of(blank: bool) -> tuple[Role, ...]:
    """The roles that the options ask sheets for."""
    from sheetgen.exercises import ASKED, Role

    return (*ASKED, Role.BLANK) if blank else ASKED


def _known_kind(kind: str | None) -> str | None:
    """The kind as it was written, if there is one of that name."""
    if kind is None:
        return None                    # and nothing is imported for it
    from sheetgen.exercises import kinds

    if kind not in kinds():
        raise click.BadParameter(f"there is no kind {kind!r}: it is one of {', '.join(kinds())}")
    return kind


def file_or_name(text: str) -> str | Path:
    """A path if it looks like one: the user's own word, so it may lead anywhere. Else the name of what comes with sheetgen."""
    from sheetgen.yamlines import is_yaml

    return Path(text) if is_yaml(text) or "/" in text or os.sep in text else text


blank_option = click.option(
    "--blank", is_flag=True, help="Make a blank sheet too, with frame, title block and scale, to draw the answer on.")
kind_option = click.option(
    "--kind", callback=lambda _context, _option, kind: _known_kind(kind), metavar="KIND",
    help="What is asked: one of those that \"sheetgen kinds\" lists.  [default: views]")
out_option = click.option(
    "--out", type=click.Path(path_type=Path), metavar="DIR", default=Path("output"), show_default=True,
    help="The folder to write to; it is made if there is none.")
