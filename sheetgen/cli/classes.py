"""The options of a class: its list, and how its sheets are bound."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

import click

from sheetgen.cli.telling import say, tell
from sheetgen.faults import visible_text

if TYPE_CHECKING:
    from sheetgen.sets import Edition, Plan

Command = TypeVar("Command", bound=Callable[..., Any])

MOST_REMARKS = 40
"""Of a list that are told one by one."""


@dataclass(frozen=True)
class ClassAsked:
    """What the command line says of a class; it goes before what the plan says."""

    class_list: Path | None = None
    split: bool = False
    double_sided: bool = False
    answer_key: bool = False


def _asked(context: click.Context, parameter: click.Parameter, value: Any) -> None:
    """Gather the options into one ``asked``."""
    before = context.params.get("asked", ClassAsked())
    context.params["asked"] = replace(before, **{str(parameter.name): value})


def class_options(command: Command) -> Command:
    """--class-list, --split, --double-sided and --answer-key, which the command gets as ``asked``."""
    def option(*names: str, **more: Any) -> Callable[[Command], Command]:
        return click.option(*names, expose_value=False, is_eager=True, callback=_asked, **more)

    for each in reversed((
        option("--class-list", type=click.Path(path_type=Path), metavar="LIST.csv",
               help="A class list as schools export it: every student gets sheets with name and number on them."),
        option("--split", is_flag=True, help="A file for each student of the class list, called by the student's number."),
        option("--double-sided", is_flag=True, help="For printing on both sides: each student's sheets begin on a front."),
        option("--answer-key", is_flag=True, help="Make answer-key.pdf too: all answers half as large, several on a page."),
    )):
        command = each(command)
    return command


def with_class(plan: Plan, asked: ClassAsked) -> Plan:
    """The plan with what the command line says of its class."""
    people = plan.people
    if asked.class_list:
        people = replace(people, path=asked.class_list, file=visible_text(asked.class_list.as_posix(), quote=False))
    if asked.split and people.path is None:
        raise click.UsageError("--split needs a class list: --class-list LIST.csv, or class_list in the plan")
    return replace(plan, people=replace(
        people, books="students" if asked.split else people.books, double_sided=people.double_sided or asked.double_sided,
        answer_key=people.answer_key or asked.answer_key))


def tell_names(edition: Edition) -> None:
    """Say which names are not printed as they are written, and what is printed instead."""
    for remark in edition.remarks[:MOST_REMARKS]:
        tell(f"Remark: {remark}")
    if len(edition.remarks) > MOST_REMARKS:
        tell(f"Remark: {edition.plan.people.file}: {len(edition.remarks) - MOST_REMARKS} more such lines")


def tell_class(edition: Edition) -> None:
    """Say for whom the sheets of a plan would be."""
    if edition.plan.people.path:
        count = len(edition.students)
        whose = "problems of their own, of the same families" if edition.plan.people.each else "the same problems"
        say(f"For {count} student{'s' if count != 1 else ''}, with {whose}.")


def made_words(edition: Edition) -> str:
    """What was made, for the closing line."""
    problems, students = len(edition.plan.entries), len(edition.students)
    words = f"{problems} problem{'s' if problems > 1 else ''}"
    if not edition.plan.people.path:
        return words
    each = " each" if edition.plan.people.each else ""
    return f"{words}{each} for {students} student{'s' if students > 1 else ''}"

