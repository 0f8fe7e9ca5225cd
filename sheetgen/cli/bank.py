"""The commands of the problem bank: list, contact, vet."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

from sheetgen.cli.common import FAULTY, errors_told, file_or_name, jobs_option
from sheetgen.cli.options import Places, Whole, bank_options, completed, families_known, rung_option, topic_option, wording_option
from sheetgen.cli.result import Result, result_options
from sheetgen.cli.telling import tell
from sheetgen.faults import Fault

if TYPE_CHECKING:
    from sheetgen.bank import Bank, BankError, Family, Outline

@click.group()
def bank() -> None:
    """The problem bank: the blocks there are."""


@bank.command("list")
@click.option("--kinds", "by_kinds", is_flag=True,
              help="Tell which kinds of exercise each family serves. Asked first, it takes a minute for a whole bank.")
@click.option("--json", "as_json", is_flag=True, help="Print JSON, for programs.")
@topic_option
@rung_option
@bank_options
@errors_told
def bank_list(as_json: bool, by_kinds: bool, topics: tuple[str, ...], rungs: tuple[int, ...], places: Places) -> None:
    """List the families of the bank.

    The rung tells how hard a family is (1 is easiest); variants is about how many different blocks its seeds give. With banks
    of your own a column tells the folder; those that come with sheetgen are from problem_bank/.

    With --kinds a few variants of each are tried in every kind, on A3 in first angle, without room being looked for on the paper.

    Families whose files cannot be used are told below, a line each; with any, the exit code is 1.
    """
    from sheetgen.cli.tables import families_json, families_table

    bank = places.bank()
    found, faults = _fitting(bank, topics, rungs, counted=as_json or not by_kinds)
    if by_kinds:
        from sheetgen.cli.serving import served_by, served_table

        served, more = served_by(bank, found)
        faults += more
        if as_json:
            families_json(found, served)
        else:
            served_table(served)
    else:
        (families_json if as_json else families_table)(found)
    bad: dict[str, list[Fault]] = {}
    for fault in faults:
        bad.setdefault(fault.file, []).append(fault)
    for file, (first, *more) in bad.items():
        tell(f"{first}" + (f" (and {len(more)} more: sheetgen bank vet {file})" if more else ""))
    if bad:
        raise SystemExit(FAULTY)


@bank.command("contact")
@topic_option
@rung_option
@wording_option
@bank_options
@result_options
@errors_told
def bank_contact(
    topics: tuple[str, ...], rungs: tuple[int, ...], wording: str | None, places: Places, result: Result
) -> None:
    """Print contact sheets: a small pictorial of every family, by rung, to choose from.

    They are the pages of contact.pdf in DIR, on A3.
    """
    from rich.console import Console
    from rich.progress import track

    from sheetgen.bank import BankError
    from sheetgen.exercises.contact import contact_sheets, portrait_of
    from sheetgen.ink import check_date, write_pdf
    from sheetgen.sheet import WORDING
    from sheetgen.templating import load_wording

    check_date()
    console, words = Console(stderr=True), load_wording(file_or_name(wording or WORDING))
    bank = places.bank()
    found, faults = _fitting(bank, topics, rungs)
    if faults:
        raise BankError(faults)
    with result.folder(["contact.pdf"]) as folder:
        families = track([bank[outline.name] for outline in found], "Drawing", console=console, transient=True,
                         disable=result.quiet or not console.is_terminal)
        document = contact_sheets([portrait_of(family) for family in families], words)
        place = folder.add("contact.pdf", lambda file: write_pdf(document, file))
    result.close([place], f"{len(found)} famil{'ies' if len(found) != 1 else 'y'}: ")


@bank.command("vet")
@click.argument("files", nargs=-1, shell_complete=completed(families_known), metavar="[FILE.yaml]...")
@click.option("--seeds", type=Whole(1, 5000), default=40, show_default=True, metavar="N",
              help="Variants of each family that are looked at; about a third of them, at most 12, are drawn on paper.")
@click.option("--json", "as_json", is_flag=True, help="Print JSON, for programs.")
@bank_options
@jobs_option
@errors_told
def bank_vet(files: tuple[str, ...], seeds: int, as_json: bool, places: Places, jobs: int | None) -> None:
    """Find out what is wrong with families before a class does.

    FILE.yaml is a family file of your own, or a name from "sheetgen bank list"; without one, the whole bank is vetted, and
    with --only-bank DIR all of your own.
    Each family is sampled widely. The table tells how many variants there are, which share of all choices of sizes the
    rules keep, the least wall, face and distance of lines in mm, what each view adds, and how many variants were refused.
    Of each family without faults a line tells which kinds of exercise it serves. Faults come below; with any, the exit code
    is 1.
    """
    from rich.console import Console
    from rich.progress import Progress

    from sheetgen.cli.tables import reports_json, reports_table
    from sheetgen.sets import cores, local_workers
    from sheetgen.vetting import FEW, SHEETS, vet_all

    chosen = _read(places.bank() if places or not files or not all(map(_is_file, files)) else {}, files)
    console = Console(stderr=True)
    workers = jobs or (cores() if len(chosen) > FEW else 1)
    with (local_workers(min(workers, len(chosen))) as executor,
          Progress(console=console, transient=True, disable=not console.is_terminal) as progress):
        work = vet_all(chosen, seeds, min(SHEETS, -(-seeds // 3)), executor)
        reports = list(progress.track(work, len(chosen), description="Vetting"))
    (reports_json if as_json else reports_table)(reports)
    if not all(report.clean for report in reports):
        raise SystemExit(FAULTY)


def _fitting(
    bank: Bank, topics: Sequence[str], rungs: Sequence[int], counted: bool = False
) -> tuple[list[Outline], list[Fault]]:
    """The families with any of the topics and any of the rungs, the easiest first; and what is wrong with files of the bank.

    Raises: ChoiceError if none fits.
    """
    from sheetgen.bank import outlined
    from sheetgen.cli.choosing import fitting

    found, faults = outlined(bank, counted=counted)
    return fitting(found, topics, rungs, faults), faults


def _is_file(name: str) -> bool:
    from sheetgen.yamlines import is_yaml

    return is_yaml(name)


def _read(bank: Mapping[str, Family], names: Sequence[str]) -> list[Family | BankError]:
    """The families of those names or files, or all of the bank; for a file that cannot be used, what is wrong with it.

    Raises: UnknownFamilyError for a name that the bank does not have.
    """
    from sheetgen.bank import BankError, UnknownFamilyError, load_family

    found: list[Family | BankError] = []
    for name in names or bank:
        try:
            found.append(load_family(Path(name)) if _is_file(name) else bank[name])
        except UnknownFamilyError:
            raise
        except BankError as error:
            found.append(error)
    return found
