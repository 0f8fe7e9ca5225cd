"""Every family of the bank as it ships, in a few sizes: its solid and views against the independent kernel's.

One test does all views of a variant, so that each solid is built once and workers share the load evenly.
"""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from sheetgen.bank import Variant, load_bank
from sheetgen.projection import view_of
from sheetgen.solid import build
from tests.outside.kernel import VIEWS, compare, compare_hidden, reference_solid

BANK = load_bank()
SEEDS = range(3)
VOLUME = 1e-5
"""Relative: facets stand up to two microns off their cylinder."""


def disagreements(variant: Variant) -> Iterator[str]:
    """What our solid and views of a variant have otherwise than the kernel's, a line each."""
    ours, theirs = build(variant.features), reference_solid(variant.features)
    if abs(ours.volume - theirs.volume) > VOLUME * theirs.volume:
        yield f"volume: {ours.volume:.3f}, by the kernel {theirs.volume:.3f}"
    for name in VIEWS:
        drawn, reference = view_of(ours, name), theirs.views(name)
        seen = compare(drawn.visible, reference[0])
        hidden = compare_hidden((drawn.visible, drawn.hidden), reference)
        for kind, held in (("visible", seen), ("hidden", hidden)):
            if not held.agree:
                yield f"{name}, {kind}: {held}"


@pytest.mark.parametrize("seed", SEEDS)
@pytest.mark.parametrize("name", BANK)
def test_a_family_of_the_bank_fills_the_space_and_shows_and_hides_the_lines_the_kernel_does(name, seed):
    told = list(disagreements(BANK[name].sample(seed)))
    assert not told, "\n".join([name, str(seed), *told])
