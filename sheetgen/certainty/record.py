"""What was found out: whether there is one answer, and what else would be."""

from __future__ import annotations

from dataclasses import dataclass

from sheetgen.certainty.assumptions import Assumption
from sheetgen.certainty.grid import Grid
from sheetgen.certainty.prisms import Prism


@dataclass(frozen=True, eq=False)
class Certainty:
    """``certain``: exactly one answer fits what is given, proved among all parts of which ``assuming`` is true. ``count``: the
    different answers that were found, the part's own among them, at most the limit. ``others``: for each answer but the part's
    own, a part that fits what is given and has it, with its surface as a mesh: ``vertices`` and ``triangles``.
    ``complete``: these are all that there are, proved."""

    certain: bool
    count: int
    assuming: Assumption
    others: tuple[Grid | Prism, ...]
    complete: bool
