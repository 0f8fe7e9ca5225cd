"""The options of who shows how an answer is built."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any, TypeVar

import click

if TYPE_CHECKING:
    from sheetgen.exercises import Role
    from sheetgen.sets import Plan

Command = TypeVar("Command", bound=Callable[..., Any])


@dataclass(frozen=True)
class BuiltAsked:
    """What the command line says of sheets that show how an answer is built; it adds to what the plan says."""

    construction: bool = False
    projectors: bool = False

    @property
    def roles(self) -> tuple[Role, ...]:
        """The sheets that are asked for."""
        from sheetgen.exercises import WORKED

        return tuple(role for role in WORKED if getattr(self, role))


def _asked(context: click.Context, parameter: click.Parameter, value: bool) -> None:
    """Gather the options into one ``built``."""
    before = context.params.get("built", BuiltAsked())
    context.params["built"] = replace(before, **{str(parameter.name): value})


def built_options(command: Command) -> Command:
    """--construction and --projectors, which the command gets as ``built``."""
    def option(name: str, text: str) -> Callable[[Command], Command]:
        return click.option(name, is_flag=True, expose_value=False, is_eager=True, callback=_asked, help=text)

    construction = option("--construction", "Make construction sheets too: how each answer is built, a page for each step.")
    projectors = option("--projectors", "Make a sheet too of each answer with its projectors and the mitre line.")
    return construction(projectors(command))


def with_built(plan: Plan, built: BuiltAsked) -> Plan:
    """The plan with what the command line says of such sheets."""
    return replace(plan, worked=tuple(dict.fromkeys((*plan.worked, *built.roles))))
