"""Parts in section against the independent kernel: the areas of the cut, the lines beyond it."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import pytest
import shapely
from OCP.BRepAlgoAPI import BRepAlgoAPI_Cut
from OCP.BRepGProp import BRepGProp
from OCP.BRepPrimAPI import BRepPrimAPI_MakeBox
from OCP.gp import gp_Pnt
from OCP.GProp import GProp_GProps
from OCP.TopAbs import TopAbs_FACE
from OCP.TopExp import TopExp_Explorer
from OCP.TopoDS import TopoDS_Shape

from sheetgen.bank import load_bank
from sheetgen.bank.features import Block, Cone, Cylinder, Hole
from sheetgen.problem import problem_of
from sheetgen.problem.cutting import SENSES, CuttingPlane, without_ribs
from sheetgen.projection import section_of
from sheetgen.solid import SolidError, build
from tests.outside.bodies import block
from tests.outside.compare import compare
from tests.outside.kernel import Reference, reference_solid
from tests.outside.kernel_lines import Line, view_lines

BANK = load_bank()
AREA = 1e-6
"""Relative, of planes square to the part."""

PAST = 500.0


def cut_by_kernel(reference: Reference, plane: CuttingPlane, drawn: str) -> TopoDS_Shape:
    """What the kernel leaves of a part before which boxes are taken away, one for each stretch of the plane."""
    shape = reference.shape
    for stretch in plane.stretches(drawn):
        low, high = np.full(3, -PAST), np.full(3, PAST)
        low[plane.along], high[plane.along] = max(stretch.low, -PAST), min(stretch.high, PAST)
        (low if SENSES[drawn] > 0 else high)[plane.axis] = stretch.level
        shape = BRepAlgoAPI_Cut(shape, BRepPrimAPI_MakeBox(gp_Pnt(*low), gp_Pnt(*high)).Shape()).Shape()
    return shape


def area_at(shape: TopoDS_Shape, plane: CuttingPlane, drawn: str) -> float:
    """mm2 of the kernel's faces that lie in the plane, from their exact outlines."""
    total, faces = 0.0, TopExp_Explorer(shape, TopAbs_FACE)
    while faces.More():
        properties = GProp_GProps()
        BRepGProp.SurfaceProperties_s(faces.Current(), properties, 1e-9)
        centre, spread = properties.CentreOfMass(), properties.MatrixOfInertia()
        at = (centre.X(), centre.Y(), centre.Z())
        # A face lies in a plane if it has no extent along its normal: the other two moments then add up to the one about it.
        moments = [spread.Value(k, k) for k in (1, 2, 3)]
        flat = abs(sum(moments) - 2 * moments[plane.axis]) < 1e-6 * sum(moments)
        for stretch in plane.stretches(drawn):
            total += properties.Mass() * (
                flat and abs(at[plane.axis] - stretch.level) < 1e-6 and stretch.low < at[plane.along] < stretch.high)
        faces.Next()
    return total


def beyond(shape: TopoDS_Shape, reference: Reference, plane: CuttingPlane, drawn: str, ours: float) -> list[Line]:
    """The kernel's visible lines, but for those where the plane turns, at ``ours`` mm of the view: there none is drawn."""
    visible, _ = view_lines(shape, reference.bounds[1], drawn)
    return [line for line in visible if np.abs(line[:, 0] - ours).max() > 1e-3] if plane.turns else visible


def sections(name: str, seed: int) -> Iterator[tuple[CuttingPlane, str]]:
    """The planes of a variant, and in which view each is drawn."""
    for plane in problem_of(BANK[name].sample(seed)).planes:
        yield plane, "left" if plane.view == "side" else plane.view


@pytest.mark.parametrize("name", list(BANK)[::3])
def test_the_faces_of_a_cut_have_the_kernels_areas_and_what_lies_beyond_its_lines(name):
    variant = BANK[name].sample(1)
    ours, theirs = build(variant.features), reference_solid(variant.features)
    for plane, drawn in sections(name, 1):
        try:
            left = plane.cut(ours, drawn)
        except SolidError:
            continue                                    # it is told, and another plane is taken
        section, cut = section_of(left, drawn), cut_by_kernel(theirs, plane, drawn)
        assert section.area == pytest.approx(area_at(cut, plane, drawn), rel=AREA), (plane, drawn)
        assert section.cut.area == pytest.approx(section.area, rel=3e-3)
        for turn in plane.turns or (0.0,):
            at = np.zeros(3)
            at[plane.along] = turn
            level = float(section.view.frame.flat(at)[0])
            ours_seen = [line for line in section.view.visible if not plane.turns or np.abs(line[:, 0] - level).max() > 1e-3]
            held = compare(ours_seen, beyond(cut, theirs, plane, drawn, level))
            assert held.agree, f"{name} {plane}: {held}"


def test_a_bore_cut_aslant_leaves_an_ellipse_and_a_cone_beside_its_axis_a_hyperbola():
    features = (
        block((0, 80), (0, 60), (0, 40)), Hole("bore", "top", ((25, 30),), 20),
        Cone("cone", False, "z", (60, 30), (30, 10), (40, 60)), Cylinder("pin", False, "z", ((60, 30),), 8, (60, 70)))
    ours, theirs = build(features), reference_solid(features)
    for level, rel in ((30.0, AREA), (24.0, 1e-4), (37.5, 1e-4)):
        plane = CuttingPlane("full", "front", (level,))
        assert section_of(plane.cut(ours, "front"), "front").area == pytest.approx(
            area_at(cut_by_kernel(theirs, plane, "front"), plane, "front"), rel=rel)


def test_an_upright_cylinder_cut_level_leaves_a_whole_circle():
    features = (block((0, 60), (0, 60), (0, 20)), Cylinder("post", False, "z", ((30, 30),), 36, (20, 60)))
    plane = CuttingPlane("full", "top", (40.0,))
    section = section_of(plane.cut(build(features), "top"), "top")
    assert section.area == pytest.approx(np.pi * 18**2, rel=1e-12)
    assert [len(outline.pieces) for outline in section.outlines] == [1]


@pytest.mark.parametrize("name", ["angle-bracket-bored", "twin-ribbed-bracket", "flanged-foot"])
def test_hatching_leaves_out_just_what_ribs_add_to_the_cut(name):
    found = 0
    for seed in range(1, 4):
        variant = BANK[name].sample(seed)
        whole, theirs = build(variant.features), reference_solid(variant.features)
        for plane, drawn in sections(name, seed):
            bare = without_ribs(variant.features, plane)
            if bare is None:
                continue
            found += 1
            section = section_of(plane.cut(whole, drawn), drawn, bare=plane.cut(bare, drawn))
            ribless = [feature for feature in variant.features if feature.name not in ribs_cut(variant.features, plane)]
            hatched = area_at(cut_by_kernel(reference_solid(ribless), plane, drawn), plane, drawn)
            every = area_at(cut_by_kernel(theirs, plane, drawn), plane, drawn)
            assert section.hatched.area == pytest.approx(hatched, rel=3e-3)
            assert section.ribs.area == pytest.approx(every - hatched, rel=1e-2)
            assert shapely.area(section.hatched.intersection(section.ribs)) < 1e-6
    assert found


def ribs_cut(features, plane):
    """The names of ribs that a plane runs along, told by their boxes."""
    return {feature.name for feature in features if type(feature).__name__ == "Rib"
            and {"right": 0, "front": 1, "top": 2}[feature.plane] == plane.axis
            and any(feature.along[0] < level < feature.along[1] for level in plane.levels)}


def test_a_cut_that_leaves_two_pieces_is_drawn_all_the_same():
    features = (block((0, 60), (0, 40), (0, 50)), Block("gap", True, (20, 40), (None, None), (10, None)))
    plane = CuttingPlane("full", "top", (30.0,))
    section = section_of(plane.cut(build(features), "top"), "top")
    assert len(section.outlines) == 2 and section.area == pytest.approx(2 * 20 * 40)
