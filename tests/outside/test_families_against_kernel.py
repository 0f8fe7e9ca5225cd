"""Every family of the bank as it ships: its solid and views against the independent kernel's.

One test does all views of a variant, so that each solid is built once. The kernel takes seconds for some: of most families it
draws the views that are printed, and all six and another size only of a sample.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

import pytest

from sheetgen.bank import Variant, load_bank
from sheetgen.projection import view_of
from sheetgen.solid import build
from tests.families import sample
from tests.outside.kernel import VIEWS, compare, compare_hidden, reference_solid

BANK = load_bank()
PRINTED = ("front", "top", "left", "isometric")
VOLUME = 1e-5
"""Relative: facets stand up to two microns off their cylinder."""


def disagreements(variant: Variant, views: Iterable[str]) -> Iterator[str]:
    """What our solid and views of a variant have otherwise than the kernel's, a line each."""
    ours, theirs = build(variant.features), reference_solid(variant.features)
    if abs(ours.volume - theirs.volume) > VOLUME * theirs.volume:
        yield f"volume: {ours.volume:.3f}, by the kernel {theirs.volume:.3f}"
    for name in views:
        drawn, reference = view_of(ours, name), theirs.views(name)
        seen = compare(drawn.visible, reference[0])
        hidden = compare_hidden((drawn.visible, drawn.hidden), reference)
        for kind, held in (("visible", seen), ("hidden", hidden)):
            if not held.agree:
                yield f"{name}, {kind}: {held}"


@pytest.mark.parametrize("name", BANK)
def test_a_family_of_the_bank_fills_the_space_and_shows_and_hides_the_lines_the_kernel_does(name):
    told = list(disagreements(BANK[name].sample(0), PRINTED))
    assert not told, "\n".join([name, *told])


@pytest.mark.parametrize("name", sample("kernel"))
def test_so_it_does_in_every_view_and_in_other_sizes(name):
    told = list(disagreements(BANK[name].sample(1), VIEWS))
    assert not told, "\n".join([name, *told])
