"""What helps with an exercise on a screen: its construction stage by stage, hints, and lengths by which a drawing is checked."""

from __future__ import annotations

from dataclasses import dataclass

from sheetgen.ink import Mark


@dataclass(frozen=True, eq=False)
class Stage:
    """One stage of a construction: the ``marks`` that it adds to those before, on the sheet of the answer, and what is done."""

    marks: tuple[Mark, ...]
    sentences: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Length:
    """A length that whoever has drawn the answer can measure on it: ``where`` in words, ``value`` in mm on the paper."""

    where: str
    value: float


@dataclass(frozen=True, eq=False)
class Help:
    """``stages`` in their order; ``hints``, each telling more than the one before; ``lengths`` to be measured. A kind that has
    nothing of a sort leaves it empty."""

    stages: tuple[Stage, ...] = ()
    hints: tuple[str, ...] = ()
    lengths: tuple[Length, ...] = ()


NO_HELP = Help()
"""Of a kind that has none."""
