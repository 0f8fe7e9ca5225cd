"""The command line: parse, call, report. What takes long to import is imported by the command that needs it."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any, BinaryIO

import click

from sheetgen import __version__
from sheetgen.cli.bank import bank
from sheetgen.cli.common import (
    WRONG,
    bank_option,
    blank_option,
    errors_told,
    file_or_name,
    jobs_option,
    kind_option,
    out_option,
    roles_of,
    rung_option,
    tell_remarks,
    topic_option,
    wording_option,
)
from sheetgen.cli.telling import UnsaidError, closing_line, ready_streams, say, tell
from sheetgen.faults import visible_text

if TYPE_CHECKING:
    from sheetgen.bank import Bank, Family
    from sheetgen.ink import Document, Page


class _Program(click.Group):
    """The whole command line. What a command cannot print of itself, it tells itself; this is for help and version."""

    def main(self, *words: Any, **named: Any) -> Any:
        ready_streams()
        try:
            return super().main(*words, **named)
        except OSError as error:
            tell(f"Not all could be printed: {UnsaidError(error)}.")
            raise SystemExit(WRONG) from None


@click.group(cls=_Program, context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100})
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
@click.argument("family")
@click.option("--seed", type=click.IntRange(0, 999_999_999), default=1, show_default=True, metavar="N",
              help="Chooses the sizes: another number, another block. The same number always gives the same sheets.")
@click.option("--projection", type=click.Choice(["first", "third"]), default="first", show_default=True,
              help="First or third angle projection.")
@click.option("--side", type=click.Choice(["left", "right", "both"]), default="left", show_default=True,
              help="The side view: seen from the left, from the right, or both.")
@click.option("--paper", type=click.Choice(["A2", "A3", "A4"]), default="A3", show_default=True, help="The paper, landscape.")
@click.option("--title-block", metavar="NAME", default="harbour", show_default=True,
              help="A title block that comes with sheetgen (harbour, quarry), or the path of your own .yaml file.")
@click.option("--figures", type=click.Choice(["aligned", "upright"]), default="aligned", show_default=True,
              help="Figures of sizes: aligned with their lines, or all upright.")
@wording_option
@kind_option
@click.option("--svg", is_flag=True, help="Write SVG files for the screen too.")
@blank_option
@bank_option
@out_option
@errors_told
def sheet(
    family: str, seed: int, kind: str | None, title_block: str, wording: str | None, svg: bool, blank: bool,
    bank_path: Path | None, out: Path, **look: Any,
) -> None:
    """Make one question and its answer.

    FAMILY is a name from "sheetgen bank list", or the path of a family file of your own. The two sheets are
    FAMILY-N-question.pdf and FAMILY-N-answer.pdf in DIR.
    """
    from sheetgen.exercises import USUAL, Particulars, with_kind
    from sheetgen.ink import check_date
    from sheetgen.sets import Job, OutFolder, document_of_one, put_made, run_of
    from sheetgen.sheet import WORDING, Style, settings_of

    check_date()
    style = Style(title_block=file_or_name(title_block), wording=file_or_name(wording or WORDING), **look)
    chosen, settings = _family(family, bank_path), settings_of(style)
    tell_remarks(settings.block.remarks)
    job = Job(chosen, seed, Particulars(), roles_of(blank), kind or USUAL)
    run, places = run_of("", [job], settings, __version__), []
    with OutFolder(out, run, tell) as folder:
        made = put_made(job, settings, folder.shelf)
        for role in job.roles:
            name, pages = f"{with_kind(f'{chosen.name}-{seed}', job.kind)}-{role}", folder.shelf.sheets(1, role)
            document = document_of_one(pages, role, made.title, made.code, made.topics, settings, run.mark)
            places.append(folder.add(f"{name}.pdf", _pdf(document)))
            for number, page in enumerate(pages if svg else (), 1):
                places.append(folder.add(f"{name}{f'-{number}' if len(pages) > 1 else ''}.svg", _svg(page, run.mark)))
    _close(places, made.refused, out)


@main.command()
@click.argument("plan", required=False, type=click.Path(path_type=Path), metavar="[PLAN.yaml]")
@topic_option
@rung_option
@click.option("--count", type=click.IntRange(1, 500), metavar="N", help="How many problems; without a plan only.  [default: 8]")
@click.option("--first-seed", type=click.IntRange(0, 999_999_999), metavar="N",
              help="The seed to begin with; without a plan only.  [default: 1]")
@wording_option
@kind_option
@blank_option
@bank_option
@jobs_option
@out_option
@errors_told
def worksheet(
    plan: Path | None, wording: str | None, kind: str | None, blank: bool, bank_path: Path | None, jobs: int | None, out: Path,
    **wish: Any,
) -> None:
    """Make a worksheet: questions.pdf and answers.pdf.

    PLAN.yaml names the course and the problems. Without a plan, --topic, --rung and --count choose problems; without these
    you get the demonstration: eight problems for an invented class. Its plan is templates/plans/demonstration.yaml, a good
    one to copy and change.
    """
    from rich.console import Console
    from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn, TimeRemainingColumn

    from sheetgen.bank import load_bank
    from sheetgen.exercises import with_kind
    from sheetgen.ink import check_date
    from sheetgen.sets import (
        FEW,
        OutFolder,
        WorksheetMaker,
        cores,
        demonstration,
        jobs_of,
        load_plan,
        local_workers,
        run_of,
        wished,
    )
    from sheetgen.sheet import settings_of

    check_date()
    bank = load_bank(bank_path)
    if any(wish.values()):
        if plan:
            raise click.UsageError("either a plan, or --topic, --rung, --count and --first-seed")
        with _all_told(bank):
            read = wished(bank, **wish)
    else:
        with _all_told(bank):
            read = load_plan(plan, bank) if plan else load_plan(demonstration(), bank, "templates/plans/demonstration.yaml")
    read = replace(read, kind=kind or read.kind)
    style = replace(read.style, wording=file_or_name(wording)) if wording else read.style
    problems, settings = jobs_of(read, bank, roles_of(blank)), settings_of(style)
    tell_remarks(settings.block.remarks)
    console = Console(stderr=True)
    columns = (TextColumn("{task.description}"), BarColumn(), MofNCompleteColumn(), TimeRemainingColumn())
    run, workers = run_of(read.title, problems, settings, __version__), jobs or (cores() if len(problems) > FEW else 1)
    with OutFolder(out, run, tell) as folder:
        maker = WorksheetMaker(read, problems, settings, folder.shelf, run.mark)
        with (local_workers(min(workers, len(problems))) as executor,            # gone before the files are written: memory
              Progress(*columns, console=console, transient=True, disable=not console.is_terminal) as progress):
            for _ in progress.track(maker.run(executor), len(problems), description="Drawing"):
                pass
        made = maker.worksheet()
        places = [folder.add(f"{with_kind(role.book, read.kind)}.pdf", _pdf(document))
                  for role, document in made.documents.items()]
    _close(places, made.refused, out, f"{len(problems)} problem{'s' if len(problems) > 1 else ''}: ")


@main.command("kinds")
@errors_told
def list_kinds() -> None:
    """List the kinds of exercise: what is given, and what is asked."""
    from sheetgen.exercises import kinds

    for kind in kinds().values():
        say(f"{kind.name}: {kind.about}")


@contextmanager
def _all_told(bank: Bank) -> Iterator[None]:
    """Whoever wishes for a topic uses the whole bank: if a family of it cannot be read, all are told that cannot.

    Raises: BankError.
    """
    from sheetgen.bank import BankError

    try:
        yield
    except BankError:
        bank.check()
        raise


def _family(name: str, bank_path: Path | None) -> Family:
    """The family of that name, or of that file."""
    from sheetgen.bank import load_bank, load_family

    if name.endswith(".yaml") and bank_path is None:
        return load_family(Path(name))
    return load_bank(bank_path)[name]


def _pdf(document: Document) -> Callable[[BinaryIO], None]:
    from sheetgen.ink import write_pdf

    return lambda file: write_pdf(document, file)


def _svg(page: Page, set_mark: str) -> Callable[[BinaryIO], None]:
    from io import TextIOWrapper

    from sheetgen.ink import write_svg

    def write(file: BinaryIO) -> None:
        text = TextIOWrapper(file, encoding="utf-8", newline="\n")
        write_svg(page, text, set_mark)
        text.detach()

    return write


def _close(places: list[Path], refused: int, out: Path, before: str = "") -> None:
    """The closing line: what was written and where."""
    from sheetgen.sets.together import listed

    names = listed([place.name for place in places])
    again = f" ({refused} variant{'s' if refused > 1 else ''} refused and redrawn)" if refused else ""
    closing_line(f"{before}{names} written to {visible_text(out.as_posix(), quote=False)}/{again}")
