"""Orders that hang on a problem and nothing else: the same on every machine and in every version of the language."""

from __future__ import annotations

from collections.abc import Iterable
from hashlib import sha256
from typing import TypeVar

from sheetgen.problem import Problem

T = TypeVar("T")


def number_of(problem: Problem, what: str, count: int) -> int:
    """A number from 0 to ``count`` - 1 for one question ``what`` about a problem."""
    return int.from_bytes(_digest(problem, what)[:8], "big") % count


def shuffled(problem: Problem, what: str, things: Iterable[T]) -> list[T]:
    """Things in an order that the problem decides, for one question ``what`` about it."""
    ordered = sorted(enumerate(things), key=lambda each: (_digest(problem, f"{what}/{each[0]}"), each[0]))
    return [thing for _, thing in ordered]


def _digest(problem: Problem, what: str) -> bytes:
    return sha256(f"{problem.identity}/{what}".encode()).digest()
