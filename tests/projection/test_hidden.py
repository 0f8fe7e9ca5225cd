"""Seen and hidden stretches of an edge take turns from its one end to the other."""

import numpy as np
import pytest

from sheetgen.projection import view_of
from sheetgen.solid import build
from tests.outside.bodies import BODIES, GOLDEN


@pytest.mark.parametrize("name", [*GOLDEN, *BODIES])
@pytest.mark.parametrize("view", ["front", "top", "isometric"])
def test_the_stretches_of_an_edge_cover_it_once_and_the_hidden_ones_are_parted_by_seen_ones(name, view):
    stretches = view_of(build({**GOLDEN, **BODIES}[name]), view).stretches
    for edge in np.unique(stretches.edge):
        mine = np.flatnonzero(stretches.edge == edge)
        mine = mine[np.argsort(stretches.start[mine])]
        start, stop, seen = stretches.start[mine], stretches.stop[mine], stretches.seen[mine]
        assert start[0] == 0.0
        assert stop[-1] == 1.0
        assert (start[1:] == stop[:-1]).all()
        assert (seen[1:] != seen[:-1]).all()
