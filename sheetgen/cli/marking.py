"""The options of who marks: what a problem is worth, by which scheme, and what is made for it."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any, TypeVar

import click

from sheetgen.cli.common import file_or_name
from sheetgen.cli.options import completed

if TYPE_CHECKING:
    from sheetgen.exercises import Role
    from sheetgen.exercises.marking import Marking
    from sheetgen.faults import Fault
    from sheetgen.sets import MarkingWishes, Plan

Command = TypeVar("Command", bound=Callable[..., Any])

@dataclass(frozen=True)
class MarkingAsked:
    """What the command line says of marking; it goes before what the plan says."""

    marking: bool = False
    overlay: bool = False
    marks: float | None = None
    scheme: str | None = None

    @property
    def roles(self) -> tuple[Role, ...]:
        """The sheets for a marker that are asked for."""
        from sheetgen.exercises import Role

        return tuple(role for role, asked in ((Role.MARKING, self.marking), (Role.OVERLAY, self.overlay)) if asked)

    def wishes(self) -> MarkingWishes:
        """The same as a plan says it."""
        from sheetgen.sets import MarkingWishes

        return MarkingWishes(self.marks, file_or_name(self.scheme) if self.scheme else None, self.roles)


def _asked(context: click.Context, parameter: click.Parameter, value: Any) -> None:
    """Gather the options into one ``marked``."""
    before = context.params.get("marked", MarkingAsked())
    context.params["marked"] = replace(before, **{str(parameter.name): value})


def _marks(context: click.Context, parameter: click.Parameter, value: str | None) -> None:
    """Whole or half marks."""
    if value is not None:
        from sheetgen.records import number_of
        from sheetgen.templating.marking import MARKS_WANTED, are_marks

        found = number_of(value)
        if not are_marks(found):
            raise click.BadParameter(f"{value!r} is not {MARKS_WANTED}", context, parameter)
        _asked(context, parameter, found)


def _schemes(_: click.Context) -> Iterable[str]:
    from sheetgen.templating import marking_names

    return marking_names()


def marking_options(command: Command) -> Command:
    """--marking, --overlay, --marks and --scheme, which the command gets as ``marked``."""
    def option(*names: str, **more: Any) -> Callable[[Command], Command]:
        return click.option(*names, expose_value=False, is_eager=True, **{"callback": _asked, **more})

    for each in reversed((
        option("--marking", is_flag=True,
               help="Make marking sheets too: what each part and line of the answer is worth, the lines numbered, and the errors "
                    "that are likely."),
        option("--overlay", is_flag=True,
               help="Make overlays too: each view of the answer alone, for film to lay over a script."),
        option("--marks", callback=_marks, metavar="N", help="The marks of each problem, whole or with a half.  [default: 20]"),
        option("--scheme", metavar="NAME", shell_complete=completed(_schemes),
               help="How they are shared out: by-parts, even-split, by-deductions, or the path of your own .yaml file.  "
                    "[default: by-parts]"),
    )):
        command = each(command)
    return command


def remarks_of(marking: Marking | None) -> tuple[Fault, ...]:
    """What had better be changed in the file of a scheme."""
    return marking.template.remarks if marking else ()


def with_marking(plan: Plan, marked: MarkingAsked) -> Plan:
    """The plan with what the command line says of marking."""
    said, wishes = marked.wishes(), plan.marking
    return replace(plan, marking=replace(
        wishes, marks=said.marks or wishes.marks, scheme=said.scheme or wishes.scheme,
        sheets=tuple(dict.fromkeys((*wishes.sheets, *said.sheets)))))
