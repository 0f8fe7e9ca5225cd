"""Five golden solids, every line of every view worked by hand; and richer bodies whose linework is kept as text.

The lists of S1, S2, S4 and S5 stand in ``outside/golden.py``, where the outside kernel is held against them as well. View
coordinates: front (x, z), top (x, y), right (y, z), left (D - y, z). All by the rules of projection; no outside source.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from sheetgen.projection import Arc, Shape, Straight, View, view_of
from sheetgen.solid import build
from tests.golden.linework import assert_same_lines
from tests.outside import golden
from tests.outside.bodies import BODIES, GOLDEN
from tests.parts import BRACKET
from tests.solid.brep import shell_of

EXACT = 1e-6


def view(name: str, direction: str) -> View:
    return view_of(build(GOLDEN[name]), direction)


def ends(shapes: tuple[Shape, ...]) -> list[tuple[float, ...]]:
    """Straight lines as sorted rows: both ends, the lower left first."""
    rows = []
    for shape in shapes:
        assert isinstance(shape, Straight), "a curve in a view that has none"
        low, high = sorted((shape.p.tolist(), shape.q.tolist()))
        rows.append((*low, *high))
    return sorted(rows)


def by_hand(segments) -> list[tuple[float, ...]]:
    return sorted(tuple(map(float, (*min(s[:2], s[2:]), *max(s[:2], s[2:])))) for s in segments)


def isometric(*point: float) -> tuple[float, float]:
    """Where a point of the part falls: u = (x + y) cos 30, v = (y - x) / 2 + z."""
    x, y, z = point
    return ((x + y) * math.sqrt(3) / 2, (y - x) / 2 + z)


def drawn(lines: tuple[Shape, ...], *edge: tuple[float, float, float]) -> bool:
    """True if the edge between two points of the part is drawn whole, by itself or as a stretch of one line."""
    p, q = (np.array(isometric(*point)) for point in edge)
    for line in lines:
        if isinstance(line, Straight):
            unit = (line.q - line.p) / line.length
            away = np.stack([p, q]) - line.p
            along, off = away @ unit, np.abs(away @ np.array([-unit[1], unit[0]])).max()
            if off < EXACT and along.min() > -EXACT and along.max() < line.length + EXACT:
                return True
    return False


@pytest.mark.parametrize(("name", "direction"), [key for key in golden.LINEWORK if key[0] != "S3"])
def test_a_view_has_exactly_the_lines_worked_by_hand(name, direction):
    visible, hidden = golden.LINEWORK[name, direction]
    seen = view(name, direction)
    assert np.array(ends(seen.visible_lines)) == pytest.approx(np.array(by_hand(visible)), abs=EXACT)
    assert np.array(ends(seen.hidden_lines)).reshape(-1, 4) == pytest.approx(np.array(by_hand(hidden)).reshape(-1, 4), abs=EXACT)
    assert seen.centre_lines == ()


@pytest.mark.parametrize("direction", ["front", "right", "left", "rear"])
def test_the_counterbored_plate_shows_its_bore_hidden_from_every_side(direction):
    visible, hidden = golden.LINEWORK["S3", direction]
    seen = view("S3", direction)
    assert np.array(ends(seen.visible_lines)) == pytest.approx(np.array(by_hand(visible)), abs=EXACT)
    assert np.array(ends(seen.hidden_lines)) == pytest.approx(np.array(by_hand(hidden)), abs=EXACT)


@pytest.mark.parametrize("direction", ["front", "right", "left"])
def test_the_counterbored_plate_has_its_axis_as_one_centre_line_past_both_ends(direction):
    [axis] = view("S3", direction).centre_lines
    low, high = sorted((axis.p.tolist(), axis.q.tolist()), key=lambda point: point[1])
    assert (low[0], high[0]) == pytest.approx((25, 25), abs=EXACT)
    assert -6 <= low[1] <= -3 and 33 <= high[1] <= 36       # past the outline by 3 to 6 (print-reading textbook p. 20)


def test_from_above_the_counterbored_plate_shows_two_full_circles_and_hides_nothing():
    seen = view("S3", "top")
    rings = [shape for shape in seen.visible_lines if isinstance(shape, Arc)]
    square = [shape for shape in seen.visible_lines if isinstance(shape, Straight)]
    assert seen.hidden_lines == ()      # the rims at z = 20 and z = 0 fall on one circle
    assert np.array(ends(tuple(square))) == pytest.approx(np.array(by_hand(golden.rectangle(50, 50))), abs=EXACT)
    assert all(ring.closed for ring in rings)
    assert sorted(float(np.linalg.norm(ring.a)) for ring in rings) == pytest.approx([10, 15], abs=EXACT)
    assert [ring.centre.tolist() for ring in rings] == [pytest.approx([25, 25], abs=EXACT)] * 2


def test_from_above_the_bore_has_crossed_centre_lines_past_the_counterbore():
    level, upright = sorted(view("S3", "top").centre_lines, key=lambda line: abs(line.p[0] - line.q[0]), reverse=True)
    assert (level.p[1], level.q[1]) == pytest.approx((25, 25), abs=EXACT)
    assert (upright.p[0], upright.q[0]) == pytest.approx((25, 25), abs=EXACT)
    assert 30 + 6 <= level.length <= 30 + 12
    assert 30 + 6 <= upright.length <= 30 + 12


def test_the_counterbores_rim_is_an_ellipse_in_the_isometric_and_its_centre_lies_at_43_301_and_30():
    rings = [shape for shape in view("S3", "isometric").visible_lines if isinstance(shape, Arc)]
    [rim] = [ring for ring in rings if ring.closed]
    assert (2 * np.linalg.norm(rim.a), 2 * np.linalg.norm(rim.b)) == pytest.approx((36.7423461, 21.2132034), abs=EXACT)
    assert rim.centre == pytest.approx([43.3012702, 30], abs=EXACT)
    assert abs(rim.a[1]) < EXACT, "the long axis is level"


# how many edges the isometric shows whole, hides whole, and shows in part
@pytest.mark.parametrize(("name", "visible", "hidden", "part"), [("S1", 24, 5, 1), ("S2", 25, 12, 2), ("S5", 12, 3, 0)])
def test_the_isometric_shows_as_many_edges_as_counted(name, visible, hidden, part):
    solid = build(GOLDEN[name])
    seen = view_of(solid, "isometric")
    shares = [seen_share(seen, edge) for edge in shell_of(solid).edges]
    whole, none = sum(share > 1 - 1e-4 for share in shares), sum(share < 1e-4 for share in shares)
    assert (whole, none, len(shares) - whole - none) == (visible, hidden, part)


def seen_share(seen: View, edge: tuple[int, ...]) -> float:
    """How much of an edge of the solid a view shows, 0 to 1; ``edge``: the mesh edges it is made of."""
    length = np.linalg.norm(np.diff(seen.solid.vertices[seen.solid.edges.ends], axis=1)[:, 0], axis=1)
    mine = np.isin(seen.stretches.edge, edge)
    stretches = (seen.stretches.stop - seen.stretches.start) * length[seen.stretches.edge]
    return float(stretches[mine & seen.stretches.seen].sum() / length[list(edge)].sum())


# edges seen in part: from where, to the limit, and on to where they are hidden
@pytest.mark.parametrize(("name", "seen_from", "limit", "hidden_to"), [
    ("S1", (40, 28, 0), (40, 27, 0), (40, 12, 0)),
    ("S2", (60, 26, 0), (50, 26, 0), (0, 26, 0)),
    ("S2", (8, 40, 30), (10, 40, 30), (20, 40, 30)),
    ("S4", (22, 20, 50), (22, 20, 20), (22, 20, 10)),
    ("S4", (22, 40, 50), (22, 40, 34), (22, 40, 10)),
    ("S4", (22, 36, 10), (22, 30, 10), (22, 20, 10)),
    ("S4", (22, 30, 10), (22, 36, 10), (22, 40, 10)),
    ("S4", (38, 20, 50), (38, 20, 20), (38, 20, 10)),
])
def test_a_partly_hidden_edge_goes_out_of_sight_where_worked(name, seen_from, limit, hidden_to):
    lines = view(name, "isometric")
    step = np.subtract(hidden_to, limit) / np.linalg.norm(np.subtract(hidden_to, limit)) / 1000
    assert drawn(lines.visible_lines, seen_from, limit)
    assert drawn(lines.hidden_lines, limit, hidden_to)
    assert not drawn(lines.visible_lines, seen_from, tuple(limit + step)), "it shows a thousandth of a millimetre too much"


@pytest.mark.parametrize(("direction", "line", "length"), [
    ("front", ((20, 40), (40, 10)), 36.0555), ("top", ((20, 0), (40, 24)), 31.2410), ("right", ((0, 10), (24, 40)), 38.4187)])
def test_each_side_of_the_oblique_cut_is_true_in_the_view_that_faces_it(direction, line, length):
    [cut] = [shape for shape in view("S5", direction).visible_lines
             if isinstance(shape, Straight) and abs(shape.p[0] - shape.q[0]) > 1 < abs(shape.p[1] - shape.q[1])]
    assert sorted((cut.p.tolist(), cut.q.tolist())) == [pytest.approx(line[0], abs=EXACT), pytest.approx(line[1], abs=EXACT)]
    assert cut.length == pytest.approx(length, abs=1e-4)


def test_the_sloping_edges_of_the_wedge_are_41_569_long_on_the_isometric_for_33_941():
    assert drawn(view("S2", "isometric").visible_lines, (36, 0, 40), (60, 0, 16))
    front = [shape.length for shape in view("S2", "front").visible_lines if isinstance(shape, Straight)]
    assert any(length == pytest.approx(33.9411255, abs=EXACT) for length in front)
    slope = [shape.length for shape in view("S2", "isometric").visible_lines if isinstance(shape, Straight)]
    assert sum(length == pytest.approx(41.5692194, abs=EXACT) for length in slope) == 2


@pytest.mark.parametrize("direction", ["front", "top", "right", "isometric"])
def test_the_bracket_is_drawn_as_it_was_when_its_file_was_recorded(direction):
    assert_same_lines(view_of(BRACKET.solid(), direction), f"bracket.{direction}")


@pytest.mark.parametrize("direction", ["front", "top", "isometric"])
def test_the_turned_post_is_drawn_as_it_was_when_its_file_was_recorded(direction):
    assert_same_lines(view_of(build(BODIES["turned post"]), direction), f"turned_post.{direction}")
