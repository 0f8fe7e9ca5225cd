"""Other answers held against an independent kernel: each has the given views of the part, and another asked view."""

from __future__ import annotations

import pytest

from sheetgen.bank import load_bank
from sheetgen.bank.features import Block
from sheetgen.certainty import certainty
from sheetgen.problem import solid_of
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
