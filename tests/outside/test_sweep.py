"""A sample of the sweep over thousands of pairs (``tests/bench/sweep.py``): every family once, each in another style."""

from __future__ import annotations

import pytest

from tests.bench.sweep import STYLES, share_of
from tests.outside.sheets import FAMILIES

SEED = 2026


@pytest.mark.parametrize(("family", "style"), [(family, k % len(STYLES)) for k, family in enumerate(FAMILIES)])
def test_a_pair_of_each_family_is_made_without_a_defect(family, style):
    tally = share_of([(family, SEED, style)], None, None, read=1)
    assert tally.defects == []
    assert tally.refused == {}
