"""Exercises put aside as they are made: in a folder, so that memory stays flat as a set grows, and that a set whose making was
stopped can be gone on with. It holds plain data, because the folder may be one that strangers write to.

Of the exercise 7 ``7-question.pages`` and the like hold the sheets of a role, and ``7.made``, written last, the rest.
"""

from __future__ import annotations

import json
import zlib
from collections.abc import Mapping
from dataclasses import dataclass, field
from hashlib import sha256
from pathlib import Path
from typing import Any

from sheetgen.exercises import Role, Sheets
from sheetgen.ink import Page, page_of_text, page_text
from sheetgen.sets.together import write_whole
from sheetgen.sets.trouble import system_told


@dataclass(frozen=True, eq=False)
class Made:
    """A finished exercise, with what the documents say of it. ``refused``: how many earlier draws of the seed were; ``marked``:
    for how many blemishes a strict reader would send its pages back, where that is counted; ``told``: what else its set is to
    know of it, as plain data."""

    code: str
    title: str
    topics: tuple[str, ...]
    sheets: Sheets
    refused: int
    marked: int = 0
    told: Mapping[str, Any] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Kept:
    """What is known of an exercise on the shelf; ``counts``: its sheets of each role; the rest as of ``Made``."""

    code: str
    title: str
    topics: tuple[str, ...]
    counts: Mapping[Role, int]
    refused: int
    marked: int = 0
    told: Mapping[str, Any] = field(default_factory=dict)


class Shelf:
    """The exercises in ``folder`` by their numbers."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder

    def put(self, number: int, made: Made) -> Kept:
        """Put an exercise on the shelf. Raises: FolderError if there is no room."""
        sums: dict[str, str] = {}
        with system_told(self.folder.parent):
            for role, pages in made.sheets.items():
                packed = zlib.compress("\n".join(map(page_text, pages)).encode(), 1)
                sums[role.value] = _sum(packed)
                write_whole(self._place(number, role), packed)
            counts = {role: len(pages) for role, pages in made.sheets.items()}
            kept = Kept(made.code, made.title, made.topics, counts, made.refused, made.marked, made.told)
            said = {"code": kept.code, "title": kept.title, "topics": kept.topics, "counts": kept.counts, "refused": kept.refused,
                    "marked": kept.marked, "told": kept.told, "sums": sums}
            write_whole(self._card(number), json.dumps(said).encode())
        return kept

    def get(self, number: int) -> Kept | None:
        """What is known of an exercise; None if it is not here, or not whole."""
        try:
            said = json.loads(self._card(number).read_bytes())
            counts = {Role(role): int(count) for role, count in said["counts"].items()}
            whole = all(_sum(self._place(number, role).read_bytes()) == said["sums"][role.value] for role in counts)
            kept = Kept(str(said["code"]), str(said["title"]), tuple(map(str, said["topics"])), counts, int(said["refused"]),
                        int(said["marked"]), dict(said["told"]))
        except (FileNotFoundError, ValueError, KeyError, TypeError, AttributeError):
            return None                                # made again, which comes to the same
        return kept if whole else None

    def sheets(self, number: int, role: Role) -> list[Page]:
        """The sheets of a role of one exercise."""
        with system_told(self.folder.parent):
            text = zlib.decompress(self._place(number, role).read_bytes()).decode()
        return [page_of_text(line) for line in text.split("\n")]

    def _place(self, number: int, role: Role) -> Path:
        return self.folder / f"{number}-{role.value}.pages"

    def _card(self, number: int) -> Path:
        return self.folder / f"{number}.made"


def _sum(packed: bytes) -> str:
    return sha256(packed).hexdigest()
