"""Options that several commands have, and what a shell may complete of them."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

import click
from click.shell_completion import CompletionItem

from sheetgen.faults import FaultError, shown

if TYPE_CHECKING:
    from sheetgen.bank import Bank

Command = TypeVar("Command", bound=Callable[..., Any])

PROJECTIONS, SIDES = ("first", "third"), ("left", "right", "both")
FIGURES, ARROWS = ("aligned", "upright"), ("front", "each")
MISSING, DRAWN = ("front", "top", "side"), ("isometric", "cavalier", "cabinet")
PAPERS = ("A3", "A2", "A4", "11x17")
"""As ``sheetgen.sheet`` has them, which takes long to import; a test holds them together."""


@dataclass(frozen=True)
class Places:
    """Where families come from: places of one's ``own`` beside the shipped bank, or beside those of ``only`` in its stead."""

    own: tuple[Path, ...] = ()
    only: tuple[Path, ...] = ()

    def __bool__(self) -> bool:
        return bool(self.own or self.only)

    def bank(self) -> Bank:
        """All their families as one bank. Raises: BankError."""
        from sheetgen.bank import load_banks

        return load_banks(self.own, self.only)


class Whole(click.IntRange):
    """A whole number within bounds."""

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> Any:
        """The number."""
        try:
            return super().convert(value, param, ctx)
        except click.BadParameter:
            self.fail(f"{shown(value)} is no whole number from {self.min} to {self.max}.", param, ctx)


class Word(click.Choice[str]):
    """One of some words, in capitals or small letters, and a paper however its name is spelt."""

    def __init__(self, words: Iterable[str]) -> None:
        super().__init__(list(words), case_sensitive=False)

    def get_metavar(self, param: click.Parameter, ctx: click.Context) -> str:
        """The words as they are spelt."""
        return f"[{'|'.join(self.choices)}]"

    def shell_complete(self, ctx: click.Context, param: click.Parameter, incomplete: str) -> list[CompletionItem]:
        """The words that begin so, as they are spelt."""
        return [CompletionItem(word) for word in self.choices if word.casefold().startswith(incomplete.casefold())]

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> Any:
        """The word as it is spelt here."""
        if isinstance(value, str) and self.choices == PAPERS:
            from sheetgen.sheet import paper_name

            value = paper_name(value)
        by_letters = {word.casefold(): word for word in self.choices}
        if not isinstance(value, str) or value.casefold() not in by_letters:
            self.fail(f"{value!r} is not one of {', '.join(self.choices)}.", param, ctx)
        return by_letters[value.casefold()]


def _places(context: click.Context, parameter: click.Parameter, value: tuple[Path, ...]) -> None:
    """Gather --bank and --only-bank into one ``places``."""
    found = context.params.get("places", Places())
    own, only = (value, found.only) if parameter.name == "bank_own" else (found.own, value)
    context.params["places"] = Places(own, only)


def bank_options(command: Command) -> Command:
    """--bank and --only-bank, which the command gets as ``places``."""
    own = click.option(
        "--bank", "bank_own", multiple=True, type=click.Path(path_type=Path), metavar="DIR", expose_value=False, is_eager=True,
        callback=_places, help="A folder of family files of your own, or one file, beside the bank that comes with sheetgen; "
                               "may be given several times.")
    only = click.option(
        "--only-bank", "bank_only", multiple=True, type=click.Path(path_type=Path), metavar="DIR", expose_value=False,
        is_eager=True, callback=_places, help="The same, in place of the bank that comes with sheetgen.")
    return own(only(command))


def look_options(defaults: bool) -> Callable[[Command], Command]:
    """How the sheets look. Without ``defaults`` what is not given is None: a plan may say it."""

    def option(name: str, default: str, **more: Any) -> Callable[[Command], Command]:
        if defaults:
            return click.option(name, default=default, show_default=True, **more)
        return click.option(name, **{**more, "help": f"{more['help']}  [default: the plan's, or {default}]"})

    def flag(name: str, parameter: str, text: str) -> Callable[[Command], Command]:
        return click.option(name, parameter, is_flag=True, default=False if defaults else None, help=text)

    def add(command: Command) -> Command:
        for each in reversed((
            option("--projection", "first", type=Word(PROJECTIONS), help="First or third angle projection."),
            option("--side", "left", type=Word(SIDES), help="The side view: seen from the left, from the right, or both."),
            option("--paper", "A3", type=Word(PAPERS), help="The paper, landscape; 11x17 is in inches."),
            option("--title-block", "harbour", **TITLE_BLOCK),
            option("--figures", "aligned", type=Word(FIGURES),
                   help="Figures of sizes: aligned with their lines, or all upright."),
            option("--arrows", "front", type=Word(ARROWS),
                   help="Arrows of sight on the pictorial: of the front view, or of each side view too."),
            click.option("--missing", type=Word(MISSING), metavar="[front|top|side]",
                         callback=lambda _context, _option, view: view or ("" if defaults else None),
                         help="Of the kind third-view: the view asked for.  [default: one that the two others make certain]"),
            flag("--any", "any_answer", "Of the kind third-view: several views may be right; the marking sheet shows them all."),
            flag("--pictorial", "pictorial", "Of the kind missing-lines: the pictorial stands beside the views."),
            option("--drawn", "isometric", type=Word(DRAWN),
                   help="Of the kind pictorial: isometric, or oblique, with depths at full length (cavalier) or half (cabinet)."),
            flag("--grid", "grid", "Of the kind pictorial: a second page of the question has a grid to draw on."),
            flag("--whole", "whole", "Of the kind auxiliary: the whole auxiliary view, not the inclined face alone."),
        )):
            command = each(command)
        return command

    return add


def completed(
    words: Callable[[click.Context], Iterable[str]], files: bool = True
) -> Callable[[click.Context, click.Parameter, str], list[CompletionItem]]:
    """Completes one of some ``words``; if none begins so, and the option takes ``files`` too, the path of one."""

    def complete(context: click.Context, parameter: click.Parameter, begun: str) -> list[CompletionItem]:
        try:
            found = [CompletionItem(word) for word in words(context) if word.startswith(begun.casefold())]
        except FaultError:             # told when the command is run; here it would stand in the midst of what is being written
            found = []
        return found or [CompletionItem(begun, type="file")] * files

    return complete


def families_known(context: click.Context) -> Iterable[str]:
    """The names in the banks that are given so far."""
    return _bank_of(context)


def _topics(context: click.Context) -> Iterable[str]:
    """With hyphens, because a shell would take two words for two arguments."""
    from sheetgen.bank import outlined
    from sheetgen.choosing import topics_of

    return [topic.replace(" ", "-") for topic in topics_of(outlined(_bank_of(context))[0].values())]


def _bank_of(context: click.Context) -> Bank:
    places: Places = context.params.get("places") or Places()
    return places.bank()


def _title_blocks(_: click.Context) -> Iterable[str]:
    from sheetgen.templating import title_block_names

    return title_block_names()


def _wordings(_: click.Context) -> Iterable[str]:
    from sheetgen.templating import wording_names

    return wording_names()


TITLE_BLOCK: Mapping[str, Any] = {
    "metavar": "NAME", "shell_complete": completed(_title_blocks),
    "help": "A title block that comes with sheetgen (harbour, quarry), or the path of your own .yaml file."}

title_block_option = click.option("--title-block", default="harbour", show_default=True, **TITLE_BLOCK)
topic_option = click.option(
    "--topic", "topics", multiple=True, metavar="TOPIC", shell_complete=completed(_topics, files=False),
    help="Only families with this topic, or one that it covers; may be given several times.")
rung_option = click.option(
    "--rung", "rungs", multiple=True, type=Whole(1, 5), metavar="N",
    help="Only families of this rung, 1 (easiest) to 5; may be given several times.")
wording_option = click.option(
    "--wording", metavar="NAME", shell_complete=completed(_wordings),
    help="The words on the sheets: en (front view, top view, side view), en-elevations (front elevation, plan, end "
         "elevation), or the path of your own .yaml file.  [default: en]")
