"""What is to be known of families before any is drawn: title, rung, topics, sizes, about how many variants. It is kept between
calls in the user's cache folder, by the content of the files, because counting a whole bank takes seconds."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path
from typing import Any

from sheetgen.bank.cache import Cache
from sheetgen.bank.faults import BankError
from sheetgen.bank.load import Bank
from sheetgen.faults import Fault
from sheetgen.version import __version__

COUNTED_FROM = 200
"""Choices of sizes from which an outline estimates the number of variants: few, because a list is to come at once."""

LARGEST = 1_000_000
"""Bytes of a file whose content is looked at; a larger one is no family (see the limits of ``reader.py``)."""


@dataclass(frozen=True, slots=True)
class Outline:
    """A family from outside. ``variants``: about how many (0: not counted); ``home``: the folder it comes from; ``content``: a
    digest of its file, the same whatever ends its lines."""

    name: str
    title: str
    rung: int
    topics: tuple[str, ...]
    sizes: tuple[str, ...]
    variants: int
    file: str
    home: str
    content: str


def outlines(
    bank: Bank, names: Iterable[str] | None = None, counted: bool = False, cache: Cache | None = None
) -> dict[str, Outline]:
    """The outlines of the families ``names``, or of all. Raises: BankError with all faults of all their files."""
    found, faults = outlined(bank, names, counted, cache)
    if faults:
        raise BankError(faults)
    return found


def outlined(
    bank: Bank, names: Iterable[str] | None = None, counted: bool = False, cache: Cache | None = None
) -> tuple[dict[str, Outline], list[Fault]]:
    """Outlines by name, and what is wrong with files that have none; with ``counted`` they tell how many variants there are."""
    found: dict[str, Outline] = {}
    faults: list[Fault] = []
    with cache or Cache.of_user() as kept:
        for name in bank if names is None else names:
            try:
                found[name] = _outline(bank, name, counted, kept)
            except BankError as error:
                faults += error.faults
    return found, faults


def _outline(bank: Bank, name: str, counted: bool, cache: Cache) -> Outline:
    """One outline, from the cache if that has it. Raises: BankError."""
    content = _content(bank.path(name))
    key = sha256(f"{__version__}/{name}/{content}".encode()).hexdigest()
    row = cache.get(key)
    if row is None or not _is_row(row) or (counted and not row["variants"]):
        row = _row(bank, name, counted)
        cache.put(key, row)
    return Outline(name, row["title"], row["rung"], tuple(row["topics"]), tuple(row["sizes"]), row["variants"],
                   bank.shown(name), bank.home(name), content)


def _row(bank: Bank, name: str, counted: bool) -> dict[str, Any]:
    """What the cache keeps of a family. A family whose rules nothing keeps has 0 variants and is counted each time."""
    from sheetgen.bank.counting import attempts_of, kept_and_variants

    family = bank[name]
    variants = kept_and_variants(family, attempts_of(family, COUNTED_FROM))[1] if counted else 0
    return {"title": family.title, "rung": family.rung, "topics": list(family.topics), "sizes": list(family.size_names),
            "variants": variants}


def _is_row(row: Mapping[str, Any]) -> bool:
    """Whether a row of the cache is such as ``_row`` makes."""
    return (isinstance(row.get("title"), str) and all(type(row.get(key)) is int and row[key] >= 0 for key in ("rung", "variants"))
            and all(isinstance(row.get(key), list) and all(isinstance(word, str) for word in row[key])
                    for key in ("topics", "sizes")))


def _content(path: Path) -> str:
    """A digest of a file's content; of one that cannot be read, of nothing (reading it as a family will tell)."""
    try:
        with path.open("rb") as file:
            raw = file.read(LARGEST)
    except (OSError, ValueError):
        raw = b""
    return sha256(raw.replace(b"\r\n", b"\n")).hexdigest()


def digest_of(words: Iterable[str]) -> str:
    """A digest of some words, short enough to be compared by eye.

    >>> digest_of(["holes"]) == digest_of(["holes"]) != digest_of(["slots"])
    True
    """
    whole = sha256()
    for word in _framed(words):
        whole.update(word)
    return whole.hexdigest()[:6]


def _framed(words: Iterable[str]) -> Iterator[bytes]:
    """Each word with its length, so that no two lists run together into the same letters."""
    for word in words:
        raw = word.encode()
        yield b"%d:" % len(raw) + raw
