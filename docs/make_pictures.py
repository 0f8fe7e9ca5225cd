"""Draw the pictures of the guide again: `python docs/make_pictures.py [DIR]`, from the family files in docs/steps.

The pictures show one block as it grows: the sizes are those of one variant of the last step. Step 6 shows the other choice of
fixing, and step 7 looks like step 5 or step 6.
"""

from __future__ import annotations

import sys
from collections.abc import Mapping
from pathlib import Path

from sheetgen.bank import Family, load_family
from sheetgen.exercises.contact import picture
from sheetgen.ink import Page, write_svg
from sheetgen.problem import problem_of

DOCS = Path(__file__).resolve().parent
SEED = 1
PICTURED = 6
"""Steps that have a picture."""

WIDE, HIGH, MARGIN = 90.0, 70.0, 3.0
"""mm of a picture."""


def steps() -> list[Family]:
    """The family of the guide after each step, in order."""
    return [load_family(path) for path in sorted((DOCS / "steps").glob("step-*.yaml"))]


def pictorial(family: Family, sizes: Mapping[str, float | str]) -> Page:
    """The pictorial of a family with those of the sizes that it has."""
    variant = family.variant({name: sizes[name] for name in family.size_names})
    view = problem_of(variant).pictorial
    return Page(WIDE, HIGH, picture(view, (MARGIN, MARGIN, WIDE - MARGIN, HIGH - MARGIN)))


def make(folder: Path) -> list[Path]:
    """Write a picture of each step into ``folder``."""
    families = steps()
    sizes = {**families[-1].sample(SEED).sizes, "fixing": "slot"}
    families = families[:PICTURED]
    places = [folder / f"{family.name}.svg" for family in families]
    for family, place in zip(families, places, strict=True):
        with place.open("w", encoding="utf-8", newline="\n") as file:
            write_svg(pictorial(family, sizes), file)
    return places


if __name__ == "__main__":
    make(Path(sys.argv[1]) if len(sys.argv) > 1 else DOCS / "pictures")
