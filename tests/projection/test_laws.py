"""Laws of projection that hold for every part: variants of the bank, and parts made up at random."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from sheetgen.bank import load_bank
from sheetgen.projection import Straight, View, view_of
from sheetgen.solid import Plane, Solid, build
from sheetgen.units import CHORD_ERROR
from tests.outside.compare import distances
from tests.outside.compare import samples as points_of
from tests.strategies import bodies, mirrored, samples

VIEWS = ("front", "top", "right", "left", "rear", "bottom", "isometric")
OPPOSITE = {"front": "rear", "right": "left", "top": "bottom"}
NEAR = 0.02      # mm: facets stand up to 4 microns off their cylinder; short stretches up to 20 microns are dropped
GROWN = 1e-4     # mm: areas grow by this much so that those that share a side become one
few = settings(max_examples=10, derandomize=True, deadline=None,
               suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much])


def shadow(solid: Solid, view: View) -> shapely.Geometry:
    """The area that the solid covers as it is looked at, out of its facets."""
    facing = solid.triangles[solid.normals @ view.frame.toward > 1e-9]
    return shapely.union_all(shapely.buffer(shapely.polygons(view.flat[facing]), GROWN, join_style="mitre", mitre_limit=1.5))


def without_holes(area: shapely.Geometry) -> shapely.Geometry:
    return shapely.union_all([shapely.Polygon(part.exterior) for part in shapely.get_parts(area.buffer(GROWN))])


def seen_and_hidden(view: View) -> list:
    return [*view.visible, *view.hidden]


@few
@given(samples())
def test_a_solid_is_closed_and_encloses_metal(sample):
    solid = sample.solid
    half = np.concatenate([solid.triangles[:, [k, (k + 1) % 3]] for k in range(3)])
    there, back = ({tuple(pair) for pair in half[:, ::way].tolist()} for way in (1, -1))
    assert len(there) == len(half)
    assert there == back, "an edge with one facet, or with two that turn the same way"
    assert 0 < solid.volume <= float(np.prod(solid.size)) * (1 + 1e-9)


@few
@given(samples(), st.sampled_from(VIEWS))
def test_the_outline_of_a_view_is_the_rim_of_the_solids_shadow(sample, name):
    solid = sample.solid
    view = view_of(solid, name)
    dark = without_holes(shadow(solid, view))
    pencil = shapely.union_all([shapely.LineString(points).buffer(NEAR / 2) for points in view.visible])
    drawn = without_holes(pencil).buffer(-NEAR / 2)
    assert drawn.area == pytest.approx(dark.area, rel=1e-3)
    assert shapely.hausdorff_distance(drawn.boundary, dark.boundary) < NEAR


@few
@given(samples(), st.sampled_from(VIEWS))
def test_every_rim_of_the_shadow_is_a_visible_line_and_no_line_leaves_the_shadow(sample, name):
    solid = sample.solid
    view = view_of(solid, name)
    dark = shadow(solid, view).buffer(GROWN).buffer(-GROWN)
    rims = [np.array(ring.coords) for part in shapely.get_parts(dark) for ring in (part.exterior, *part.interiors)]
    assert distances(points_of(rims), view.visible).max() < NEAR
    grown = dark.buffer(NEAR)
    assert all(grown.covers(shapely.LineString(points)) for points in seen_and_hidden(view))


@few
@given(samples(), st.sampled_from(sorted(OPPOSITE)))
def test_what_is_drawn_from_one_side_is_drawn_mirrored_from_the_other(sample, name):
    solid = sample.solid
    one, other = view_of(solid, name), view_of(solid, OPPOSITE[name])
    flip = np.array([1.0, -1.0]) if name == "top" else np.array([-1.0, 1.0])
    shift = {"front": [solid.size[0], 0], "right": [solid.size[1], 0], "top": [0, solid.size[1]]}[name]
    turned = [points * flip + shift for points in seen_and_hidden(other)]
    mine = seen_and_hidden(one)
    assert distances(points_of(mine), turned).max() < NEAR
    assert distances(points_of(turned), mine).max() < NEAR


@few
@given(samples(), st.sampled_from(sorted(OPPOSITE)))
def test_the_outer_outlines_of_opposite_views_are_mirror_images(sample, name):
    solid = sample.solid
    areas = [without_holes(shadow(solid, view_of(solid, side))).area for side in (name, OPPOSITE[name])]
    assert areas[0] == pytest.approx(areas[1], rel=1e-6)


@few
@given(samples())
def test_width_depth_and_height_agree_between_the_views(sample):
    solid = sample.solid
    extent = {name: np.ptp(np.concatenate(view_of(solid, name).visible), axis=0) for name in VIEWS[:6]}
    width, depth, height = solid.size
    for name, size in (("front", (width, height)), ("top", (width, depth)), ("right", (depth, height))):
        assert extent[name] == pytest.approx(size, abs=2 * CHORD_ERROR)
        assert extent[OPPOSITE[name]] == pytest.approx(size, abs=2 * CHORD_ERROR)


@few
@given(samples())
def test_every_view_begins_at_its_own_origin(sample):
    solid = sample.solid
    for name in VIEWS[:6]:
        assert np.concatenate(view_of(solid, name).visible).min(axis=0) == pytest.approx([0, 0], abs=CHORD_ERROR)


@few
@given(samples(), st.sampled_from(VIEWS))
def test_no_line_is_drawn_twice_or_hidden_under_a_visible_one(sample, name):
    solid = sample.solid
    view = view_of(solid, name)
    straight = {kind: [shape for shape in shapes if isinstance(shape, Straight)]
                for kind, shapes in (("visible", view.visible_lines), ("hidden", view.hidden_lines))}
    both = [*straight["visible"], *straight["hidden"]]
    for k, one in enumerate(both):
        for other in both[k + 1:]:
            assert overlap(one, other) < NEAR, f"{one.points().tolist()} and {other.points().tolist()}"


def overlap(one: Straight, other: Straight) -> float:
    """mm over which two straight lines lie on each other."""
    unit = (one.q - one.p) / one.length
    away = other.points() - one.p
    if np.abs(away @ np.array([-unit[1], unit[0]])).max() > 1e-5:
        return 0.0
    low, high = np.sort(away @ unit)
    return float(min(high, one.length) - max(low, 0.0))


@few
@given(samples(), st.sampled_from(VIEWS))
def test_a_stretch_is_seen_exactly_if_nothing_stands_between_it_and_the_reader(sample, name):
    solid = sample.solid
    view = view_of(solid, name)
    stretches, ends = view.stretches, solid.vertices[solid.edges.ends[view.stretches.edge]]
    long = (stretches.stop - stretches.start) * np.linalg.norm(ends[:, 1] - ends[:, 0], axis=1) > NEAR
    middle = (ends[:, 0] + ((stretches.start + stretches.stop) / 2)[:, None] * (ends[:, 1] - ends[:, 0]))[long]
    edge, seen = stretches.edge[long], stretches.seen[long]
    deep, any_touch = hits(solid, middle, view.frame.toward, solid.edges.pair[edge])
    normals = solid.normals[solid.edges.facets[edge]]
    facing = normals @ view.frame.toward
    away = (facing < -1e-9).all(axis=1)
    assert not (deep & seen).any(), "seen through metal"
    # The sight line from the far edge of a wall seen edge-on runs along that wall; beside it, in the metal, it meets something.
    far = ~away & (facing < 1e-9).all(axis=1) & (facing < -1e-9).any(axis=1)
    walls = normals[far, np.abs(facing[far]).argmin(axis=1)]
    assert hits(solid, middle[far] - GROWN * walls, view.frame.toward, solid.edges.pair[edge[far]])[1].all(), "no metal there"
    assert not (far & seen).any(), "seen through its wall"
    assert not (~any_touch & ~away & ~far & ~seen).any(), "hidden by nothing"


def hits(solid: Solid, points: np.ndarray, toward: np.ndarray, pair: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Whether a sight line from each point (n, 3) to the reader passes through a facet's inside, and whether it touches one.

    ``pair`` (n, 2): the surfaces on which each point lies: of a round one it may stand up to CHORD_ERROR off the facets, and so,
    as the reader sees it, as far within those of that surface that are nearly edge-on.
    """
    a, b, c = (solid.vertices[solid.triangles[:, k]] for k in range(3))
    normal = np.cross(b - a, c - a)
    facing = normal @ toward
    use = facing > 1e-9 * np.linalg.norm(normal, axis=1)
    a, b, c, normal, facing, owner = a[use], b[use], c[use], normal[use], facing[use], solid.owner[use]
    ahead = (((a * normal).sum(axis=1) - points @ normal.T) / facing)
    at = points[:, None] + ahead[..., None] * toward
    least, seen_least = np.full(ahead.shape, np.inf), np.full(ahead.shape, np.inf)
    for p, q in ((a, b), (b, c), (c, a)):
        for square, nearest in ((normal, least), (toward, seen_least)):            # in the facet's plane, and in the view
            inward = np.cross(square, q - p)
            inward = inward / np.linalg.norm(inward, axis=1, keepdims=True)
            np.minimum(nearest, ((at - p) * inward).sum(axis=2), out=nearest)
    turned = np.array([not isinstance(surface, Plane) for surface in solid.surfaces])[owner]
    own = (pair[:, :, None] == owner).any(axis=1) & turned
    within = (least > 1e-3) & (~own | (seen_least > CHORD_ERROR + 1e-3))
    return ((ahead > 1e-3) & within).any(axis=1), ((ahead > 1e-7) & (least > -1e-3)).any(axis=1)


@few
@given(bodies())
def test_a_mirrored_part_shows_its_left_view_where_the_right_was_and_turned_over(body):
    features, solid = body.features, body.solid
    other = build(mirrored(features, float(features[0].x[1])))
    assert other.volume == pytest.approx(solid.volume, rel=1e-9)
    for mine, theirs in (("right", "left"), ("front", "front"), ("top", "top")):
        span = solid.size[1] if mine == "right" else solid.size[0]
        for kind in ("visible", "hidden"):
            wanted = getattr(view_of(solid, mine), kind)
            turned = [points * [-1.0, 1.0] + [span, 0.0] for points in getattr(view_of(other, theirs), kind)]
            assert sum(map(_length, turned)) == pytest.approx(sum(map(_length, wanted)), abs=0.05)
            if wanted:
                assert distances(points_of(wanted), turned).max() < NEAR


@few
@given(bodies())
def test_a_mirrored_part_has_its_centre_lines_mirrored(body):
    features, solid = body.features, body.solid
    other = build(mirrored(features, float(features[0].x[1])))
    for mine, theirs in (("right", "left"), ("front", "front"), ("top", "top")):
        span = solid.size[1] if mine == "right" else solid.size[0]
        wanted = [line.points() for line in view_of(solid, mine).centre_lines]
        turned = [line.points() * [-1.0, 1.0] + [span, 0.0] for line in view_of(other, theirs).centre_lines]
        assert sum(map(_length, turned)) == pytest.approx(sum(map(_length, wanted)), abs=0.1)
        if wanted:
            assert distances(points_of(wanted), turned).max() < NEAR


@few
@given(samples(), st.sampled_from(sorted(OPPOSITE)))
def test_from_the_other_side_a_part_has_the_same_centre_lines_mirrored(sample, name):
    solid = sample.solid
    flip = np.array([1.0, -1.0]) if name == "top" else np.array([-1.0, 1.0])
    shift = {"front": [solid.size[0], 0], "right": [solid.size[1], 0], "top": [0, solid.size[1]]}[name]
    mine = [line.points() for line in view_of(solid, name).centre_lines]
    turned = [line.points() * flip + shift for line in view_of(solid, OPPOSITE[name]).centre_lines]
    assert len(mine) == len(turned)
    if mine:
        assert max(distances(points_of(mine), turned).max(), distances(points_of(turned), mine).max()) < NEAR


@few
@given(samples(), st.sampled_from(VIEWS[:6]), st.sampled_from([1.0, 0.5]))
def test_no_centre_line_lies_on_a_line_of_the_part_or_reaches_far_out_of_it(sample, name, scale):
    # precedence: visible, hidden, centre (ISO 128:1982, from memory); 3 to 6 mm on paper past the outline (textbook)
    view = view_of(sample.solid, name)
    low, high = view.extent
    part = [line for line in (*view.visible_lines, *view.hidden_lines) if isinstance(line, Straight)]
    for line in view.centre_lines_at(scale):
        ends = np.stack([line.p, line.q])
        assert (ends > low - 6.0 / scale).all() and (ends < high + 6.0 / scale).all()
        assert line.length * scale >= 2.0
        unit = (line.q - line.p) / line.length
        for other in part:
            away = np.stack([other.p, other.q]) - line.p
            if np.abs(away @ [-unit[1], unit[0]]).max() < 1e-4:
                along = np.sort(away @ unit)
                assert min(along[1], line.length) - max(along[0], 0.0) < 0.02


def _length(points) -> float:
    return float(np.linalg.norm(np.diff(points, axis=0), axis=1).sum())


@few
@given(samples(), st.sampled_from(VIEWS[:6]))
def test_no_view_but_the_pictorial_shows_a_line_longer_than_its_edges(sample, name):
    solid = sample.solid
    # a principal view shortens or keeps; so all that is drawn is no longer than all edges and limbs together
    view = view_of(solid, name)
    ends = solid.vertices[solid.edges.ends[np.unique(view.stretches.edge)]]
    assert sum(map(_length, seen_and_hidden(view))) <= np.linalg.norm(ends[:, 1] - ends[:, 0], axis=1).sum() + NEAR


@few
@given(samples())
def test_no_pictorial_is_wider_or_higher_than_the_block_round_the_part(sample):
    solid = sample.solid
    for corner in ("front-right", "left-front", "right-rear", "rear-left"):
        across, up = np.ptp(np.concatenate(view_of(solid, "isometric", corner).visible), axis=0)
        assert across <= (solid.size[0] + solid.size[1]) * math.cos(math.radians(30)) + 2 * CHORD_ERROR
        assert up <= (solid.size[0] + solid.size[1]) / 2 + solid.size[2] + 2 * CHORD_ERROR


@few
@given(st.sampled_from(sorted(load_bank())), st.integers(0, 10_000))
def test_a_seed_always_draws_the_same_part_and_the_same_lines(name, seed):
    one, other = (load_bank()[name].sample(seed) for _ in range(2))
    assert one.sizes == other.sizes
    assert one.features == other.features
    first, second = (view_of(build(variant.features), "isometric") for variant in (one, other))
    assert all(np.array_equal(a, b) for a, b in zip(seen_and_hidden(first), seen_and_hidden(second), strict=True))
