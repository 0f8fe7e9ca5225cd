"""Faults of a family file, noted with their lines: what pydantic and the formulas say, in words for the teacher.

One fault is told once: a name that nobody knows at its first place, with the other lines; what only follows from a faulty
entry, told already, is not told at all.
"""

from __future__ import annotations

import re
from typing import Any

from pydantic import BaseModel

from sheetgen.bank.formula_nodes import UnknownNameError
from sheetgen.bank.formulas import Formula, FormulaError, Kind
from sheetgen.bank.wanted import WANTED
from sheetgen.faults import shown
from sheetgen.records import Reader
from sheetgen.yamlines import Path_, YamlDocument, field_of

MOST_LINES = 8
"""Further lines of an unknown name that a message gives."""


class FormulaReader(Reader):
    """The faults of one document; ``kinds`` are those of the sizes and values known so far; ``unsure``: those of them of which
    the kind is not known, because of a fault; ``faulty``: names of sizes and values that cannot be; ``nameless``: sorts of things
    of which one has a name that is not known, or all are missing, so that no name of this sort can be called unknown."""

    def __init__(self, document: YamlDocument) -> None:
        super().__init__(document, WANTED)
        self.kinds: dict[str, Kind] = {}
        self.unsure, self.faulty, self.nameless = set[str](), set[str](), set[str]()
        self._unknown: dict[tuple[str, str], tuple[Path_, str, str, list[int]]] = {}

    def place(self, path: Path_) -> str:
        """How a message calls an entry; features are called by number and name."""
        data = self.document.data
        if len(path) > 1 and path[0] == "features" and isinstance(path[1], int) and isinstance(data["features"][path[1]], dict):
            name = data["features"][path[1]].get("name")
            if isinstance(name, str):
                inner = field_of(path[2:])
                return f"{field_of(path[:2])} {shown(name)[1:-1]}" + (f": {inner}" if inner else "")
        return field_of(path)

    def formula(self, formula: Formula, path: Path_, want: Kind | None) -> Kind | None:
        """Check the names and kinds in a formula; None, and the fault noted, if they do not fit."""
        try:
            return formula.check(self.kinds, want)
        except UnknownNameError as error:
            if "sizes" not in self.nameless and not self._follows(error.name) and not self._follows(formula.text):
                self.unknown("sizes", error.name, path, f"{error.found}{_at(error, formula)}", error.wanted)
        except FormulaError as error:
            if not formula.names & self.unsure:
                self.fault(path, f"{error.found}{_at(error, formula)}", error.wanted)
        return None

    def unknown(self, sort: str, name: str, path: Path_, found: str, wanted: str) -> None:
        """Note a name that is not known: it is told once, by ``tell_unknown``, at its first place."""
        *_, lines = self._unknown.setdefault((sort, name), (path, found, wanted, []))
        lines.append(self.document.line(path))

    def tell_unknown(self) -> None:
        """Tell of each unknown name."""
        for path, found, wanted, lines in self._unknown.values():
            others = list(dict.fromkeys(line for line in lines if line != lines[0]))
            listed = ", ".join(map(str, others[:MOST_LINES])) + (" and more" if len(others) > MOST_LINES else "")
            also = f" (also in line{'s' if len(others) > 1 else ''} {listed})" if others else ""
            self.fault(path, f"{found}{also}", wanted)

    def _item(self, model: type[BaseModel], item: Any, path: Path_) -> None:
        if not (item["type"] == "record" and path[:1] != ("measures",) and isinstance(item["input"], str)
                and self._follows(item["input"]) and item["loc"][-1:] != ("name",)):
            super()._item(model, item, path)

    def _follows(self, text: str) -> bool:
        """Whether what is wrong with a formula may be that it has a faulty name in it, or had one."""
        plain = text.casefold()
        return any(_has(plain, name.casefold()) or _has(name.casefold(), plain) for name in self.faulty)


def _has(text: str, word: str) -> bool:
    """Whether a word, or several, stands by itself in a text."""
    return re.search(rf"(?<!\w){re.escape(word)}(?!\w)", text) is not None


def _at(error: FormulaError, formula: Formula) -> str:
    """Where in a formula."""
    return f" at column {error.column} of {shown(formula.text)}" if formula.text != error.found.strip("'") else ""
