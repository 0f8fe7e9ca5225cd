"""The command line: parse, call, report. What takes long to import is imported by the command that needs it."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any, BinaryIO

import click

from sheetgen import __version__
from sheetgen.cli.bank import bank
from sheetgen.cli.choosing import plan_asked, tell, with_look
from sheetgen.cli.common import blank_option, errors_told, file_or_name, kind_option, out_option, roles_of, tell_remarks
from sheetgen.cli.options import (
    Places,
    bank_options,
    completed,
    families_known,
    look_options,
    rung_option,
    topic_option,
    wording_option,
)
from sheetgen.faults import visible_text

if TYPE_CHECKING:
    from sheetgen.bank import Family
    from sheetgen.ink import Document, Page


@click.group(context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100})
@click.version_option(__version__, message="sheetgen %(version)s")
def main() -> None:
    """Drawing exercises to print: a pictorial of a block with its sizes, and the answer with its views.

    \b
    For a first look:
      sheetgen bank list                        the blocks there are
      sheetgen sheet stepped-block --seed 7     one question and its answer
      sheetgen worksheet                        eight of each, for an invented class

    Print the PDFs at actual size (no "fit to page"); a bar of 100 mm on each sheet shows whether it worked.
    """


main.add_command(bank)


@main.command()
@click.argument("family", shell_complete=completed(families_known))
@click.option("--seed", type=click.IntRange(0, 999_999_999), default=1, show_default=True, metavar="N",
              help="Chooses the sizes: another number, another block. The same number always gives the same sheets.")
@look_options(defaults=True)
@wording_option
@kind_option
@click.option("--svg", is_flag=True, help="Write SVG files for the screen too.")
@blank_option
@bank_options
@out_option
@errors_told
def sheet(
    family: str, seed: int, kind: str | None, title_block: str, wording: str | None, svg: bool, blank: bool,
    places: Places, out: Path, **look: Any,
) -> None:
    """Make one question and its answer.

    FAMILY is a name from "sheetgen bank list", or the path of a family file of your own. The two sheets are
    FAMILY-N-question.pdf and FAMILY-N-answer.pdf in DIR.
    """
    from sheetgen.exercises import USUAL, make_exercise, with_kind
    from sheetgen.sets import OutFolder, document_of
    from sheetgen.sheet import WORDING, Style, settings_of

    style = Style(title_block=file_or_name(title_block), wording=file_or_name(wording or WORDING), **look)
    with OutFolder(out) as folder:
        chosen = _family(family, places)
        settings = settings_of(style)
        tell_remarks((*chosen.remarks, *settings.block.remarks))
        exercise = make_exercise(chosen, seed, settings, roles_of(blank), kind or USUAL)
        written = []
        for role, pages in exercise.sheets.items():
            name = f"{with_kind(f'{chosen.name}-{seed}', exercise.kind)}-{role}"
            written.append(folder.add(f"{name}.pdf", _pdf(document_of(exercise, role, settings))))
            for number, page in enumerate(pages if svg else (), 1):
                written.append(folder.add(f"{name}{f'-{number}' if len(pages) > 1 else ''}.svg", _svg(page)))
    _close(written, len(exercise.refused), out)


@main.command()
@click.argument("plan", required=False, type=click.Path(path_type=Path), metavar="[PLAN.yaml]")
@topic_option
@rung_option
@click.option("--count", type=click.IntRange(1, 500), metavar="N", help="How many problems; without a plan only.  [default: 8]")
@click.option("--first-seed", type=click.IntRange(0, 999_999_999), metavar="N",
              help="The seed to begin with; without a plan only.  [default: 1]")
@click.option("--week", type=click.IntRange(1, 52), metavar="N",
              help="The week of the plan's term: each has problems of its own.")
@click.option("--dry-run", is_flag=True, help="Tell which problems there would be, and draw nothing.")
@look_options(defaults=False)
@wording_option
@kind_option
@blank_option
@bank_options
@out_option
@errors_told
def worksheet(
    plan: Path | None, week: int | None, dry_run: bool, wording: str | None, kind: str | None, blank: bool, places: Places,
    out: Path, topics: tuple[str, ...], rungs: tuple[int, ...], count: int | None, first_seed: int | None, **look: str | None,
) -> None:
    """Make a worksheet: questions.pdf and answers.pdf.

    PLAN.yaml names the course and the problems. Without a plan, --topic, --rung and --count choose problems; without these
    you get the demonstration: eight problems for an invented class. Its plan is templates/plans/demonstration.yaml, a good
    one to copy and change. What the options say of the look goes before what the plan says.
    """
    from rich.console import Console
    from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn, TimeRemainingColumn

    from sheetgen.exercises import with_kind
    from sheetgen.sets import FEW, OutFolder, WorksheetMaker, cores, jobs_of, local_workers
    from sheetgen.sheet import settings_of

    wish = {"topics": topics, "rungs": rungs, "count": count, "first_seed": first_seed}
    read = with_look(plan_asked(plan, places, wish, week), kind, wording, look)
    if dry_run:
        tell(read)
        return
    jobs, settings = jobs_of(read, read.problems.bank, roles_of(blank)), settings_of(read.style)
    families = [read.problems.bank[name] for name in sorted({entry.family for entry in read.entries})]
    tell_remarks((*(remark for family in families for remark in family.remarks), *settings.block.remarks))
    console = Console(stderr=True)
    columns = (TextColumn("{task.description}"), BarColumn(), MofNCompleteColumn(), TimeRemainingColumn())
    with OutFolder(out) as folder, WorksheetMaker(read, jobs, settings) as maker:
        with (local_workers(cores() if len(jobs) > FEW else 1) as executor,      # gone before the files are written: memory
              Progress(*columns, console=console, transient=True, disable=not console.is_terminal) as progress):
            for _ in progress.track(maker.run(executor), len(jobs), description="Drawing"):
                pass
        made = maker.worksheet()
        written = [folder.add(f"{with_kind(role.book, read.kind)}.pdf", _pdf(document))
                   for role, document in made.documents.items()]
    _close(written, made.refused, out, f"{len(jobs)} problem{'s' if len(jobs) > 1 else ''}: ")


@main.command("kinds")
@errors_told
def list_kinds() -> None:
    """List the kinds of exercise: what is given, and what is asked."""
    from sheetgen.exercises import kinds

    for kind in kinds().values():
        click.echo(f"{kind.name}: {kind.about}")


def _family(name: str, places: Places) -> Family:
    """The family of that name, or of that file."""
    from sheetgen.bank import load_family
    from sheetgen.yamlines import is_yaml

    return load_family(Path(name)) if is_yaml(name) else places.bank()[name]


def _pdf(document: Document) -> Callable[[BinaryIO], None]:
    from sheetgen.ink import write_pdf

    return lambda file: write_pdf(document, file)


def _svg(page: Page) -> Callable[[BinaryIO], None]:
    from io import TextIOWrapper

    from sheetgen.ink import write_svg

    def write(file: BinaryIO) -> None:
        text = TextIOWrapper(file, encoding="utf-8", newline="\n")
        write_svg(page, text)
        text.detach()

    return write


def _close(places: list[Path], refused: int, out: Path, before: str = "") -> None:
    """The closing line: what was written and where."""
    names = [place.name for place in places]
    listed = f"{', '.join(names[:-1])} and {names[-1]}"
    again = f" ({refused} variant{'s' if refused > 1 else ''} refused and redrawn)" if refused else ""
    click.echo(f"{before}{listed} written to {visible_text(out.as_posix(), quote=False)}/{again}")
