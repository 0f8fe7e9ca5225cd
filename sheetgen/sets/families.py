"""The families that a plan of any sort names or wishes for: of its bank, or of files beside it. Faults go to the reader's
document."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property
from pathlib import Path
from typing import Any

from sheetgen.bank import FAMILIES_LISTED, Bank, BankError, Outline, bank_of, outlines
from sheetgen.choosing import TOPICS_LISTED, topics_of, unknown_topics
from sheetgen.exercises import USUAL, Serving, kinds, serves_seed
from sheetgen.faults import FEW, few, shown
from sheetgen.records import Reader
from sheetgen.sets.plan_banks import home_of
from sheetgen.sheet import Style
from sheetgen.templating import beside, not_beside
from sheetgen.yamlines import Path_, is_yaml

BESIDE = "the name of a .yaml file beside the plan"


KINDS_LISTED = "`sheetgen bank list --kinds` shows which families serve which kinds"


@dataclass(frozen=True)
class Beside:
    """What is said beside a plan, and goes before what it says: a ``kind`` ("": none), and fields of its ``look``; ``told``:
    hears of how many families it must be found out first whether they serve a kind."""

    kind: str = ""
    look: Mapping[str, Any] = field(default_factory=dict)
    told: Callable[[int], None] = lambda count: None


@dataclass(frozen=True)
class Asked:
    """In which ``kind`` and ``style`` problems are asked; ``told``: as of ``Beside``."""

    kind: str = USUAL
    style: Style = field(default_factory=Style)
    told: Callable[[int], None] = lambda count: None

    @classmethod
    def of(cls, kind: str, style: Style | None, beside: Beside) -> Asked:
        """What comes of a plan's own words and of those beside it; of a plan without a style, which has faults, the usual one."""
        return cls(beside.kind or kind, replace(style or Style(), **beside.look), beside.told)


class PlanFamilies:
    """Families of the ``bank``, which those join whose files the plan names; it lies in ``folder``. ``asked``: how, for families
    must serve the kind that they are asked in."""

    def __init__(self, reader: Reader, bank: Bank, folder: Path, asked: Asked) -> None:
        self.reader, self.bank, self.folder, self.asked = reader, bank, folder, asked

    def join_files(self, lines: Sequence[object], section: str) -> None:
        """Let the families join the bank whose files the ``lines`` of a section name."""
        for number, line in enumerate(lines):
            if isinstance(line, dict) and _is_file(line.get("family")):
                self._join(str(line["family"]), (section, number, "family"))

    def _join(self, value: str, path: Path_) -> None:
        file = beside(self.folder, value)
        if file is None:
            self.reader.fault(path, *not_beside(self.folder, value, BESIDE))
            return
        try:
            self.bank = self.bank.joined(bank_of({file.stem: file}))
        except BankError as error:
            for fault in error.faults:
                self.reader.fault(path, f"{fault.file}, {fault.found}", fault.wanted)

    def named(self, value: object, path: Path_) -> str:
        """The name of a family of the bank; one whose file lies beside the plan has joined it."""
        if _is_file(value):
            return Path(str(value)).stem
        if not isinstance(value, str) or value not in self.bank:
            known = few(str(value), self.bank, FAMILIES_LISTED) if len(self.bank) else "a family of the bank"
            home = home_of(value, self.folder) if isinstance(value, str) else None
            self.reader.fault(path, shown(value), f"`banks: [{home}]` in the plan: it lies in that folder" if home else
                              f"{known}, or {BESIDE}; families in a folder of your own need "
                              f"`banks: [FOLDER]` in the plan, or --bank FOLDER")
        return str(value)

    @cached_property
    def outlines(self) -> Mapping[str, Outline]:
        """Of all families, read when the first wish asks for them, when all files have joined. Raises: BankError."""
        return outlines(self.bank)

    @cached_property
    def _topics(self) -> list[str]:
        return topics_of(self.outlines.values())

    def check_topics(self, topics: Sequence[str], path: Path_) -> None:
        """Note which of the topics that are wished for no family has. Raises: BankError."""
        for topic in unknown_topics(topics, self._topics) if topics else ():
            self.reader.fault((*path, "topic"), shown(topic), few(topic, self._topics, TOPICS_LISTED))

    @cached_property
    def _serving(self) -> Serving:
        return Serving(self.bank, self.outlines, self.asked.style, self.asked.told)

    def check_serves(self, name: str, kind: str, path: Path_, seeds: Sequence[int] = ()) -> None:
        """Note it if a family that is named does not serve a kind; unless just these ``seeds`` do, which are looked at then, so
        that what was printed once can be printed again. Raises: BankError.
        """
        if kinds()[kind].of_every or not (found := self._serving.of([name], kind)[name]).never:
            return
        if not seeds or not all(serves_seed(self.asked.style, kind, self.bank[name], seed) for seed in seeds):
            self.reader.fault(path, f"{name}, which does not serve the kind {kind}: {found.reason}",
                              f"a family that does ({KINDS_LISTED}), or another kind")

    def serving(self, names: Iterable[str], kind: str, what: str, path: Path_, least: int = 1) -> frozenset[str]:
        """Those of some families that serve a kind; noted if they are fewer than ``least``: ``what`` asks for them.

        Raises: BankError.
        """
        able, told = serving_of(self._serving, self.bank, names, kind, what, least)
        if told:
            self.reader.fault(path, *told)
        return able


def serving_of(
    serving: Serving, bank: Iterable[str], names: Iterable[str], kind: str, what: str, least: int = 1
) -> tuple[frozenset[str], tuple[str, str] | None]:
    """Those of some families, which ``what`` asks for, that serve a kind; if they are fewer than ``least``, what is found and
    what would be right: how many do, and which of the whole ``bank``. Raises: BankError.
    """
    names = list(names)
    if kinds()[kind].of_every:
        return frozenset(names), None
    able = [name for name, served in serving.of(names, kind).items() if not served.never]
    if len(able) >= least:
        return frozenset(able), None
    every = [name for name, served in serving.of(bank, kind).items() if not served.never]
    found = f"{what}: {_counted(able) or 'none'} of {len(names)} that fit serve the kind {kind}"
    wanted = f"{f'no more than {len(able)}, ' if able else ''}another topic or rung, or another kind"
    others = f"of all families {_counted(every) or 'none'} serve it" + ("" if len(every) <= FEW else f" ({KINDS_LISTED})")
    return frozenset(able), (found, f"{wanted}; {others}")


def _counted(names: Sequence[str]) -> str:
    """How many, and which, if a message can list them.

    >>> _counted([]), _counted(["step", "wedge"])
    ('', '2 (step, wedge)')
    """
    listed = f" ({', '.join(names)})" if len(names) <= FEW else ""
    return f"{len(names)}{listed}" if names else ""


def _is_file(value: object) -> bool:
    return isinstance(value, str) and is_yaml(value)
