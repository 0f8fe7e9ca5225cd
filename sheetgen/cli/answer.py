"""The command that makes the answer of a printed code."""

from __future__ import annotations

from pathlib import Path

import click

from sheetgen.cli.common import errors_told, file_or_name, out_option, tell_remarks
from sheetgen.cli.options import Places, bank_options, title_block_option, wording_option
from sheetgen.faults import visible_text


@click.command()
@click.argument("code")
@title_block_option
@wording_option
@bank_options
@out_option
@errors_told
def answer(code: str, title_block: str, wording: str | None, places: Places, out: Path) -> None:
    """Make the answer that belongs to a printed code.

    CODE stands in the question's title block, as text and as a figure that a telephone reads. Capitals and hyphens do not
    matter. The answer, CODE-answer.pdf in DIR, has the drawing of the one that was made with the question: the code tells
    family, seed, kind, projection, side view, paper and figures. What it does not tell is yours to give as the question had
    it: title block, wording, banks of your own.
    """
    from sheetgen.exercises import Role, read_code, recalled, style_of
    from sheetgen.ink import write_pdf
    from sheetgen.sets import OutFolder, document_of
    from sheetgen.sheet import WORDING, settings_of

    bank = places.bank()
    read = read_code(code, bank)
    settings = settings_of(style_of(read, title_block=file_or_name(title_block), wording=file_or_name(wording or WORDING)))
    with OutFolder(out) as folder:
        tell_remarks(settings.block.remarks)
        exercise = recalled(read, bank, settings)
        document = document_of(exercise, Role.ANSWER, settings)
        place = folder.add(f"{read}-answer.pdf", lambda file: write_pdf(document, file))
    identity = exercise.problem.identity
    drawn = f", draw {identity.draw}" if identity.draw else ""
    where = visible_text(out.as_posix(), quote=False)
    click.echo(f"{exercise.problem.title} ({identity.family}, seed {identity.seed}{drawn}): {place.name} written to {where}/")
