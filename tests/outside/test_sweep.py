"""A sample of the sweep over thousands of pairs (``tests/bench/sweep.py``): every family once, each in a style of its own.

This is where each family is drawn, proved and read from its finished sheets, with all checks that a single sheet must pass.
"""

from __future__ import annotations

from hashlib import sha256

import pytest

from tests.bench.sweep import STYLES, share_of
from tests.families import FAMILIES

SEED = 2026


def style_of(family: str) -> int:
    """The number of a style, drawn from the name, so that it stays as it is when families are added."""
    return sha256(family.encode()).digest()[0] % len(STYLES)


@pytest.mark.parametrize("family", FAMILIES)
def test_a_pair_of_each_family_is_made_and_read_without_a_defect(family):
    tally = share_of([(family, SEED, style_of(family))], None, None, read=1)
    assert tally.defects == []
    assert tally.refused == {}
