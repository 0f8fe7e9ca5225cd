"""A sheet of the kind ``match`` as records: what stands on it, what is asked, what is right. Sheet millimetres."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from sheetgen.ink import Mark, Pen, Stroke, Text, circle
from sheetgen.sight import PlacedView

LETTERS = "ABCD"

LABEL, RING = 5.0, 4.4
"""mm: height of the letters and numbers that are chosen among; radius of the ring round a right one."""

GIVEN = 3.5
"""mm, height of what is filled in."""


@dataclass(frozen=True, eq=False)
class Slot:
    """What is to be filled in: its ``name``, where its text stands (2,), and what is ``right``."""

    name: str
    at: tuple[float, float]
    right: str


@dataclass(frozen=True, eq=False)
class Asked:
    """What all sheets share. ``scale_name``: of the views; ``drawing``, ``text``: marks of all sheets; ``slots``: to be filled
    in; ``rings``: places of right letters; ``reasons``: why what is wrong is wrong, a sentence each; ``first_hint``: how to look,
    ``further``: two hints that tell more; ``below``: from where down, ``floor``: down to where, and ``width``: how wide
    reasons may stand; ``placed``: the candidates, each with its views, in their order; ``pictorials``: in theirs."""

    scale_name: str
    drawing: tuple[Mark, ...]
    text: tuple[Mark, ...]
    slots: tuple[Slot, ...]
    rings: tuple[tuple[float, float], ...]
    reasons: tuple[str, ...]
    first_hint: tuple[str, ...]
    further: tuple[tuple[str, ...], ...]
    below: tuple[float, float]
    floor: float
    width: float
    placed: tuple[tuple[PlacedView, ...], ...]
    pictorials: tuple[PlacedView, ...]


def label(words: str, at: tuple[float, float]) -> Text:
    """A letter or number with its middle there."""
    return Text(words, (at[0], at[1] - LABEL / 2), LABEL, anchor="middle")


def ring(at: tuple[float, float]) -> Mark:
    """A ring round a label."""
    return circle(at, RING, Pen.DIMENSION)


def blank(slot: Slot, width: float) -> Mark:
    """The line on which an answer is written."""
    x, y = slot.at
    return Stroke(np.array([(x - width / 2, y - 1.2), (x + width / 2, y - 1.2)]), Pen.TABLE)
