"""Where sheets go, and what is done when they are there: the options that all commands have that write files."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import wraps
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from sheetgen.cli.telling import closing_line, path_linked, tell
from sheetgen.faults import visible_text

if TYPE_CHECKING:
    from sheetgen.sets import OutFolder, Run


SHOWN = (".pdf", ".html")
"""Files that a computer has a viewer for."""

NAMED = 6
"""Files that the closing line names; of more it tells the number."""


@dataclass(frozen=True, slots=True)
class Result:
    """``path``: of the folder; ``overwrite``: whether files of the same names make way; ``quiet``: whether only faults are told;
    ``viewed``: whether the files are shown at the end."""

    path: Path
    overwrite: bool = True
    quiet: bool = False
    viewed: bool = False

    def folder(
        self, names: Sequence[str], run: Run | None = None, secret: bool = False, archived: bool = False
    ) -> OutFolder:
        """The folder, in which files of these names are to be written; with ``overwrite`` False it refuses at once if they are
        there. ``secret``: what waits there meanwhile is for nobody else to see; ``archived``: an archive will stand beside it."""
        from sheetgen.sets import OutFolder

        kept = () if self.overwrite else names
        return OutFolder(self.path, run, _unsaid if self.quiet else tell, kept=kept, secret=secret, archived=archived)

    def close(self, written: Sequence[Path], before: str = "", refused: int = 0) -> None:
        """Say what was written and where, and show it if that was asked for."""
        from sheetgen.sets.together import listed

        again = f" ({refused} variant{'s' if refused > 1 else ''} refused and redrawn)" if refused else ""
        if not self.quiet:
            names = [path_linked(place) for place in written]
            told = listed(names) if len(names) <= NAMED else f"{len(names)} files, {names[0]} to {names[-1]},"
            closing_line(f"{before}{told} written{again}")
        for place in written if self.viewed else ():
            if place.suffix in SHOWN and click.launch(str(place.resolve())):
                tell(f"There is no program here to show {visible_text(str(place), quote=False)}.")


def _unsaid(_: str) -> None:
    return


def result_options(command: Callable[..., None]) -> Callable[..., None]:
    """--out, --no-overwrite, --open and --quiet, which the command gets as ``result``."""

    @wraps(command)
    def run(*args: Any, out: Path, no_overwrite: bool, viewed: bool, quiet: bool, **named: Any) -> None:
        command(*args, result=Result(out, not no_overwrite, quiet, viewed), **named)

    for each in reversed((
        click.option("--out", type=click.Path(path_type=Path), metavar="DIR", default=Path("output"), show_default=True,
                     help="The folder to write to; it is made if there is none."),
        click.option("--no-overwrite", is_flag=True, help="Write nothing if one of the files is there already."),
        click.option("--open", "viewed", is_flag=True, help="Show the PDF files, or a pack's page, in this computer's viewer."),
        click.option("--quiet", "-q", is_flag=True, help="Say nothing unless something is wrong."),
    )):
        run = each(run)
    return run
