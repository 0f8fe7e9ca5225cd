"""Centre lines drawn on as extension lines, in cases worked by hand. Millimetres; views at full size.

Centre lines may be used as extension lines (SP 46 and ISO 129-1, from memory); they reach 4 past the line that bounds the face.
"""

from __future__ import annotations

import numpy as np
import pytest

from sheetgen.bank.features import Block, Hole
from sheetgen.placing import items_of, pictorial_offers, view_offers
from sheetgen.placing.offers.prolonged import prolonged
from sheetgen.projection import view_of
from sheetgen.sight import PlacedView, Sight
from tests.parts import ENGLISH, Part, outer, size, span

PLATE = Block("base", False, (0, 80), (0, 60), (0, 12))
ORIGIN = np.array([100.0, 100.0])


def placed(features, name="top", scale=1.0) -> PlacedView:
    return PlacedView(Sight(view_of(Part(tuple(features), (), 0).solid(), name)), scale, ORIGIN)


def longer(view, at, way, end=0) -> float:
    """How far a centre line that ends at a place of the view can be drawn on: to past the line that bounds its face, 0, or past
    the last before the part ends, 1."""
    return float(prolonged(view, np.array([at], dtype=float) * view.scale + ORIGIN, np.array([way], dtype=float))[0, end])


@pytest.mark.parametrize(("way", "run"), [((1, 0), 40), ((-1, 0), 40), ((0, 1), 25), ((0, -1), 35)])
def test_a_centre_line_is_drawn_on_over_its_face_to_4_past_the_line_that_bounds_it(way, run):
    assert longer(placed((PLATE,)), (40, 35), way) == pytest.approx(run + 4)


def test_how_far_it_goes_past_is_the_same_on_paper_at_any_scale():
    assert longer(placed((PLATE,), scale=0.5), (40, 35), (1, 0)) == pytest.approx(20 + 4)


def test_it_ends_past_the_face_in_which_it_begins_or_goes_on_to_where_the_part_ends():
    stepped = placed((PLATE, Block("up", False, (60, 80), (0, 60), (12, 30))))
    assert [longer(stepped, (40, 35), (1, 0), end) for end in (0, 1)] == pytest.approx([20 + 4, 40 + 4])
    assert [longer(placed((PLATE,)), (40, 35), (1, 0), end) for end in (0, 1)] == pytest.approx([40 + 4, 40 + 4])


def test_not_over_a_window_in_the_part():
    window = placed((PLATE, Block("step", True, (50, 55), (None, None), (8, None)),
                     Block("window", True, (62, 70), (20, 50), (None, None))))
    assert [longer(window, (40, 35), (1, 0), end) for end in (0, 1)] == pytest.approx([10 + 4, 22 + 4])


def test_where_a_line_of_the_part_runs_beside_it_farther_on_it_ends_before_that():
    grooved = placed((PLATE, Block("step", True, (50, 55), (None, None), (8, None)),
                      Block("groove", True, (65, None), (36.5, 50), (8, None))))
    assert [longer(grooved, (40, 35), (1, 0), end) for end in (0, 1)] == pytest.approx([10 + 4, 15 + 4])


def test_not_over_nothing():
    # a window in the plate, and beyond its edge
    window = placed((PLATE, Block("window", True, (50, 70), (20, 50), (None, None))))
    assert longer(window, (52, 35), (1, 0)) == 0.0
    assert longer(window, (90, 35), (1, 0)) == 0.0
    assert longer(window, (90, 35), (-1, 0)) == 0.0


def test_nor_where_the_line_that_bounds_the_face_is_so_near_that_it_is_passed_already():
    assert longer(placed((PLATE,)), (78.5, 35), (1, 0)) == 0.0
    assert longer(placed((PLATE,)), (77.5, 35), (1, 0)) == pytest.approx(6.5)


@pytest.mark.parametrize(("aside", "run"), [(1.5, 0.0), (-1.5, 0.0), (3.0, 44.0)])
def test_nor_close_beside_a_line_of_the_part(aside, run):
    # a groove's edge runs along there
    grooved = placed((PLATE, Block("groove", True, (45, 70), (35 + aside, 55) if aside > 0 else (15, 35 + aside), (8, None))))
    assert longer(grooved, (40, 35), (1, 0)) == pytest.approx(run)


BORED = Part((Block("base", False, (0, 80), (0, 60), (0, 40)), Hole("bore", "top", ((40, 30),), 16)),
             (*outer(), span("base.left", "bore.axis"), span("base.front", "bore.axis"), size("diameter", "bore")), 6)


def chains(offers):
    """The centre lines drawn on of all offers, with the extension lines of the same offers."""
    for k in range(len(offers)):
        drawn = offers.drawn(k)
        for chain in drawn.chains:
            yield chain, drawn.extensions


def test_on_a_view_a_size_of_an_axis_goes_on_from_its_centre_line_which_goes_on_to_past_the_outline():
    view, items = placed(BORED.features), items_of(BORED.measures(), ENGLISH)
    found = [
        (chain, extensions) for chain, extensions in chains(view_offers([view], items)) if abs(chain[0, 0] - chain[1, 0]) < 1e-9]
    assert found
    for chain, extensions in found:
        far = max(chain[:, 1], key=lambda y: abs(y - 130))
        assert far == pytest.approx(164 if far > 130 else 96)      # 4 past the plate's back, or its front
        [onward] = [line for line in extensions if abs(line[:, 0] - chain[0, 0]).max() < 1e-9]
        begin = min(onward[:, 1], key=lambda y: abs(y - far))
        assert abs(begin - far) == pytest.approx(1.0)              # the gap to what it goes on from


def test_on_the_pictorial_too():
    view, items = placed(BORED.features, "isometric"), items_of(BORED.measures(), ENGLISH)
    found = list(chains(pictorial_offers(view, items)))
    assert found
    for chain, extensions in found:
        way = (chain[1] - chain[0]) / np.hypot(*(chain[1] - chain[0]))
        on = [line for line in extensions if np.abs((line - chain[0]) @ (way[1], -way[0])).max() < 1e-6]
        assert on
        assert any(abs(np.abs((line - chain[k]) @ way).min() - 1.0) < 1e-6 for line in on for k in (0, 1))


def test_on_the_pictorial_none_is_drawn_on_under_what_stands_before_it():
    # from a hole in a foot the centre line would run on through a body beside it, and seem to lie on its faces
    foot, hole = Block("base", False, (0, 100), (0, 60), (0, 20)), Hole("bore", "top", ((80, 20),), 10)
    body = Block("body", False, (30, 60), (0, 60), (0, 60))
    longest = []
    for features in ((foot, hole), (foot, body, hole)):
        part = Part(features, (*outer(), span("base.front", "bore.axis")), 4)
        found = chains(pictorial_offers(placed(features, "isometric"), items_of(part.measures(), ENGLISH)))
        longest.append(max(float(np.hypot(*(chain[1] - chain[0]))) for chain, _ in found if chain[0, 0] > chain[1, 0] + 1))
    assert longest[0] > 70 and longest[1] < 25
