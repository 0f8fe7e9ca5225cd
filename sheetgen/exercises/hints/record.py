"""What a hint sheet tells of one problem, in the words of a course's wording; where it stands on paper is another matter."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

Span = tuple[int, float, float]
"""Along an axis of the part, 0, 1 or 2, from one level to a higher one, mm."""

Sentences = tuple[str, ...]
"""Whole sentences, the most needed first."""


def span_of(axis: int, one: float, other: float) -> Span:
    """That between two levels.

    >>> span_of(2, 40.0, 12.0004)
    (2, 12.0, 40.0)
    """
    return axis, round(min(one, other), 3), round(max(one, other), 3)


@dataclass(frozen=True, slots=True)
class Length:
    """A length to be measured on one's own drawing of the ``view``: ``words`` tell from what to what; ``value``: mm of the part;
    ``paper``: mm on the paper, at the scale asked for. It is measured across the view (``way`` 0) or up (1), between two
    ``levels`` there, mm of the view; or it is that of the view's slanting lines (``way`` None)."""

    view: str
    words: str
    value: float
    paper: float
    way: int | None
    levels: tuple[float, float] = (0.0, 0.0)


@dataclass(frozen=True, slots=True)
class ViewCheck:
    """What can be counted and measured of a whole ``view``: its lines by sort, and how wide and high it is:
    ``size``, mm of the part, and ``paper``, mm on the paper."""

    view: str
    counts: Mapping[str, int]
    size: tuple[float, float]
    paper: tuple[float, float]

    @property
    def lines(self) -> int:
        """All its lines."""
        return sum(self.counts.values())


@dataclass(frozen=True, slots=True)
class Hints:
    """Three hints, each telling more than the one before: what to look for, how to begin, and a line that is easily missed; and
    what to check one's own drawing by: ``views`` in the order in which they are asked for, and five ``lengths``. ``scale``: the
    scale asked for, as it is printed; ``heading``: the text that heads the third hint, where that tells of no line."""

    look: Sentences
    begin: Sentences
    missed: Sentences
    views: tuple[ViewCheck, ...]
    lengths: tuple[Length, ...]
    scale: str
    heading: str = "hints.missed"
