"""The command that makes practice packs, and a page over many of them."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path
from typing import BinaryIO

import click

from sheetgen import __version__
from sheetgen.cli.choosing import DEMONSTRATION, beside, with_look
from sheetgen.cli.common import errors_told, file_or_name, jobs_option, scheduler_option, tell_remarks
from sheetgen.cli.options import Places, bank_options, look_options, wording_option
from sheetgen.cli.result import Result, result_options
from sheetgen.cli.working import cluster_asked, workers_for


@click.command()
@click.argument("paths", nargs=-1, type=click.Path(path_type=Path), metavar="[PLAN.yaml]")
@click.option("--single-file", is_flag=True,
              help="Make index.html one page with everything but the PDF files in it, for phones and for sending.")
@click.option("--list", "listing", is_flag=True,
              help="Make a page over packs that are there: DIR… are their folders, which lie within --out.")
@look_options(defaults=False)
@wording_option
@bank_options
@jobs_option
@scheduler_option
@result_options
@errors_told
def pack(
    paths: tuple[Path, ...], single_file: bool, listing: bool, wording: str | None, places: Places, jobs: int | None,
    scheduler: str | None, result: Result, **look: str | None,
) -> None:
    """Make a practice pack: index.html, a page for students that needs no server and no network, with all PDF files beside it,
    and DIR.zip with all of it.

    PLAN.yaml names the problems ("sheetgen new pack my-pack.yaml" writes one to change); without one you get the demonstration.
    With --list, "sheetgen pack --list DIR… --out FOLDER" makes FOLDER/index.html, a page that leads to the packs in DIR….
    """
    if listing:
        _list(paths, single_file, wording, result)
        return
    if len(paths) > 1:
        raise click.UsageError("one plan at a time; with --list the folders of packs")
    from rich.console import Console
    from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn, TimeRemainingColumn

    from sheetgen.ink import check_date, writer_of
    from sheetgen.sets import demonstration
    from sheetgen.sets.packs import Pack, load_pack
    from sheetgen.sets.packs.listing import files_of_pack
    from sheetgen.sheet import settings_of

    bank = places.bank()
    said = beside(None, look, result.quiet)
    read = load_pack(paths[0], bank, said=said) if paths else load_pack(demonstration(), bank, DEMONSTRATION, said)
    read = replace(read, plan=with_look(read.plan, None, wording, look))
    check_date()
    settings = settings_of(read.plan.style)
    made = Pack(read, settings, __version__, single_file)
    families = {job.family.name: job.family for job in made.jobs}
    tell_remarks((*read.plan.remarks, *(remark for family in families.values() for remark in family.remarks), *settings.remarks))
    console = Console(stderr=True)
    columns = (TextColumn("{task.description}"), BarColumn(), MofNCompleteColumn(), TimeRemainingColumn())
    with cluster_asked(scheduler, jobs) as far, result.folder(made.names, made.run, archived=True) as folder:
        maker = made.maker(folder.shelf)
        with (workers_for(len(made.jobs), jobs, far) as executor,
              Progress(*columns, console=console, transient=True, disable=result.quiet or not console.is_terminal) as progress):
            for _ in progress.track(maker.run(executor), len(made.jobs), description="Drawing"):
                pass
        books = [folder.add(name, writer_of(document)) for name, document in made.documents(maker)]
        page, *_ = [folder.add(name, _bytes(content)) for name, content in made.files(maker)]
        archive = folder.archive()
        folder.take_away(files_of_pack(result.path))
    count = len(made.jobs)
    files = f"{len(books)} PDF file{'s' if len(books) != 1 else ''}"
    result.close([page, archive], f"{count} problem{'s' if count != 1 else ''}, {files}: ", maker.refused)


def _list(paths: Sequence[Path], single_file: bool, wording: str | None, result: Result) -> None:
    """Make the page over packs."""
    if single_file:
        raise click.UsageError("--single-file is for one pack, --list for many")
    if not paths:
        raise click.UsageError("--list needs the folders of packs: sheetgen pack --list DIR… --out FOLDER")
    from sheetgen.sets.packs.listing import files_of_list, packs_in
    from sheetgen.sheet import WORDING
    from sheetgen.templating import load_wording

    packs = packs_in(paths, result.path)
    files = files_of_list(packs, load_wording(file_or_name(wording or WORDING)))
    with result.folder([name for name, _ in files]) as folder:
        written = [folder.add(name, _bytes(content)) for name, content in files]
    result.close(written[:1], f"{len(packs)} pack{'s' if len(packs) != 1 else ''}: ")


def _bytes(content: bytes) -> Callable[[BinaryIO], None]:
    def write(file: BinaryIO) -> None:
        file.write(content)

    return write
