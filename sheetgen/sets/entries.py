"""The list of problems in a plan: each line names a family and its seeds, or wishes for a topic or a rung."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from sheetgen.bank import Bank
from sheetgen.choosing import Entry, Wish, chosen, fits
from sheetgen.faults import Place
from sheetgen.records import Reader
from sheetgen.sets.families import Asked, PlanFamilies
from sheetgen.sets.plan_file import MOST_PROBLEMS, ProblemLine
from sheetgen.sets.terms import MOST_OF_A_TERM, SpentError, Term, bank_digest, weeks_of, wishes_digest
from sheetgen.yamlines import Path_

Line = Sequence[Entry] | Wish
"""What a line of a plan comes to, or wishes for."""


@dataclass(frozen=True, slots=True)
class Problems:
    """The problems of a plan, of the families of ``bank``, which may be the plan's own. ``wishes``, ``families``: digests of what
    is wished for and of the families that fit it ("" where nothing is wished for); ``earlier``: the problems of each week before,
    if they are of a week of a term."""

    entries: tuple[Entry, ...]
    bank: Bank
    wishes: str = ""
    families: str = ""
    earlier: tuple[tuple[Entry, ...], ...] = ()


class ProblemReader:
    """Reads the lines of a plan that lies in ``folder``; in a ``term``, a line that names a family wishes for it; ``asked``: how
    its problems are, where a line does not say otherwise. Faults are noted in the reader's document."""

    def __init__(
        self, reader: Reader, bank: Bank, folder: Path, term: Term | None, asked: Asked,
    ) -> None:
        self.reader, self.term, self._asked = reader, term, asked
        self._families = PlanFamilies(reader, bank, folder, asked)
        self._earlier: tuple[tuple[Entry, ...], ...] = ()

    def problems(self, lines: Sequence[object]) -> Problems:
        """The problems of the ``lines``. Raises: BankError if one wishes for something, or asks in a kind that not every family
        serves, and a family cannot be read.

        What is named goes before what is wished for, so that a wish never takes a problem that another line names.
        """
        self._families.join_files(lines, "problems")
        if len(lines) > MOST_PROBLEMS:                          # the reader has said so; to look at them would take long
            return Problems((), self._families.bank)
        kinds = [str(item.get("kind", "")) if isinstance(item, dict) else "" for item in lines]
        found = self._served([self._line(item, ("problems", number)) for number, item in enumerate(lines)], kinds)
        wishes = [line for line in found if isinstance(line, Wish)]
        resolved = self._resolved(found)
        entries = [replace(entry, place=self._place(("problems", number)), kind=kinds[number])
                   for number, line in enumerate(resolved) for entry in line]
        if len(entries) > MOST_PROBLEMS:
            self.reader.fault(("problems",), f"{len(entries)} problems", f"at most {MOST_PROBLEMS}")
        if not wishes or self.reader.document.faults:
            return Problems(tuple(entries), self._families.bank)
        return Problems(tuple(entries), self._families.bank, wishes_digest(wishes, self.term.name if self.term else ""),
                        bank_digest(wishes, self._families.outlines), self._earlier)

    def _served(self, found: Sequence[Line], kinds: Sequence[str]) -> Sequence[Line]:
        """The lines, those that wish for families only among such as serve the kind in which they are asked."""
        if self.reader.document.faults:                                          # told before anything is looked at
            return found
        return [self._among(line, kind or self._asked.kind, ("problems", number))
                for number, (line, kind) in enumerate(zip(found, kinds, strict=True))]

    def _among(self, line: Line, kind: str, path: Path_) -> Line:
        if not isinstance(line, Wish):
            for family in dict.fromkeys(entry.family for entry in line):
                self._families.check_serves(family, kind, (*path, "family"), [entry.seed for entry in line])
            return line
        if line.family:
            self._families.check_serves(line.family, kind, (*path, "family"))
            return line
        fitting = [outline.name for outline in self._families.outlines.values() if line.fits(outline)]
        return replace(line, among=self._families.serving(fitting, kind, line.words, path))

    def _resolved(self, found: Sequence[Line]) -> list[Sequence[Entry]]:
        """The problems of each line, those that are wished for too."""
        taken: dict[Entry, int] = {}
        for number, line in enumerate(found):
            if not isinstance(line, Wish):
                self._take(line, ("problems", number), taken)
        if self.reader.document.faults:                                          # told before anything is chosen
            return [[] if isinstance(line, Wish) else line for line in found]
        if self.term:
            return self._of_the_week(self.term, found)
        resolved: list[Sequence[Entry]] = []
        for number, line in enumerate(found):
            entries = chosen(line, self._families.outlines, taken) if isinstance(line, Wish) else line
            taken.update(dict.fromkeys(entries, self.reader.document.line(("problems", number))))
            resolved.append(entries)
        return resolved

    def _of_the_week(self, term: Term, found: Sequence[Line]) -> list[Sequence[Entry]]:
        """In a term every line is a wish."""
        wishes = [line for line in found if isinstance(line, Wish)]
        weekly = sum(wish.count for wish in wishes)
        if weekly * term.weeks > MOST_OF_A_TERM:
            wanted = f"at most {MOST_OF_A_TERM} in a term: fewer problems, or fewer weeks"
            self.reader.fault(("problems",), f"{weekly} problems a week for {term.weeks} weeks", wanted)
            return []
        try:
            *before, week = weeks_of(term, wishes, self._families.outlines, self._families.bank)
            self._earlier = tuple(tuple(entry for line in lines for entry in line) for lines in before)
            return list(week)
        except SpentError as spent:
            what = f"{spent.wish.words or 'any family'}: in week {spent.week} no block is left that the term has not had"
            self.reader.fault(("problems", wishes.index(spent.wish)), what, "more families, fewer problems or fewer weeks")
            return []

    def _take(self, entries: Iterable[Entry], path: Path_, taken: dict[Entry, int]) -> None:
        for entry in entries:
            if entry in taken:
                found = f"{entry.family} with seed {entry.seed}, which stands in line {taken[entry]} already"
                self.reader.fault(path, found, "another seed")
            taken.setdefault(entry, self.reader.document.line(path))

    def _place(self, path: Path_) -> Place:
        document = self.reader.document
        return Place(document.file, document.line(path), self.reader.place(path))

    def _line(self, item: object, path: Path_) -> Line:
        """The problems of one line: one seed, ``count`` seeds one after another, or a wish; none if it has a fault."""
        before = len(self.reader.document.faults)
        wished = [key for key in ("topic", "rung") if isinstance(item, dict) and key in item]
        beside = next((key for key in ("family", "seed") if isinstance(item, dict) and key in item), None)
        if wished and beside:
            found = f"{' and '.join(wished)} beside {beside}"
            self.reader.fault(path, found, "either family, or topic and rung with count and first_seed")
            return []
        line = self.reader.model(ProblemLine, item, path)
        if line is None:
            return []
        if self.term:
            for key in ("seed", "first_seed"):
                if getattr(line, key) is not None:
                    self.reader.fault((*path, key), f"{key} {getattr(line, key)} in a plan with a term",
                                      "a count alone: each week of a term has seeds of its own")
        problems = self._wish(line, path) if wished else self._named(line, path)
        return problems if len(self.reader.document.faults) == before else []

    def _named(self, line: ProblemLine, path: Path_) -> Line:
        family = self._families.named(line.family, (*path, "family"))
        if line.seed is not None and (line.count is not None or line.first_seed is not None):
            self.reader.fault(path, "a seed beside count or first_seed", "either seed, or count and first_seed")
        if line.seed is not None:
            return [Entry(family, line.seed)]
        first, count = _run(line)
        if self.term:
            return Wish(count=count, family=family)
        return [Entry(family, seed) for seed in range(first, first + count)]

    def _wish(self, line: ProblemLine, path: Path_) -> Wish:
        first, count = _run(line)
        families, before = self._families.outlines.values(), len(self.reader.document.faults)
        self._families.check_topics(line.topic, path)
        wish = Wish(line.topic, line.rung, count, first)
        if len(self.reader.document.faults) == before and not any(fits(family, wish.topics, wish.rungs) for family in families):
            self.reader.fault(path, f"no family with {wish.words}", "a topic and a rung that go together")
        return wish


def _run(line: ProblemLine) -> tuple[int, int]:
    """The first seed, and how many."""
    return 1 if line.first_seed is None else line.first_seed, 1 if line.count is None else line.count
