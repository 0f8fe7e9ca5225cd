"""The command that makes a paper: an examination, each candidate with variants of their own, drawn from a key."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, BinaryIO

import click

from sheetgen import __version__
from sheetgen.cli.common import errors_told, file_or_name, jobs_option, scheduler_option, tell_remarks
from sheetgen.cli.locking import Ask, lock_options
from sheetgen.cli.options import Places, bank_options, wording_option
from sheetgen.cli.result import Result, result_options
from sheetgen.cli.serving import told_to_wait
from sheetgen.cli.telling import tell
from sheetgen.cli.working import cluster_asked, workers_for

if TYPE_CHECKING:
    from sheetgen.sets.papers.record import Record
    from sheetgen.sets.papers.secret import Key

key_option = click.option(
    "--key", "key_file", type=click.Path(path_type=Path), metavar="FILE", required=True,
    help="The key that the paper is drawn from: \"sheetgen new key FILE\" makes one. Whoever has it can tell every sheet.")


@click.command()
@click.argument("plan", type=click.Path(path_type=Path), metavar="PLAN.yaml")
@key_option
@click.option("--only", metavar="CANDIDATE", help="Print the sheets of one candidate again, by the candidate's number.")
@click.option("--spare", type=click.IntRange(1, 99), metavar="N",
              help="With --only: the Nth set of other sheets, as hard as the first, for who has spoilt them.")
@wording_option
@bank_options
@jobs_option
@scheduler_option
@lock_options
@result_options
@errors_told
def paper(
    plan: Path, key_file: Path, only: str | None, spare: int | None, wording: str | None, places: Places, jobs: int | None,
    scheduler: str | None, password: Ask, result: Result,
) -> None:
    """Make a paper: questions.pdf, answers.pdf, seating.pdf, equity.pdf and record.json; with "marking: yes" in the plan also
    marking.pdf and marks.csv, with "overlay: yes" overlays.pdf.

    PLAN.yaml names items, rooms and candidates ("sheetgen new paper my-paper.yaml" writes one to change). Every candidate gets
    problems of their own, equally hard, and no two neighbours the same. The same plan and key make the same sheets; without the
    key nobody can tell a sheet before it is seen. Keep record.json with the key: answers and spare sheets are made from it.
    """
    from rich.console import Console
    from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn

    from sheetgen.ink import check_date, writer_of
    from sheetgen.sets.papers.books import SECRET, tells_answers
    from sheetgen.sets.papers.making import Printing
    from sheetgen.sets.papers.paper import Paper
    from sheetgen.sets.papers.plan import load_paper
    from sheetgen.sets.papers.record import NAME
    from sheetgen.sets.papers.secret import load_key
    from sheetgen.sheet import settings_of

    if spare and only is None:
        raise click.UsageError("--spare needs --only: it is a set of sheets for one candidate")
    key = load_key(key_file)
    tell_remarks((key.remark,) if key.remark else ())
    read, bank = load_paper(plan, places.bank(), told_to_wait(result.quiet))
    if wording:
        read = replace(read, style=replace(read.style, wording=file_or_name(wording)))
    check_date()
    settings = settings_of(read.style)
    made = Paper(read, bank, settings, key, __version__)
    tell_remarks((*(remark for family in made.families.values() for remark in family.remarks), *settings.remarks,
                  *read.remarks, *made.remarks, *(made.scheme.remarks if made.scheme else ())))
    printing = Printing(made, key, _record(result.path / NAME, key, needed=bool(spare)), only, spare or 0)
    _tell_changes(printing.changed, printing.lost_spares)
    locked = password()
    console = Console(stderr=True)
    columns = (TextColumn("{task.description}"), BarColumn(), MofNCompleteColumn())
    with (cluster_asked(scheduler, jobs) as far,
          result.folder(printing.names, printing.run, secret=True) as folder):
        with (workers_for(printing.count, jobs, far) as executor,
              Progress(*columns, console=console, transient=True, disable=result.quiet or not console.is_terminal) as progress):
            task = progress.add_task("Drawing", total=printing.count)
            done = printing.make(folder.shelf, executor, lambda: progress.advance(task))
        written = []
        for name, document in done.files:
            write = writer_of(document, locked if tells_answers(name) else None)
            written.append(folder.add(name, write, secret=name.startswith(SECRET)))
        written += [folder.add(name, _bytes(contents), secret=name.startswith(SECRET)) for name, contents in done.lists]
        if done.record is not None:
            written.append(folder.add(NAME, _bytes(done.record)))
    count = 1 if only else len(read.candidates)
    result.close(written, f"{count} candidate{'s' if count != 1 else ''}, {len(read.items)} "
                 f"item{'s' if len(read.items) != 1 else ''} each: ", done.refused)


def _record(path: Path, key: Key, needed: bool) -> Record | None:
    """The record of an earlier run, if there is one. One of another key is none, unless a spare is to be noted in it."""
    from sheetgen.sets.papers.record import RecordError, load_record

    if not path.exists():
        return None
    try:
        return load_record(path, key)
    except RecordError:
        if needed:
            raise
        return None


def _tell_changes(changed: Sequence[str], spares: int) -> None:
    """Say what has changed since an earlier run whose record lies there."""
    if changed:
        tell(f"Since record.json was made, there have changed: {', '.join(changed)}. Sheets may be others than those that were "
             "printed then.")
    if spares:
        tell(f"The new record leaves out the {f'{spares} spares' if spares != 1 else 'one spare'} printed before that.")


def _bytes(contents: bytes) -> Callable[[BinaryIO], None]:
    def write(file: BinaryIO) -> None:
        file.write(contents)
    return write
