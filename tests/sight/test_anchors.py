"""Where the ends of a measure show: edges along which a dimension line can be moved."""

from __future__ import annotations

from sheetgen.bank.features import Block
from sheetgen.measures import measures_of
from sheetgen.projection import view_of
from sheetgen.sight import Sight
from sheetgen.solid import build
from tests.parts import outer

BLOCK = (Block("base", False, (0, 60), (0, 40), (0, 15)),)


def rails(along):
    """Of left and right of a block in its isometric, the seen edges along an axis."""
    solid = build(BLOCK)
    width = measures_of(solid, outer())[0]
    return Sight(view_of(solid, "isometric")).rails([(end, 0) for end in width.ends], along)


def test_of_the_side_that_is_seen_all_edges_show_and_of_the_other_those_of_the_faces_it_shares():
    levels = [sorted(low for _, low, _ in edges) for edges in rails(1)]
    assert sorted(map(len, levels)) == [1, 2]                         # along the depth: on top for both, below for one
    assert all(low == 0.0 for edges in levels for low in edges)
    assert sorted(map(len, rails(2))) == [1, 2]                       # up: in front for both, behind for one


def test_no_edge_of_an_end_runs_along_the_way_it_measures():
    assert rails(0) == [[], []]


def test_an_edge_tells_a_point_on_it_and_how_far_it_runs():
    [(point, low, high)] = min(rails(2), key=len)
    assert (low, high) == (0.0, 15.0)
    assert point[1] == 0.0 and point[0] in (0.0, 60.0)
