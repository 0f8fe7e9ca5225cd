"""A sample of the sweep over thousands of pairs (``tests/bench/sweep.py``): a fifth of the families, each in a style of its own.

This is where they are drawn, proved and read from their finished sheets, with all checks that a single sheet must pass.
"""

from __future__ import annotations

from hashlib import sha256

from tests.bench.sweep import STYLES, share_of
from tests.families import FAMILIES, sample

SEED = 2026

SOME = sample("sweep")
"""Families that are read in every run; a family that ``-k`` names is read too, and the benchmarks read all."""


def pytest_generate_tests(metafunc):
    if "family" in metafunc.fixturenames:
        metafunc.parametrize("family", FAMILIES if metafunc.config.option.keyword else SOME)


def style_of(family: str) -> int:
    """The number of a style, drawn from the name, so that it stays as it is when families are added."""
    return sha256(family.encode()).digest()[0] % len(STYLES)


def test_a_pair_of_a_family_is_made_and_read_without_a_defect(family):
    tally = share_of([(family, SEED, style_of(family))], None, None, read=1)
    assert tally.defects == []
    assert tally.refused == {}
