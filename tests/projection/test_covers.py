"""Which facets a segment is held against: however boxes are tried, the same lines are hidden."""

from __future__ import annotations

import numpy as np
import pytest

from sheetgen.bank import load_bank
from sheetgen.projection import covers, view_of
from sheetgen.solid import build


@pytest.mark.parametrize("family", ["stepped-block", "pipe-saddle", "flanged-foot"])
@pytest.mark.parametrize("name", ["front", "top", "isometric"])
def test_boxes_tried_one_and_all_or_in_blocks_hide_the_same(family, name, monkeypatch):
    solid = build(load_bank()[family].sample(3).features)
    found = []
    for few in (0, 10**9):
        monkeypatch.setattr(covers, "FEW", few)
        stretches = view_of(solid, name).stretches
        found.append(np.stack([stretches.edge, stretches.start, stretches.stop, stretches.seen]))
    assert np.array_equal(*found)
