"""Solids: volumes worked by hand, faces and edges counted, names of sides, and what is refused."""

from __future__ import annotations

import math
import os
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest

from sheetgen.bank import features as f
from sheetgen.solid import Conic, Cylinder, Plane, SolidError, build
from sheetgen.units import EXACT
from tests.outside.bodies import BODIES, GOLDEN, block, profile, slot
from tests.parts import BRACKET, S1, S3, S5
from tests.solid.brep import shell_of

ROOM = block((0, 40), (0, 40), (0, 40))


# worked by hand from the shapes
@pytest.mark.parametrize(("name", "volume"), [
    ("S1", 51_200), ("S2", 72_480), ("S3", 75_000 - 4_250 * math.pi), ("S4", 71_200), ("S5", 61_600)])
def test_a_golden_solid_has_the_volume_worked_by_hand(name, volume):
    assert build(GOLDEN[name]).volume == pytest.approx(volume, rel=1e-8)


@pytest.mark.parametrize(("name", "corners", "edges", "faces"), [
    ("S1", 20, 30, 12), ("S2", 26, 39, 15), ("S4", 22, 34, 14), ("S5", 10, 15, 7)])
def test_a_golden_solid_has_the_corners_edges_and_faces_counted_by_hand(name, corners, edges, faces):
    shell = shell_of(build(GOLDEN[name]))
    assert (shell.corners, len(shell.edges), shell.faces) == (corners, edges, faces)


def test_a_pyramid_of_four_triangles_has_no_facets_to_join():
    solid = build([ROOM, f.Corner("cut", ((40, 0, 0), (0, 40, 0), (0, 0, 40)), (1, 1, 1))])
    assert (len(solid.triangles), solid.panes.corners.shape, solid.panes.facet.tolist()) == (4, (4, 4), [0, 1, 2, 3])


def test_the_counterbored_plate_has_nine_faces_of_which_two_are_round():
    solid = build(GOLDEN["S3"])
    assert shell_of(solid).faces == 9
    assert sorted(surface.radius for surface in solid.surfaces if isinstance(surface, Cylinder)) == [10, 15]


@pytest.mark.parametrize("name", [*GOLDEN, *BODIES])
def test_corners_less_edges_and_faces_add_up_as_euler_has_it(name):
    # V - E + F - R = 2 - 2G, with R inner rims of faces and G holes right through (Euler and Poincare)
    shell = shell_of(build({**GOLDEN, **BODIES}[name]))
    assert shell.euler == 2 - 2 * shell.genus


@pytest.mark.parametrize(("name", "through"), [("S1", 0), ("S3", 1), ("hole plate", 2), ("wedge", 2), ("slotted", 1)])
def test_holes_right_through_are_counted(name, through):
    # hole plate: counterbore, countersink; wedge: bore and a steep hole that comes out of the slope; slotted: only the long slot
    assert shell_of(build({**GOLDEN, **BODIES}[name])).genus == through


def test_the_lowest_leftmost_foremost_corner_is_the_origin_wherever_the_part_was_drawn():
    moved = [block((100, 160), (-40, 0), (7, 22)), block((100, 120), (-40, 0), (7, 47)), slot(x=(140, None), y=(-28, -12))]
    solid, plain = build(moved), build(GOLDEN["S1"])
    assert solid.vertices.min(axis=0).tolist() == [0, 0, 0]
    assert solid.size.tolist() == [60, 40, 40]
    assert solid.volume == plain.volume


def test_faces_of_two_features_in_one_plane_are_one_face_with_both_names():
    solid = S1.solid()
    for side in ("left", "front", "back", "bottom"):
        assert solid.sides[f"base.{side}"] == solid.sides[f"up.{side}"]
    assert solid.sides["base.top"] != solid.sides["up.top"]


def test_two_bores_on_one_axis_of_one_diameter_are_one_cylinder():
    forked = [block((0, 60), (0, 40), (0, 40)), slot(y=(12, 28), z=(10, None)),
              f.Hole("near", "front", ((30, 25),), 12, depth=20), f.Hole("far", "back", ((30, 25),), 12, depth=20)]
    solid = build(forked)
    assert solid.sides["near.wall"] == solid.sides["far.wall"]
    assert sum(isinstance(surface, Cylinder) for surface in solid.surfaces) == 1


@pytest.mark.parametrize("side", ["left", "right"])
def test_a_round_end_runs_into_its_flats_without_an_edge(side):
    solid = BRACKET.solid()
    pair = tuple(sorted((solid.sides["lug.round"], solid.sides[f"lug.{side}"])))
    joins = [e for e, found in enumerate(np.sort(solid.edges.pair, axis=1).tolist()) if tuple(found) == pair]
    assert joins
    assert not solid.edges.sharp[joins].any()
    assert solid.edges.tangent[joins].all()
    assert pair not in solid.edges.curves


def test_an_arc_that_meets_a_line_at_a_slant_makes_an_edge():
    # a hollow of less than half a turn, centred over the top
    hollow = (45, 20), (15, 20, 30, 29.5, "right"), (0, 20)
    solid = build([profile("front", (0, 0), (60, 0), (60, 20), *hollow, (0, 0), along=(0, 30))])
    round_one = next(k for k, surface in enumerate(solid.surfaces) if isinstance(surface, Cylinder))
    rims = [sharp for pair, sharp in zip(solid.edges.pair.tolist(), solid.edges.sharp, strict=True) if pair.count(round_one) == 1]
    assert rims
    assert all(rims)


def test_a_rim_is_known_as_a_circle():
    solid = S3.solid()
    wall, top = solid.sides["bore.counterbore"], solid.sides["base.top"]
    rim = solid.edges.curves[min(wall, top), max(wall, top)]
    assert isinstance(rim, Conic)
    assert rim.centre.tolist() == [25, 25, 30]
    assert (np.linalg.norm(rim.a), np.linalg.norm(rim.b), rim.a @ rim.b) == pytest.approx((15, 15, 0), abs=1e-12)


def test_an_oblique_face_lies_in_its_three_points():
    face = S5.solid().surfaces[S5.solid().sides["cut.face"]]
    assert isinstance(face, Plane)
    points = np.array([(20, 0, 40), (40, 24, 40), (40, 0, 10)])
    assert points @ face.normal == pytest.approx([face.offset] * 3, abs=1e-12)


@pytest.mark.parametrize(("side", "level"), [
    ("base.left", 0), ("base.right", 60), ("base.front", 0), ("base.back", 40), ("base.bottom", 0), ("base.top", 15),
    ("up.top", 40), ("up.right", 20), ("slot.left", 40), ("slot.front", 12), ("slot.back", 28)])
def test_a_side_is_called_by_its_feature_and_where_it_looks(side, level):
    solid = S1.solid()
    plane = solid.surfaces[solid.sides[side]]
    assert isinstance(plane, Plane)
    assert plane.level == level


def test_the_sides_of_a_cut_are_named_from_the_cut_itself():
    # slot.left is the wall on the slot's left, which looks to the right
    solid = S1.solid()
    looks = solid.normals[solid.owner == solid.sides["slot.left"]]
    assert looks == pytest.approx(np.tile([1.0, 0, 0], (len(looks), 1)))


@pytest.mark.parametrize("side", ["bore.wall", "bore.axis", "bore.counterbore", "bore.shoulder"])
def test_a_counterbored_hole_names_wall_axis_counterbore_and_shoulder(side):
    assert side in S3.solid().sides


def test_a_side_of_which_nothing_is_left_is_still_known_by_name():
    solid = build([ROOM, f.Block("cut", True, (30, None), (None, None), (None, None))])
    assert "cut.left" in solid.sides
    assert "cut.top" in solid.known
    assert "cut.top" not in solid.sides


@pytest.mark.parametrize(("features", "told"), [
    ([], "the features leave nothing of the solid"),
    ([ROOM, slot()], "leave nothing"),
    ([ROOM, slot(x=(18, 22))], "falls apart into 2 pieces"),
    ([block((0, 20), (0, 20), (0, 20)), f.Block("lid", False, (0, 20), (0, 20), (30, 40))], "falls apart into 2 pieces"),
    ([ROOM, slot(x=(10, 20), y=(10, 20), z=(10, 20))], "hollow with no opening"),
    ([ROOM, f.Block("pad", False, (10, 20), (10, 20), (10, 20))], "pad: it changes nothing"),
    ([ROOM, f.Hole("bore", "top", ((90, 90),), 8)], "bore: it changes nothing"),
    ([ROOM, slot(x=(None, 20), y=(None, 20), z=(10, None)), slot(x=(20, None), y=(20, None), z=(10, None))],
     "touch along an edge"),
    ([ROOM, f.Hole("bore", "top", ((20, 20),), 0)], "bore: its diameter is 0"),
    ([ROOM, f.Hole("bore", "top", ((20, 20),), 10, counterbore=(8, 5))], "bore: its counterbore, 8 by 5 deep, must be wider"),
    ([ROOM, f.Hole("bore", "top", ((20, 20),), 10, depth=4, counterbore=(16, 5))], "must be wider than the hole and less deep"),
    ([ROOM, f.Hole("bore", "top", ((20, 20),), 10, countersink=(9, 90))], "bore: its countersink, 9 at 90 degrees"),
    ([ROOM, f.Block("step", True, (30, 20), (None, None), (None, None))], "step: its x range runs from 30 to 20"),
    ([ROOM, f.Vee("vee", "front", (20, 20), "up", 180, (None, None))], "vee: its angle is 180 degrees"),
    ([ROOM, f.Dovetail("tail", True, "front", (20, 20), 10, 20, 45, "up", (None, None))], "tail: 10 wide, 20 high at 45 degrees"),
    ([ROOM, f.Corner("cut", ((0, 0, 0), (1, 1, 1), (2, 2, 2)), (1, 1, 1))], "cut: its three points lie in one line"),
    ([ROOM, f.Slant("slope", "front", ((10, 10), (10, 30)), "above", (None, None))], "slope: no side of its line lies above"),
    ([ROOM, f.Rib("rib", "front", (40, 0), (0, 20), (10, 20))], "rib: one of its legs has no length"),
    ([ROOM, f.Obround("slot", True, "top", ((10, 10), (20, 30)), 6, (None, None))], "its centres must differ along one axis"),
    ([profile("front", (0, 0), (40, 0), (0, 20), (30, 20), (0, 0), along=(0, 10))], "its outline crosses or touches itself"),
    ([profile("front", (0, 0), (40, 0), (40, 20), (0, 20), along=(0, 10))], "its outline ends at [0, 20], not where it"),
    ([profile("front", (0, 0), (40, 0), (40, 20), (0, 0, 30, 0, "left"), along=(0, 10))], "both must be the radius"),
])
def test_what_makes_no_solid_is_refused_with_the_feature_and_the_reason(features, told):
    with pytest.raises(SolidError) as caught:
        build(features)
    assert told in str(caught.value)


def test_the_same_features_give_the_same_mesh():
    one, other = (build(BODIES["bearing"]) for _ in range(2))
    assert np.array_equal(one.vertices, other.vertices)
    assert np.array_equal(one.triangles, other.triangles)


def test_the_walls_of_holes_look_towards_their_axis_and_those_of_bosses_away_from_it():
    hollow, boss = build(GOLDEN["S3"]), build([f.Cylinder("boss", False, "z", ((0.0, 0.0),), 8.0, (0.0, 20.0))])
    for solid, sense in ((hollow, 1.0), (boss, -1.0)):
        bent = ~solid.table.flat[solid.owner]
        assert solid.inward[bent] == pytest.approx(sense, abs=1e-3)
        assert not solid.inward[~bent].any()


def test_a_solid_cannot_be_changed():
    with pytest.raises(ValueError, match="read-only"):
        S1.solid().vertices[0, 0] = 1.0


def test_the_operations_work_on_the_thread_that_calls_them_and_leave_it_free_to_roam():
    """Their own threads would cost more in waiting than they gain on solids of our size."""
    if not hasattr(os, "sched_setaffinity"):
        pytest.skip("where a thread cannot be held to a processor, the operations keep their own threads")
    said = subprocess.run([sys.executable, "-c", (
        "import os, time; before = os.sched_getaffinity(0)\n"
        "from sheetgen.bank import load_bank; from sheetgen.solid import build\n"
        "features = load_bank()['flanged-foot'].sample(1).features; threads = len(os.listdir('/proc/self/task'))\n"
        "build(features); print(before == os.sched_getaffinity(0), len(os.listdir('/proc/self/task')) - threads)"
    )], capture_output=True, text=True, check=True, cwd=Path(__file__).parents[2])
    assert said.stdout.split() == ["True", "0"]


def test_a_wall_of_no_thickness_is_refused_with_the_faces_that_touch():
    # the point of a groove just touches the roof of a slot: the mesh is closed, the part could not be made
    base = f.Block("base", False, (0, 60), (0, 40), (0, 30))
    groove = f.Vee("vee", "front", (30, 15), "up", 60, (None, None))
    touching = f.Block("slot", True, (None, None), (10, 20), (None, 15))
    with pytest.raises(SolidError, match=r"a wall of no thickness is left between v\w+\.\w+ and slot\.top"):
        build([base, groove, touching])
    assert build([base, groove, f.Block("slot", True, (None, None), (10, 20), (None, 12))]).volume > 0


def test_a_skin_that_is_left_over_a_hole_is_refused():
    """The slope ends in the plane of the holes' mouths, a hair's breadth off; the operations left the holes closed at the top."""
    parts = [block((0, 110), (36, 72), (0, 65)), f.Slant("taper", "right", ((36, 18), (58, 65)), "above", (None, None)),
             f.Block("base", False, (0, 110), (0, 72), (0, 18))]
    with pytest.raises(SolidError, match=r"a wall of no thickness is left at base\.top"):
        build([*parts, f.Hole("holes", "top", ((17, 17), (93, 17)), 12.0, level=18.0)])
    drilled = build([*parts, f.Hole("holes", "top", ((17, 17), (93, 17)), 12.0)])
    assert drilled.volume == pytest.approx(110 * (72 * 18 + 47 * (14 + 36) / 2) - 2 * 18 * math.pi * 6**2, rel=1e-8)


def test_a_corner_of_a_round_part_is_moved_onto_its_surfaces_though_a_thin_facet_of_a_flat_face_is_in_its_way():
    """The chord's corner lay two thousandths off the cylinder, on one side only: the part seemed to have no mirror image."""
    solid = build([
        f.Cylinder("spigot", False, "z", ((38.0, 32.0),), 56.0, (14.0, 75.0)),
        profile("front", (16.0, 75.0), (59.0, 36.0), (94.0, 36.0), (94.0, 80.0), (16.0, 80.0), (16.0, 75.0), along=(None, None),
                cut=True),
        block((0.0, 90.0), (0.0, 64.0), (0.0, 14.0)),
        f.Hole("bore", "top", ((38.0, 32.0),), 32.0),
    ])
    corners = np.flatnonzero(solid.corners)
    vertex, surface = np.nonzero(solid.meeting[corners])
    assert np.abs(solid.table.distances(surface, solid.vertices[corners[vertex]])).max() < EXACT
    points = solid.vertices[corners]
    flipped = points * (1, -1, 1) + (0, solid.size[1], 0)
    assert np.abs(flipped[:, None] - points).max(axis=2).min(axis=1).max() < 1e-9
