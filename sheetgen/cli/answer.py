"""The command that makes the answer of a printed code."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from sheetgen import __version__
from sheetgen.cli.common import errors_told, file_or_name, tell_remarks
from sheetgen.cli.locking import Ask, lock_options
from sheetgen.cli.options import Places, bank_options, title_block_option, wording_option
from sheetgen.cli.result import Result, result_options

if TYPE_CHECKING:
    from sheetgen.bank import Bank


@click.command()
@click.argument("words", nargs=-1, required=True, metavar="CODE")
@click.option("--key", "key_file", type=click.Path(path_type=Path), metavar="FILE", help="Of a paper's code: the paper's key.")
@click.option("--record", "record_file", type=click.Path(path_type=Path), metavar="record.json",
              help="Of a paper's code: the paper's record, as it was made with it.")
@title_block_option
@wording_option
@bank_options
@lock_options
@result_options
@errors_told
def answer(
    words: tuple[str, ...], key_file: Path | None, record_file: Path | None, title_block: str, wording: str | None,
    places: Places, password: Ask, result: Result,
) -> None:
    """Make the answer that belongs to a printed code.

    CODE stands in the question's title block, as text and as a figure that a telephone reads. Capitals, hyphens and blanks
    do not matter. The answer, CODE-answer.pdf in DIR, has the drawing of the one that was made with the question: the code tells
    family, seed, kind, projection, side view, paper and figures. What it does not tell is yours to give as the question had
    it: title block, wording, banks of your own.
    """
    from sheetgen.exercises import Particulars, Role, read_code, recalled, style_of
    from sheetgen.ink import check_date, writer_of
    from sheetgen.sets import Job, document_of_one, run_of
    from sheetgen.sheet import WORDING, settings_of

    check_date()
    bank = places.bank()
    code = " ".join(words)
    if key_file or record_file:
        _of_paper(code, key_file, record_file, bank, password, result)
        return
    read = read_code(code, bank)
    settings = settings_of(style_of(read, title_block=file_or_name(title_block), wording=file_or_name(wording or WORDING)))
    tell_remarks(settings.remarks)
    name, locked = f"{read}-answer.pdf", password()
    with result.folder([name]) as folder:
        exercise = recalled(read, bank, settings)
        problem, identity = exercise.problem, exercise.problem.identity
        # The mark is that of the question, as the command "sheet" makes it.
        made = run_of("", [Job(bank[identity.family], identity.seed, Particulars(), (Role.ANSWER,), exercise.kind)], settings,
                      __version__)
        document = document_of_one(exercise.sheets[Role.ANSWER], Role.ANSWER, problem.title, exercise.particulars.code,
                                   problem.topics, settings, made.mark)
        place = folder.add(name, writer_of(document, locked))
    drawn = f", draw {identity.draw}" if identity.draw else ""
    result.close([place], f"{problem.title} ({identity.family}, seed {identity.seed}{drawn}): ")


def _of_paper(
    code: str, key_file: Path | None, record_file: Path | None, bank: Bank, password: Ask, result: Result
) -> None:
    """Make the answer of a paper's code."""
    from sheetgen.ink import writer_of
    from sheetgen.sets.papers.answering import answer_of
    from sheetgen.sets.papers.record import load_record
    from sheetgen.sets.papers.secret import load_key

    if key_file is None or record_file is None:
        raise click.UsageError("a paper's answer needs both: --key FILE and --record record.json")
    key = load_key(key_file)
    tell_remarks((key.remark,) if key.remark else ())
    printed, document = answer_of(code, key, load_record(record_file, key), bank)
    name, locked = f"{printed}-answer.pdf", password()
    with result.folder([name], secret=True) as folder:
        place = folder.add(name, writer_of(document, locked), secret=True)
    result.close([place])
