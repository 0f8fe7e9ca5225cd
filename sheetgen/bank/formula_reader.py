"""Faults of a family file, noted with their lines: what pydantic and the formulas say, in words for the teacher."""

from __future__ import annotations

from collections.abc import Mapping

from sheetgen.bank.formulas import Formula, FormulaError, Kind
from sheetgen.bank.wanted import WANTED
from sheetgen.faults import shown
from sheetgen.records import Reader
from sheetgen.yamlines import Path_, YamlDocument, field_of


class FormulaReader(Reader):
    """The faults of one document; ``kinds`` are those of the sizes and values known so far."""

    def __init__(self, document: YamlDocument) -> None:
        super().__init__(document, WANTED)
        self.kinds: dict[str, Kind] = {}

    def place(self, path: Path_) -> str:
        """How a message calls an entry; features are called by number and name."""
        data = self.document.data
        if len(path) > 1 and path[0] == "features" and isinstance(path[1], int) and isinstance(data["features"][path[1]], dict):
            name = data["features"][path[1]].get("name")
            if isinstance(name, str):
                inner = field_of(path[2:])
                return f"{field_of(path[:2])} {shown(name)[1:-1]}" + (f": {inner}" if inner else "")
        return field_of(path)

    def formula(self, formula: Formula, path: Path_, want: Kind | None, kinds: Mapping[str, Kind] | None = None) -> Kind | None:
        """Check the names and kinds in a formula; None, and the fault noted, if they do not fit."""
        try:
            return formula.check(self.kinds if kinds is None else kinds, want)
        except FormulaError as error:
            at = f" at column {error.column} of {shown(formula.text)}" if formula.text != error.found.strip("'") else ""
            self.fault(path, f"{error.found}{at}", error.wanted)
            return None
