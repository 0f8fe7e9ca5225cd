"""The list of problems in a plan: each line names a family and its seeds, or wishes for a topic or a rung."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from sheetgen.bank import Family
from sheetgen.faults import Place, choice, shown
from sheetgen.records import Reader
from sheetgen.sets.choosing import Entry, Wish, chosen, fits, plain_topic, topics_of
from sheetgen.sets.plan_file import MOST_PROBLEMS, ProblemLine
from sheetgen.yamlines import Path_

Families = Mapping[str, Family]


def entries_of(reader: Reader, lines: Sequence[object], families: Families) -> tuple[Entry, ...]:
    """The problems of the ``lines``. Faults are noted in the reader's document.

    What is named goes before what is wished for, so that a wish never takes a problem that another line names.
    """
    found = [_of_one(reader, line, ("problems", number), families) for number, line in enumerate(lines)]
    taken: dict[Entry, int] = {}
    for number, line in enumerate(found):
        if not isinstance(line, Wish):
            _take(reader, line, ("problems", number), taken)
    entries: list[Entry] = []
    for number, line in enumerate(found):
        path: Path_ = ("problems", number)
        place = Place(reader.document.file, reader.document.line(path), reader.place(path))
        problems = chosen(line, families, taken) if isinstance(line, Wish) else line
        if isinstance(line, Wish):
            taken.update(dict.fromkeys(problems, place.line))
        entries += [replace(problem, place=place) for problem in problems]
    if len(entries) > MOST_PROBLEMS:
        reader.fault(("problems",), f"{len(entries)} problems", f"at most {MOST_PROBLEMS}")
    return tuple(entries)


def _take(reader: Reader, entries: Iterable[Entry], path: Path_, taken: dict[Entry, int]) -> None:
    for entry in entries:
        if entry in taken:
            found = f"{entry.family} with seed {entry.seed}, which stands in line {taken[entry]} already"
            reader.fault(path, found, "another seed")
        taken.setdefault(entry, reader.document.line(path))


def _of_one(reader: Reader, item: object, path: Path_, families: Families) -> Sequence[Entry] | Wish:
    """The problems of one line: one seed, ``count`` seeds one after another, or a wish; none if it has a fault."""
    before = len(reader.document.faults)
    wished = [key for key in ("topic", "rung") if isinstance(item, dict) and key in item]
    beside = next((key for key in ("family", "seed") if isinstance(item, dict) and key in item), None)
    if wished and beside:
        found = f"{' and '.join(wished)} beside {beside}"
        reader.fault(path, found, "either family, or topic and rung with count and first_seed")
        return []
    line = reader.model(ProblemLine, item, path)
    if line is None:
        return []
    problems = _wish(reader, line, path, families) if wished else _named(reader, line, path, families)
    return problems if len(reader.document.faults) == before else []


def _named(reader: Reader, line: ProblemLine, path: Path_, families: Families) -> list[Entry]:
    if not isinstance(line.family, str) or line.family not in families:
        wanted = choice(str(line.family), families) if families else "a family of the bank"
        reader.fault((*path, "family"), shown(line.family), wanted)
    if line.seed is not None and (line.count is not None or line.first_seed is not None):
        reader.fault(path, "a seed beside count or first_seed", "either seed, or count and first_seed")
    if line.seed is not None:
        return [Entry(str(line.family), line.seed)]
    first, count = _run(reader, line, path, "no seed and no count")
    return [Entry(str(line.family), seed) for seed in range(first, first + count)]


def _wish(reader: Reader, line: ProblemLine, path: Path_, families: Families) -> Wish:
    first, count = _run(reader, line, path, "no count")
    known = topics_of(families.values()) if line.topic else []
    for topic in line.topic:
        if plain_topic(topic) not in known:
            reader.fault((*path, "topic"), shown(topic), choice(topic, known))
    wish = Wish(line.topic, line.rung, count, first)
    if not reader.document.faults and not any(fits(family, wish.topics, wish.rungs) for family in families.values()):
        reader.fault(path, f"no family with {wish.words}", "a topic and a rung that go together")
    return wish


def _run(reader: Reader, line: ProblemLine, path: Path_, none: str) -> tuple[int, int]:
    """The first seed, and how many; ``none``: what a message calls the want of a number."""
    if line.count is None:
        reader.fault((*path, "count"), none, f"a whole number from 1 to {MOST_PROBLEMS}")
    return 1 if line.first_seed is None else line.first_seed, line.count or 0
