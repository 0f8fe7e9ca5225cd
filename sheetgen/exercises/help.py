"""What helps with an exercise on a screen: its construction stage by stage, hints, and lengths by which a drawing is checked."""

from __future__ import annotations

from dataclasses import dataclass

from sheetgen.ink import Mark
from sheetgen.sheet.layout import Layout


@dataclass(frozen=True, eq=False)
class Stage:
    """One stage of a construction: the ``marks`` that it adds to those before, on the sheet of the answer, dashes fitted; what it
    is called, and what is done; ``thin``: the thin lines that are shown with it, and with no other."""

    marks: tuple[Mark, ...]
    heading: str
    sentences: tuple[str, ...]
    thin: tuple[Mark, ...] = ()


@dataclass(frozen=True, slots=True)
class Length:
    """A length that whoever has drawn the answer can measure on it: ``where`` in words, ``value`` in mm on the paper."""

    where: str
    value: float


@dataclass(frozen=True, eq=False)
class Help:
    """``task``: what is asked, line by line, as the question has it; ``stages`` in their order; ``hints``, each some sentences
    that tell more than the one before; ``lengths`` to be measured; ``layout``: of the answer's views. What a kind has not is left
    empty."""

    task: tuple[str, ...] = ()
    stages: tuple[Stage, ...] = ()
    hints: tuple[tuple[str, ...], ...] = ()
    lengths: tuple[Length, ...] = ()
    layout: Layout | None = None


NO_HELP = Help()
"""Of a kind that has none."""
