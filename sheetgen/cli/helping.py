"""The options of who teaches: what is made to help those who draw."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import TYPE_CHECKING, Any, TypeVar

import click

if TYPE_CHECKING:
    from sheetgen.exercises import Role
    from sheetgen.sets import Plan

Command = TypeVar("Command", bound=Callable[..., Any])

SHEETS = {
    "hints": "Make hint sheets too: three hints and a self-check, on a page to be folded so that each shows when it is wanted.",
    "construction": "Make construction sheets too: how each answer is built, a page for each step.",
    "projectors": "Make a sheet too of each answer with all its thin lines: projectors, mitre line.",
}
"""The sheets for students by their roles, and what help says of them; a test holds them and FOR_STUDENTS together."""


def _asked(context: click.Context, parameter: click.Parameter, value: bool) -> None:
    """Gather the options into one ``helps``, the names of roles."""
    before: tuple[str, ...] = context.params.get("helps", ())
    context.params["helps"] = (*before, str(parameter.name)) if value else before


def help_options(command: Command) -> Command:
    """--hints and its like, which the command gets as ``helps``."""
    for name, says in reversed(SHEETS.items()):
        command = click.option(f"--{name}", is_flag=True, expose_value=False, is_eager=True, callback=_asked, help=says)(command)
    return command


def helping_roles(helps: tuple[str, ...]) -> tuple[Role, ...]:
    """The sheets for students that are asked for, in the order of all roles."""
    from sheetgen.exercises import FOR_STUDENTS

    return tuple(role for role in FOR_STUDENTS if role.value in helps)


def with_helps(plan: Plan, helps: tuple[str, ...]) -> Plan:
    """The plan with what the command line asks for beside what it does itself."""
    return replace(plan, helps=tuple(dict.fromkeys((*plan.helps, *helping_roles(helps)))))
