"""The list of problems in a plan: each line names a family and its seeds, or wishes for a topic or a rung."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from sheetgen.bank import Family
from sheetgen.faults import choice, shown
from sheetgen.sets.choosing import RUNGS, Entry, Wish, chosen, fits, plain_topic, topics_of
from sheetgen.yamlines import Document, Path_, field_of

MOST_PROBLEMS = 500
"""Of one worksheet; a year's work for a class has fewer."""

MOST_SEED = 999_999_999
"""A seed stands on the sheet as part of its code."""

MOST_WORDS = 20
"""Topics, or rungs, of one wish."""

FIELDS = ("family", "topic", "rung", "seed", "count", "first_seed")
EXAMPLES = "`family: …, seed: …`, `family: …, count: …`, `topic: …, count: …` or `rung: …, count: …`"

Families = Mapping[str, Family]


def entries_of(document: Document, value: object, families: Families) -> tuple[Entry, ...]:
    """The problems of the list ``value``. Faults are noted in the document.

    What is named goes before what is wished for, so that a wish never takes a problem that another line names.
    """
    if not isinstance(value, list) or not value:
        wanted = "a list of problems, each as `- {family: …, seed: …}`"
        _fault(document, ("problems",), shown(value), wanted)
        return ()
    lines = [_of_one(document, item, ("problems", place), families) for place, item in enumerate(value)]
    taken: dict[Entry, int] = {}
    for place, line in enumerate(lines):
        if not isinstance(line, Wish):
            _take(document, line, ("problems", place), taken)
    entries: list[Entry] = []
    for place, line in enumerate(lines):
        if isinstance(line, Wish):
            found = chosen(line, families, taken)
            taken.update(dict.fromkeys(found, document.line(("problems", place))))
            entries += found
        else:
            entries += line
    if len(entries) > MOST_PROBLEMS:
        _fault(document, ("problems",), f"{len(entries)} problems", f"at most {MOST_PROBLEMS}")
    return tuple(entries)


def check_keys(document: Document, data: Mapping[str, Any], path: Path_, known: Sequence[str]) -> None:
    """Note every field that is not known."""
    for key in data:
        if key not in known:
            _fault(document, (*path, key), "an unknown field", choice(key, known))


def _fault(document: Document, path: Path_, found: str, wanted: str) -> None:
    document.fault(document.line(path), field_of(path), found, wanted)


def _take(document: Document, entries: Iterable[Entry], path: Path_, taken: dict[Entry, int]) -> None:
    for entry in entries:
        if entry in taken:
            found = f"{entry.family} with seed {entry.seed}, which stands in line {taken[entry]} already"
            _fault(document, path, found, "another seed")
        taken.setdefault(entry, document.line(path))


def _of_one(document: Document, item: object, path: Path_, families: Families) -> Sequence[Entry] | Wish:
    """The problems of one line: one seed, ``count`` seeds one after another, or a wish; none if it has a fault."""
    before = len(document.faults)
    if not isinstance(item, dict):
        _fault(document, path, shown(item), EXAMPLES)
        return []
    check_keys(document, item, path, FIELDS)
    wished = [key for key in ("topic", "rung") if key in item]
    if wished and ("family" in item or "seed" in item):
        found = f"{' and '.join(wished)} beside {'family' if 'family' in item else 'seed'}"
        _fault(document, path, found, "either family, or topic and rung with count and first_seed")
        return []
    if wished:
        wish = _wish(document, item, path, families)
        return wish if len(document.faults) == before else []
    return _named(document, item, path, families, before)


def _named(document: Document, item: Mapping[str, Any], path: Path_, families: Families, before: int) -> list[Entry]:
    family = item.get("family")
    if family not in families:
        wanted = choice(str(family), families) if families else "a family of the bank"
        _fault(document, (*path, "family"), shown(family), wanted)
    if "seed" in item and ("count" in item or "first_seed" in item):
        wanted = "either seed, or count and first_seed"
        _fault(document, path, "a seed beside count or first_seed", wanted)
    if "seed" in item:
        first, count = _whole(document, item, path, "seed", 0, MOST_SEED), 1
    else:
        first, count = _run(document, item, path, "no seed and no count")
    return [Entry(str(family), seed) for seed in range(first, first + count)] if len(document.faults) == before else []


def _wish(document: Document, item: Mapping[str, Any], path: Path_, families: Families) -> Wish:
    first, count = _run(document, item, path, "no count")
    topics = _words(document, item, path, "topic")
    rungs = _words(document, item, path, "rung")
    known = topics_of(families.values()) if topics else []
    for topic in topics:
        if plain_topic(topic) not in known:
            _fault(document, (*path, "topic"), shown(topic), choice(topic, known))
    for rung in rungs:
        if rung not in map(str, RUNGS):
            _fault(document, (*path, "rung"), shown(rung), "1 (easiest) to 5, or a list of these")
    wish = Wish(topics, tuple(int(rung) for rung in rungs if rung in map(str, RUNGS)), count, first)
    if not document.faults and not any(fits(family, wish.topics, wish.rungs) for family in families.values()):
        _fault(document, path, f"no family with {wish.words}", "a topic and a rung that go together")
    return wish


def _words(document: Document, item: Mapping[str, Any], path: Path_, key: str) -> tuple[str, ...]:
    """One word or a list of words; empty if the line has none."""
    value = item.get(key, [])
    words = value if isinstance(value, list) else [value]
    if key in item and (not words or len(words) > MOST_WORDS or not all(isinstance(word, str) for word in words)):
        _fault(document, (*path, key), shown(value), f"a {key}, or a list of up to {MOST_WORDS}")
        return ()
    return tuple(words)


def _run(document: Document, item: Mapping[str, Any], path: Path_, none: str) -> tuple[int, int]:
    """The first seed, and how many."""
    first = _whole(document, item, path, "first_seed", 0, MOST_SEED, default=1)
    return first, _whole(document, item, path, "count", 1, MOST_PROBLEMS, none=none)


def _whole(
    document: Document, item: Mapping[str, Any], path: Path_, key: str, least: int, most: int, default: int | None = None,
    none: str = "nothing",
) -> int:
    """A whole number from ``least`` to ``most``; ``none`` is what a message calls its want."""
    value = item.get(key, default)
    if isinstance(value, int):
        return value
    if isinstance(value, str) and re.fullmatch(r"[0-9]{1,9}", value) and least <= int(value) <= most:
        return int(value)
    found = none if value is None else shown(value)
    _fault(document, (*path, key), found, f"a whole number from {least} to {most}")
    return least
