"""Why a variant is not printed: reasons as records, so that like ones can be counted without reading them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True, order=True)
class Reason:
    """``what`` in trade words, the same for every variant that is refused for it; ``where``: the place in this one.

    >>> str(Reason("edges that are apart fall on one line", "at x 4, y 0, z 12"))
    'edges that are apart fall on one line (at x 4, y 0, z 12)'
    """

    what: str
    where: str = ""

    def __str__(self) -> str:
        return f"{self.what} ({self.where})" if self.where else self.what


class RefusedError(Exception):
    """This variant cannot be printed so that it would be right; another seed may do. ``reasons``: each once."""

    reasons: tuple[Reason, ...]

    def __init__(self, reasons: Iterable[Reason]) -> None:
        self.reasons = tuple(dict.fromkeys(reasons))
        super().__init__(self.reasons)          # whole, so that it can travel between processes

    def __str__(self) -> str:
        return "; ".join(map(str, self.reasons))


class UnsuitedError(RefusedError):
    """The part has a shape with which nothing can be done here, whatever its sizes: hardly another seed of its family will do."""
