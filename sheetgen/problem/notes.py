"""General notes of a question, which say what its pictorial cannot show."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field

import numpy as np

from sheetgen.bank import Variant
from sheetgen.bank.features import Feature
from sheetgen.measures import DRILL_POINT, Measure, drill_points
from sheetgen.measures.measures import number
from sheetgen.problem.cuts import HOLLOW, SLOT, Cut, cuts_of
from sheetgen.solid import Cylinder, Plane, Solid, is_hollow, turns_right_round
from sheetgen.units import FACES_READER, SAME_COSINE

WAYS = ("wide", "deep", "up")
"""Along x, y and z, as the wording's texts are told them."""


@dataclass(frozen=True, slots=True)
class Note:
    """``key``: of the text in the wording's ``notes``; ``values``: what it may show, or choose by."""

    key: str
    values: Mapping[str, str] = field(default_factory=dict)


def worded(variant: Variant) -> tuple[tuple[str, Feature], ...]:
    """The features of a variant, each with its word in the file."""
    words = {spec.name: spec.word for spec in variant.family.features}
    return tuple((words.get(feature.name, ""), feature) for feature in variant.features)


def notes_of(variant: Variant, solid: Solid, measures: Iterable[Measure]) -> tuple[Note, ...]:
    """The general notes that a question needs: the pictorial cannot show the far end of what is cut right through, nor which way
    what opens in a sloping face goes, that rounds have one centre where none may be marked, and the angle of drill points. Of
    holes with a diameter the note at the size tells where they end (``far_ends``)."""
    measures = tuple(measures)
    cuts = cuts_of(worded(variant), solid)
    drilled = (Note("drill_points", {"angle": number(DRILL_POINT)}),) if drill_points(solid) else ()
    return (*_through(cuts, _given_radii(measures)), *_sloping(solid, cuts), *_concentric(solid, measures), *drilled)


def _given_radii(measures: Iterable[Measure]) -> dict[int, float]:
    """The radii that are printed, by surface."""
    return {k: measure.value for measure in measures if measure.kind == "radius" for k in measure.rounds}


def _through(cuts: Iterable[Cut], radii: Mapping[int, float]) -> Iterator[Note]:
    """One note for each sort of cut that runs right through. Hollows of different radii are told apart by them."""
    sorts: dict[tuple[str, str], list[bool]] = defaultdict(list)
    for cut in cuts:
        size = next((f"R{number(radii[k])}" for k in cut.rounds if k in radii), "") if cut.noun == HOLLOW else ""
        if cut.noun:
            sorts[cut.noun, size].append(cut.through)
    if any(len(set(through)) > 1 for through in sorts.values()):
        yield Note("through_cuts")                   # some slots run through and others do not, so no note can say "the slots"
        return
    nouns = Counter(noun for noun, _ in sorts)
    for (noun, size), through in sorts.items():
        if through[0]:
            values = {"several": _several(len(through))}
            yield Note(f"through_{noun}", values | {"size": size if nouns[noun] > 1 else ""} if noun == HOLLOW else values)


def _concentric(solid: Solid, measures: Iterable[Measure]) -> Iterator[Note]:
    """Which of the printed radii, and of the diameters about a hole in a sloping face, have one centre: a pictorial marks the
    centres of rims that lie square to the axes, and of arcs only those that sizes are taken from."""
    signs = {"radius": "R", "diameter": "Ø"}
    printed = {k: (measure.value, signs[measure.kind]) for measure in measures if measure.kind in signs for k in measure.rounds}
    askew = {turned for pair in solid.edges.curves for turned, plane in (pair, pair[::-1]) if _opens_askew(solid, turned, plane)}
    for axis in solid.axis_groups:
        counted = [k for k in axis.surfaces if k in printed and (printed[k][1] == "R" or askew & set(axis.surfaces))]
        *others, last = [f"{sign}{number(size)}" for size, sign in sorted({printed[k] for k in counted})] or [""]
        if others:
            yield Note("concentric", {"one": ", ".join(others), "other": last})


def _sloping(solid: Solid, cuts: Iterable[Cut]) -> Iterator[Note]:
    """Which way a hole, or a slot with a round end, goes that opens in a sloping face: not square to it, as one might think."""
    slots = {name for cut in cuts if cut.noun == SLOT for name in cut.names}
    found: dict[tuple[str, str], set[tuple[int, int]]] = defaultdict(set)
    for pair in solid.edges.curves:
        for turned, plane in (pair, pair[::-1]):
            if _opens_askew(solid, turned, plane):
                hole = turns_right_round(solid, turned)
                way = WAYS[int(np.argmax(np.abs(solid.surfaces[turned].direction)))]    # type: ignore[union-attr]
                if hole or slots & set(solid.features[turned]):
                    found["hole" if hole else SLOT, way].add((turned, plane))
    nouns = Counter(noun for noun, _ in found)
    for (noun, way), mouths in found.items():
        openings = {turned if noun == "hole" else solid.features[turned] for turned, _ in mouths}
        sizes = sorted({solid.surfaces[turned].radius for turned, _ in mouths})        # type: ignore[union-attr]
        size = " / ".join(f"Ø{number(2 * radius)}" for radius in sizes) if noun == "hole" and nouns[noun] > 1 else ""
        values = {"several": _several(len(openings)), "faces": _several(len({plane for _, plane in mouths})), "way": way}
        yield Note(f"sloping_{noun}", values | {"size": size} if noun == "hole" else values)


def _opens_askew(solid: Solid, turned: int, plane: int) -> bool:
    """True if a hollow cylinder along an axis of the part opens in a plane that is not square to it."""
    hollow, face = solid.surfaces[turned], solid.surfaces[plane]
    if not isinstance(hollow, Cylinder) or not isinstance(face, Plane):
        return False
    askew = FACES_READER < abs(float(face.normal @ hollow.direction)) < 1 - FACES_READER
    return askew and float(np.abs(hollow.direction).max()) > 1 - SAME_COSINE and is_hollow(solid, turned)


def _several(count: int) -> str:
    return "yes" if count > 1 else "no"
