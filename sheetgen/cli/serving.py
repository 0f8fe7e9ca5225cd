"""Which kinds of exercise families serve: found out with a bar that shows how far it is, and printed as a table."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from functools import partial
from typing import TYPE_CHECKING

from sheetgen.cli.telling import say, tell
from sheetgen.faults import visible_text

if TYPE_CHECKING:
    from sheetgen.bank import Bank, Outline
    from sheetgen.exercises import Served
    from sheetgen.faults import Fault

SIGNS = {"all": "*", "most": "+", "some": "-", "none": "."}
"""How a table tells a share."""

STEP, WIDTH, BETWEEN = 4, 80, "  "
"""Columns from one kind to the next, and of the whole table; what stands between a family's name and its signs."""

LEAST_NAME = 12
"""Columns of families' names, if there are so many kinds that these should be cut."""

SOON = 3
"""Of so many families it is found out without a word."""


def told_to_wait(quiet: bool = False) -> Callable[[int], None]:
    """What says, if anything need be said, that families are being looked at."""

    def told(count: int) -> None:
        if count > SOON and not quiet:
            tell(f"Finding out which kinds {count} families serve; it is kept, so that it need not be done again.")

    return told


def served_by(bank: Bank, found: Sequence[Outline]) -> tuple[dict[str, tuple[Served, ...]], list[Fault]]:
    """How families serve every kind, by their names, and the faults of those of which it cannot be told."""
    from rich.console import Console
    from rich.progress import Progress

    from sheetgen.bank import BankError
    from sheetgen.exercises import Serving, kinds
    from sheetgen.sets import FEW, cores, local_workers, results
    from sheetgen.sheet import Style

    console = Console(stderr=True)
    serving = Serving(bank, {outline.name: outline for outline in found}, Style(), told_to_wait())
    names, asked = [outline.name for outline in found], tuple(kinds())
    served: dict[str, tuple[Served, ...]] = {}
    faults: list[Fault] = []
    todo = serving.unknown(names, asked)
    with (local_workers(min(cores(), len(todo)) if len(todo) > FEW else 1) as executor,
          Progress(console=console, transient=True, disable=not (todo and console.is_terminal)) as progress):
        work = serving.each(names, asked, partial(results, executor=executor))
        for name, looked in progress.track(work, len(names), description="Looking"):
            if isinstance(looked, BankError):
                faults += looked.faults
            else:
                served[name] = looked
    return served, faults


def served_table(served: Mapping[str, Sequence[Served]]) -> None:
    """Print which kinds families serve: a line for each, a column for each kind, of which the names stand as steps over them, so
    that it is never wider than a terminal."""
    from sheetgen.exercises import kinds
    from sheetgen.exercises.served import ENOUGH, MOST

    names = tuple(kinds())
    steps = max(number * STEP + len(name) for number, name in enumerate(names))
    wide = max(LEAST_NAME, min(max(map(len, served), default=0), WIDTH - len(BETWEEN) - steps))
    for number, name in enumerate(names):
        say(f"{'Family' if not number else '':{wide}}{BETWEEN}{f'{chr(124):{STEP}}' * number}{name}")
    for family, found in served.items():
        say(_row(visible_text(family, quote=False)[:wide], wide, [SIGNS[one.share] for one in found]))
    counts = [sum(not found[number].never for found in served.values()) for number in range(len(names))]
    say(_row("served by", wide, list(map(str, counts))))
    say("")
    say(f"{SIGNS['all']} all variants looked at, {SIGNS['most']} more than half, {SIGNS['some']} some, {SIGNS['none']} none; "
        f"{ENOUGH} to {MOST} of each.")
    say("Why not, and how many: --json, or sheetgen bank vet FAMILY.")


def _row(name: str, wide: int, cells: Sequence[str]) -> str:
    return f"{name:{wide}}{BETWEEN}{''.join(f'{cell:{STEP}}' for cell in cells)}".rstrip()
