"""Other answers held against an independent kernel: each has the given views of the part, and another asked view."""

from __future__ import annotations

import numpy as np
import pytest

from sheetgen.bank import load_bank
from sheetgen.bank.features import Block
from sheetgen.certainty import Assumption, certainty, views_given
from sheetgen.certainty.assumptions import UPRIGHT
from sheetgen.certainty.grid import is_square
from sheetgen.certainty.prisms import prism_of
from sheetgen.problem import solid_of
from sheetgen.refusals import RefusedError
from sheetgen.solid import Cylinder, Plane, build
from tests.certainty import halved
from tests.outside import planted_pairs
from tests.outside.kernel import compare, compare_hidden, reference_solid

EXACT = 1e-4

OPEN_QUESTIONS = [("stepped-bridge", 1, "front", 18), ("stepped-bridge", 2, "front", 4), ("stepped-bridge", 3, "front", 2),
                  ("stepped-bridge", 1, "top", 3), ("cross-block", 1, "right", 2), ("cross-block", 3, "right", 2)]


def alike(one, other):
    """Two drawings (visible, hidden) are the same."""
    return compare(one[0], other[0], EXACT).agree and compare_hidden(one, other, EXACT).agree


@pytest.mark.parametrize(("family", "seed", "missing", "count"), OPEN_QUESTIONS)
def test_another_answer_has_the_given_views_and_another_asked_one(family, seed, missing, count):
    variant = load_bank()[family].sample(seed)
    found = certainty(solid_of(variant), "third-view", missing)
    assert found.count == count and len(found.others) == count - 1 and not found.certain
    part = reference_solid(variant.features)
    answers = [part.views(missing)]
    for other in found.others[:5]:
        body = reference_solid([Block("box", False, *map(tuple, box.T.tolist())) for box in other.boxes])
        assert body.volume == pytest.approx(other.volume)
        for view in {"front", "top", "right"} - {missing}:
            assert alike(body.views(view), part.views(view))
        answers.append(body.views(missing))
        assert not any(alike(answers[-1], before) for before in answers[:-1])


@pytest.mark.parametrize("asked", planted_pairs.LAID)
@pytest.mark.parametrize("pair", planted_pairs.PAIRS)
def test_of_a_planted_pair_the_other_is_found_or_nothing_is_called_certain_that_the_sheet_does_not_say(pair, asked):
    given = planted_pairs.LAID[asked]
    bodies = [planted_pairs.features(body, asked) for body in planted_pairs.PAIRS[pair]]
    references = [reference_solid(body) for body in bodies]
    for view in given:
        assert alike(references[0].views(view), references[1].views(view))
    assert not alike(references[0].views(asked), references[1].views(asked))
    solids = [build(body) for body in bodies]
    for own, other in (solids, solids[::-1]):
        try:
            found = views_given(own, given, asked, 50)
        except RefusedError:
            continue
        assert not found.certain or not true_of(found.assuming, other)


def true_of(assuming, solid):
    """True if what the sheet says is true of a part."""
    if assuming.bored:                              # then a hole about a centre line is round
        return any(isinstance(surface, Cylinder) for surface in solid.surfaces)
    if assuming is Assumption.SQUARE:
        return all(isinstance(surface, Plane) and surface.axis is not None for surface in solid.surfaces)
    axis = UPRIGHT.index(assuming)
    return all(
        (surface.axis is not None or abs(surface.normal[axis]) < 1e-9) if isinstance(surface, Plane)
        else isinstance(surface, Cylinder) and abs(surface.direction[axis]) > 1 - 1e-9
        for surface in solid.surfaces)


def test_a_part_with_slopes_in_the_given_plan_and_its_other_answers_look_alike_to_the_kernel():
    """Of squares halved by a diagonal, seen from above and from the front: up to nine answers."""
    slopes, several = np.array([[1, -1]]), 0
    draws = np.random.default_rng(8).random((4000, 1, 2, 2, 3)) < 0.6
    for part in (part for part in draws if halved.is_a_part(part, slopes)):
        solid = halved.solid_of(part, slopes)
        found = None if is_square(solid) else views_given(solid, ("top", "front"), "right", 50)
        if found is None or found.certain:
            continue
        assert found.assuming is Assumption.UPRIGHT_IN_TOP
        own = reference_of(solid)
        for other in found.others:
            body = reference_solid(other.features)
            assert body.volume == pytest.approx(other.solid.volume)
            assert all(alike(body.views(view), own[view]) for view in ("top", "front"))
            assert not alike(body.views("right"), own["right"])
        several += 1
        if several == 6:
            break
    assert several == 6


def reference_of(solid):
    """The kernel's views of a part on halved squares, by the cells that the program fills."""
    body = reference_solid(prism_of(solid, 2).features)
    assert body.volume == pytest.approx(solid.volume)
    return {view: body.views(view) for view in ("top", "front", "right")}
