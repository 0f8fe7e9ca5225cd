"""What question and answer of the kind ``views`` have in common: the views asked for, and the pictorial they are asked from."""

from __future__ import annotations

from dataclasses import dataclass

from sheetgen.exercises.column import Column
from sheetgen.exercises.drawing import Drawing
from sheetgen.exercises.picture import Picture


@dataclass(frozen=True, eq=False)
class Task:
    """The views with their sizes, the pictorial with its sizes, and the text beside it."""

    drawing: Drawing
    picture: Picture
    column: Column
