"""Each feature as primitives: what is added, or taken away. Open ends reach past the solid made so far."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from sheetgen.bank import features as f
from sheetgen.bank.features import Feature
from sheetgen.geometry import Array
from sheetgen.solid import outlines, turnings
from sheetgen.solid.spans import Operand

_MAKERS: dict[type, Callable[[Any, Array], list[Operand]]] = {
    f.Block: outlines.block,
    f.Profile: outlines.profile,
    f.Hole: turnings.hole,
    f.Cylinder: turnings.cylinder,
    f.Cone: turnings.cone,
    f.Lug: outlines.lug,
    f.Obround: outlines.obround,
    f.Rib: outlines.rib,
    f.Vee: outlines.vee,
    f.Slant: outlines.slant,
    f.Dovetail: outlines.dovetail,
    f.Corner: outlines.corner_cut,
}


def operands_of(feature: Feature, extent: Array) -> list[Operand]:
    """Return the primitives of ``feature``; ``extent`` (2, 3) mm: lowest and highest corner of the solid so far.

    Raises: ValueError with a teacher's reason if the feature has no such shape (an empty span, a radius of 0, ...).
    """
    return _MAKERS[type(feature)](feature, extent)
