"""What all commands share: how errors are told, and options of several of them."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable
from functools import wraps
from pathlib import Path
from typing import TYPE_CHECKING, ParamSpec

import click

from sheetgen.cli.options import Whole
from sheetgen.cli.stopping import StoppedError, stops_heard
from sheetgen.cli.telling import UnsaidError, tell
from sheetgen.faults import Fault, FaultError, visible_text

if TYPE_CHECKING:
    from sheetgen.exercises import Role

P = ParamSpec("P")

FAULTY, WRONG, BROKEN, STOPPED = 1, 2, 70, 130
"""Exit codes: families at fault among others, something to be put right by the user, a fault of the program itself, stopped (by
another signal than Ctrl-C: 128 and its number)."""

MOST_SAID = 300
"""Characters of an error of somebody else's that are told."""

DEBUG = "SHEETGEN_DEBUG"
"""Set in the environment, it shows developers where a fault of the program arose."""


def errors_told(command: Callable[P, None]) -> Callable[P, None]:
    """Turn every error of ``command`` into plain lines on stderr and an exit code."""

    @wraps(command)
    def run(*args: P.args, **kwargs: P.kwargs) -> None:
        with stops_heard():
            if code := _outcome(lambda: command(*args, **kwargs)):
                raise SystemExit(code)

    return run


def _outcome(command: Callable[[], None]) -> int:
    """The exit code of a command. What lies in the folder, if it was at any, stands in the notes of an error."""
    try:
        command()
    except FaultError as error:
        tell("\n".join([str(error), *(_sentence(note) for note in _notes(error))]))
        return WRONG
    except KeyboardInterrupt as stop:
        tell("; ".join(["Stopped", *_notes(stop)]) + ".")
        return stop.code if isinstance(stop, StoppedError) else STOPPED
    except UnsaidError as error:
        if not error.broken:
            tell(f"Not all could be printed: {error}.")
        return FAULTY if error.broken else WRONG
    except MemoryError as error:
        tell("\n".join(["Memory ran out. Fewer workers may help: --jobs 1", *map(_sentence, _notes(error))]))
        return WRONG
    except OSError as error:            # of places that nobody has thought of; what our own files do wrong is no OSError
        where = f"{error.filename}: " if error.filename else ""
        said = visible_text(f"{where}{error.strerror or error}"[:MOST_SAID], quote=False)
        tell("\n".join([f"The system refuses: {said}", *map(_sentence, _notes(error))]))
        return WRONG
    except (click.ClickException, click.exceptions.Exit, click.Abort):
        raise
    except Exception as error:          # the last catch: a teacher sees a line and code 70 for any fault of ours, not a traceback
        if os.environ.get(DEBUG):
            raise
        what = visible_text(f"{type(error).__name__}: {error}"[:MOST_SAID], quote=False)
        failed = "; ".join(["sheetgen itself has failed", *_notes(error)])
        tell(f"{failed}. Please report this: {what}")
        return BROKEN
    return 0


def _notes(error: BaseException) -> list[str]:
    return list(getattr(error, "__notes__", []))


def _sentence(note: str) -> str:
    return f"{note[:1].upper()}{note[1:]}."


def tell_remarks(remarks: Iterable[Fault]) -> None:
    """Say what had better be changed; the sheets are made all the same."""
    for remark in remarks:
        tell(f"Remark: {remark}")


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
scheduler_option = click.option(
    "--scheduler", metavar="ADDRESS",
    help="Have the work done by the machines of a Dask cluster, whose scheduler has this address. docs/scale.md tells how.")
jobs_option = click.option(
    "--jobs", type=Whole(1, 64), metavar="N",
    help="How many processes work at it; each takes some 150 MB of memory.  [default: as many as there are processors]")
