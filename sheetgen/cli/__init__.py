"""The command line: parse, call, report. What takes long to import is imported by the command that needs it."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any, BinaryIO

import click

from sheetgen import __version__
from sheetgen.cli.answer import answer
from sheetgen.cli.bank import bank
from sheetgen.cli.choosing import beside, plan_asked, tell_plan, with_look
from sheetgen.cli.classes import ClassAsked, class_options, made_words, tell_class, tell_names, with_class
from sheetgen.cli.common import (
    WRONG,
    blank_option,
    errors_told,
    file_or_name,
    jobs_option,
    kind_option,
    roles_of,
    scheduler_option,
    tell_remarks,
)
from sheetgen.cli.helping import help_options, helping_roles, with_helps
from sheetgen.cli.locking import Ask, lock_options
from sheetgen.cli.marking import MarkingAsked, marking_options, remarks_of, with_marking
from sheetgen.cli.new import new
from sheetgen.cli.options import (
    Places,
    Whole,
    bank_options,
    completed,
    families_known,
    look_options,
    rung_option,
    topic_option,
    wording_option,
)
from sheetgen.cli.pack import pack
from sheetgen.cli.paper import paper
from sheetgen.cli.result import Result, result_options
from sheetgen.cli.telling import UnsaidError, ready_streams, say, tell
from sheetgen.cli.working import cluster_asked, workers_for

if TYPE_CHECKING:
    from sheetgen.bank import Family
    from sheetgen.ink import Page


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
@click.version_option(__version__, "-V", "--version", message="sheetgen %(version)s")
def main() -> None:
    """Drawing exercises to print: a pictorial of a block with its sizes, and the answer with its views.

    \b
    For a first look:
      sheetgen bank list                        the blocks there are
      sheetgen sheet stepped-block --seed 7     one question and its answer
      sheetgen worksheet                        eight of each, for an invented class
      sheetgen pack                             the same to practise on: a page, and files to print
      sheetgen new plan my-plan.yaml            a plan of your own, to be changed

    Print the PDFs at actual size (no "fit to page"); a bar of 100 mm on each sheet shows whether it worked.
    """


main.add_command(bank)
main.add_command(new)
main.add_command(answer)
main.add_command(paper)
main.add_command(pack)


@main.command()
@click.argument("family", shell_complete=completed(families_known))
@click.option("--seed", type=Whole(0, 999_999_999), default=1, show_default=True, metavar="N",
              help="Chooses the sizes: another number, another block. In one look the same number always gives the same sheets.")
@look_options(defaults=True)
@wording_option
@kind_option
@click.option("--svg", is_flag=True, help="Write SVG files for the screen too.")
@blank_option
@marking_options
@help_options
@bank_options
@result_options
@errors_told
def sheet(
    family: str, seed: int, kind: str | None, title_block: str, wording: str | None, svg: bool, blank: bool,
    marked: MarkingAsked, helps: tuple[str, ...], places: Places, result: Result, **look: Any,
) -> None:
    """Make one question and its answer.

    FAMILY is a name from "sheetgen bank list", or the path of a family file of your own. The two sheets are
    FAMILY-N-question.pdf and FAMILY-N-answer.pdf in DIR.
    """
    from sheetgen.exercises import USUAL, Particulars, with_kind
    from sheetgen.ink import check_date, writer_of
    from sheetgen.sets import Job, check_roles, document_of_one, put_made, run_of
    from sheetgen.sheet import WORDING, Style, settings_of

    check_date()
    style = Style(title_block=file_or_name(title_block), wording=file_or_name(wording or WORDING), **look)
    chosen, settings = _family(family, places), settings_of(style)
    roles = (*marked.roles, *helping_roles(helps))
    check_roles([kind or USUAL], roles)
    said = Particulars(marking=marked.wishes().marking())
    tell_remarks((*chosen.remarks, *settings.remarks, *remarks_of(said.marking)))
    job = Job(chosen, seed, said, (*roles_of(blank), *roles), kind or USUAL)
    names = {role: f"{with_kind(f'{chosen.name}-{seed}', job.kind)}-{role}" for role in job.roles}
    run, written = run_of("", [job], settings, __version__), []
    with result.folder([f"{name}.{suffix}" for name in names.values() for suffix in ("pdf", "svg")[:1 + svg]], run) as folder:
        made = put_made(job, settings, folder.shelf)
        for role, name in names.items():
            pages = folder.shelf.sheets(1, role)
            document = document_of_one(pages, role, made.title, made.code, made.topics, settings, run.mark)
            written.append(folder.add(f"{name}.pdf", writer_of(document)))
            for number, page in enumerate(pages if svg else (), 1):
                written.append(folder.add(f"{name}{f'-{number}' if len(pages) > 1 else ''}.svg", _svg(page, run.mark)))
    result.close(written, refused=made.refused)


@main.command()
@click.argument("plan", required=False, type=click.Path(path_type=Path), metavar="[PLAN.yaml]")
@topic_option
@rung_option
@click.option("--count", type=Whole(1, 500), metavar="N", help="How many problems; without a plan only.  [default: 8]")
@click.option("--first-seed", type=Whole(0, 999_999_999), metavar="N",
              help="The seed to begin with; without a plan only.  [default: 1]")
@click.option("--week", type=Whole(1, 52), metavar="N",
              help="The week of the plan's term: each has problems of its own.")
@class_options
@click.option("--dry-run", is_flag=True, help="Tell which problems there would be, and draw nothing.")
@look_options(defaults=False)
@wording_option
@kind_option
@blank_option
@marking_options
@help_options
@bank_options
@jobs_option
@scheduler_option
@lock_options
@result_options
@errors_told
def worksheet(
    plan: Path | None, week: int | None, dry_run: bool, wording: str | None, kind: str | None, blank: bool, places: Places,
    asked: ClassAsked, marked: MarkingAsked, helps: tuple[str, ...], jobs: int | None, scheduler: str | None, password: Ask,
    result: Result, topics: tuple[str, ...], rungs: tuple[int, ...],
    count: int | None, first_seed: int | None, **look: str | None,
) -> None:
    """Make a worksheet: questions.pdf and answers.pdf; with --marking also marking.pdf and marks.csv.

    PLAN.yaml names the course and the problems ("sheetgen new plan my-plan.yaml" writes one to change); with a class list every
    student gets sheets. Without a plan, --topic, --rung and --count choose problems; without these you get the demonstration:
    eight problems for an invented class. What the options say goes before what the plan says.
    """
    from rich.console import Console
    from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn, TimeRemainingColumn

    from sheetgen.ink import check_date, writer_of
    from sheetgen.sets import WorksheetMaker, edition_of, run_of
    from sheetgen.sheet import settings_of

    wish = {"topics": topics, "rungs": rungs, "count": count, "first_seed": first_seed}
    read = with_class(
        with_look(plan_asked(plan, places, wish, week, beside(kind, look, result.quiet)), kind, wording, look), asked)
    read = with_helps(with_marking(read, marked), helps)
    check_date()
    settings = settings_of(read.style)
    edition = edition_of(read, settings, roles_of(blank))
    families = [read.problems.bank[name] for name in sorted({entry.family for entry in read.entries})]
    tell_remarks((*read.remarks, *(remark for family in families for remark in family.remarks), *settings.remarks,
                  *remarks_of(edition.jobs[0].particulars.marking)))
    tell_names(edition)
    if dry_run:
        tell_plan(read)
        tell_class(edition)
        return
    problems, locked = edition.jobs, password()
    console = Console(stderr=True)
    columns = (TextColumn("{task.description}"), BarColumn(), MofNCompleteColumn(), TimeRemainingColumn())
    run = run_of(read.title, problems, settings, __version__, edition.decides)
    with cluster_asked(scheduler, jobs) as far, result.folder(edition.names, run, secret=locked is not None) as folder:
        maker = WorksheetMaker(read, problems, edition.settings, folder.shelf, run.mark)
        with (workers_for(len(problems), jobs, far) as executor,                 # gone before the files are written: memory
              Progress(*columns, console=console, transient=True, disable=result.quiet or not console.is_terminal) as progress):
            for _ in progress.track(maker.run(executor), len(problems), description="Drawing"):
                pass
        answers = frozenset(edition.answers)
        written = [folder.add(name, writer_of(document, locked), secret=locked is not None) if name in answers
                   else folder.add(name, writer_of(document)) for name, document in edition.files(maker)]
        written += [folder.add(name, _bytes(content)) for name, content in edition.lists(maker)]
    result.close(written, f"{made_words(edition)}: ", maker.refused)


@main.command("kinds")
@errors_told
def list_kinds() -> None:
    """List the kinds of exercise: what is given, and what is asked."""
    from sheetgen.exercises import kinds

    for kind in kinds().values():
        say(f"{kind.name}: {kind.about}")


def _family(name: str, places: Places) -> Family:
    """The family of that name, or of that file."""
    from sheetgen.bank import load_family
    from sheetgen.yamlines import is_yaml

    return load_family(Path(name)) if is_yaml(name) else places.bank()[name]


def _bytes(content: bytes) -> Callable[[BinaryIO], None]:
    def write(file: BinaryIO) -> None:
        file.write(content)

    return write


def _svg(page: Page, set_mark: str) -> Callable[[BinaryIO], None]:
    from io import TextIOWrapper

    from sheetgen.ink import write_svg

    def write(file: BinaryIO) -> None:
        text = TextIOWrapper(file, encoding="utf-8", newline="\n")
        write_svg(page, text, set_mark)
        text.detach()

    return write
