"""The families that a plan of any sort names or wishes for: of its bank, or of files beside it. Faults go to the reader's
document."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import cached_property
from pathlib import Path

from sheetgen.bank import FAMILIES_LISTED, Bank, BankError, Outline, bank_of, outlines
from sheetgen.choosing import TOPICS_LISTED, topics_of, unknown_topics
from sheetgen.faults import few, shown
from sheetgen.records import Reader
from sheetgen.sets.plan_banks import home_of
from sheetgen.templating import beside, not_beside
from sheetgen.yamlines import Path_, is_yaml

BESIDE = "the name of a .yaml file beside the plan"


class PlanFamilies:
    """Families of the ``bank``, which those join whose files the plan names; it lies in ``folder``."""

    def __init__(self, reader: Reader, bank: Bank, folder: Path) -> None:
        self.reader, self.bank, self.folder = reader, bank, folder

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


def _is_file(value: object) -> bool:
    return isinstance(value, str) and is_yaml(value)
