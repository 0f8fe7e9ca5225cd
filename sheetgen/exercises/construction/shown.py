"""The stages of a construction as a page for practice shows them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Protocol

from sheetgen.exercises.construction.texts import Told
from sheetgen.exercises.help import Stage
from sheetgen.ink import Mark, dashed


class Drawn(Told, Protocol):
    """A stage, as far as its words and what it adds go."""

    @property
    def new(self) -> tuple[Mark, ...]:
        """What it draws, in the answer's own pens, not yet dashed."""


def shown(stages: Sequence[Drawn], thin: Iterable[Sequence[Mark]], given: Sequence[Mark] = ()) -> tuple[Stage, ...]:
    """Each stage with the ``thin`` lines that go with it; what is ``given`` stands there from the first."""
    return tuple(
        Stage(tuple(dashed([*(() if number else given), *stage.new])), stage.heading, stage.sentences, tuple(lines))
        for number, (stage, lines) in enumerate(zip(stages, thin, strict=True)))
