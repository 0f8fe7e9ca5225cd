"""What the key decides, all in one place: the seeds of lots, which families a wish takes, where candidates begin in a shared
pool, and codes. The words and their order never change: papers are printed again, and answered, years later."""

from __future__ import annotations

from sheetgen.bank import MOST_SEED
from sheetgen.codes import sealed_code
from sheetgen.sets.papers.secret import Key


def seed_of(key: Key, paper: str, item: int, family: str, index: int, candidate: str = "", spare: int = 0) -> int:
    """The seed at a place in an item's sequence, or in that of a candidate's ``spare``."""
    of = ("spare", candidate, spare) if spare else ("lot",)
    return key.below(MOST_SEED + 1, "seed", paper, item, family, *of, index)


def code_of(
    key: Key, paper: str, item: int, kind: str, family: str, shape: str, index: int, candidate: str, spare: int = 0
) -> str:
    """The code of a candidate's item. It is of this very lot, of a family of this ``shape``: with a record that has another, no
    answer is found, and none is wrong. Two candidates who share a lot have two codes."""
    return sealed_code(key.digest("code", paper, item, kind, family, shape, index, candidate, spare))


def family_turn(key: Key, paper: str, item: int, family: str) -> bytes:
    """By which the families of a wish are put in order."""
    return key.digest("family", paper, item, family)


def shared_turn(key: Key, paper: str, slot: int, place: int, count: int) -> tuple[int, int]:
    """Where in a pool of so many lots the candidate at a place of the list begins, and by what step to go on."""
    return key.below(count, "turn", paper, slot, place), key.below(count, "step", paper, slot, place)
