"""The command that makes the answer of a printed code."""

from __future__ import annotations

import click

from sheetgen import __version__
from sheetgen.cli.common import errors_told, file_or_name, tell_remarks
from sheetgen.cli.options import Places, bank_options, title_block_option, wording_option
from sheetgen.cli.result import Result, result_options


@click.command()
@click.argument("words", nargs=-1, required=True, metavar="CODE")
@title_block_option
@wording_option
@bank_options
@result_options
@errors_told
def answer(words: tuple[str, ...], title_block: str, wording: str | None, places: Places, result: Result) -> None:
    """Make the answer that belongs to a printed code.

    CODE stands in the question's title block, as text and as a figure that a telephone reads. Capitals, hyphens and blanks
    do not matter. The answer, CODE-answer.pdf in DIR, has the drawing of the one that was made with the question: the code tells
    family, seed, kind, projection, side view, paper and figures. What it does not tell is yours to give as the question had
    it: title block, wording, banks of your own.
    """
    from sheetgen.exercises import Particulars, Role, read_code, recalled, style_of
    from sheetgen.ink import check_date, write_pdf
    from sheetgen.sets import Job, document_of_one, run_of
    from sheetgen.sheet import WORDING, settings_of

    check_date()
    bank = places.bank()
    read = read_code(" ".join(words), bank)
    settings = settings_of(style_of(read, title_block=file_or_name(title_block), wording=file_or_name(wording or WORDING)))
    tell_remarks(settings.remarks)
    name = f"{read}-answer.pdf"
    with result.folder([name]) as folder:
        exercise = recalled(read, bank, settings)
        problem, identity = exercise.problem, exercise.problem.identity
        # The mark is that of the question, as the command "sheet" makes it.
        made = run_of("", [Job(bank[identity.family], identity.seed, Particulars(), (Role.ANSWER,), exercise.kind)], settings,
                      __version__)
        document = document_of_one(exercise.sheets[Role.ANSWER], Role.ANSWER, problem.title, exercise.particulars.code,
                                   problem.topics, settings, made.mark)
        place = folder.add(name, lambda file: write_pdf(document, file))
    drawn = f", draw {identity.draw}" if identity.draw else ""
    result.close([place], f"{problem.title} ({identity.family}, seed {identity.seed}{drawn}): ")
