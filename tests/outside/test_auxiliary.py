"""True shapes and auxiliary views against the independent kernel: area and edges of the face, hidden lines along its normal."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest
from OCP.BRepAdaptor import BRepAdaptor_Curve, BRepAdaptor_Surface
from OCP.BRepGProp import BRepGProp
from OCP.GCPnts import GCPnts_AbscissaPoint
from OCP.GeomAbs import GeomAbs_Line, GeomAbs_Plane
from OCP.GProp import GProp_GProps
from OCP.TopAbs import TopAbs_EDGE, TopAbs_FACE, TopAbs_REVERSED
from OCP.TopExp import TopExp_Explorer
from OCP.TopoDS import TopoDS, TopoDS_Face

from sheetgen.bank import load_bank
from sheetgen.exercises.kinds.auxiliary.face import inclined_faces
from sheetgen.exercises.kinds.auxiliary.shown import true_shape, whole_view
from sheetgen.exercises.kinds.auxiliary.task import task_of
from sheetgen.ink import Pen, Stroke
from sheetgen.problem import problem_of
from sheetgen.projection import Straight
from sheetgen.refusals import RefusedError
from sheetgen.sheet import Style, settings_of
from tests.outside.compare import compare, compare_hidden
from tests.outside.kernel import Reference, reference_solid
from tests.outside.kernel_lines import lines_along, points_of

BANK = load_bank()
POLYGON, CURVED = 1e-6, 1e-4
"""Relative: of areas and lengths of straight-edged faces and of those with circles; of those with ellipses."""

SEEDS = (1, 2)
HOMES = ("left", "front", "top")


@cache
def both(name: str, seed: int):
    """A problem, and its part by the kernel."""
    variant = BANK[name].sample(seed)
    return problem_of(variant), reference_solid(variant.features)


def kernel_faces(reference: Reference, normal, level: float) -> list[TopoDS_Face]:
    """The kernel's flat faces that look along ``normal`` and stand at ``level`` mm along it."""
    found, walk = [], TopExp_Explorer(reference.shape, TopAbs_FACE)
    while walk.More():
        face = TopoDS.Face(walk.Current())
        walk.Next()
        surface = BRepAdaptor_Surface(face)
        if surface.GetType() != GeomAbs_Plane:
            continue
        axis, place = surface.Plane().Axis().Direction(), surface.Plane().Location()
        way = np.array([axis.X(), axis.Y(), axis.Z()])
        if not surface.Plane().Direct():
            way = -way
        if face.Orientation() == TopAbs_REVERSED:
            way = -way
        if way @ normal > 1 - 1e-9 and abs(np.array([place.X(), place.Y(), place.Z()]) @ normal - level) < 1e-6:
            found.append(face)
    return found


def area_of(faces) -> float:
    total = 0.0
    for face in faces:
        properties = GProp_GProps()
        BRepGProp.SurfaceProperties_s(face, properties, 1e-10)
        total += properties.Mass()
    return total


def edges_of(faces):
    """Of each edge: whether it is straight, its length, and its points (k, 3)."""
    for face in faces:
        walk = TopExp_Explorer(face, TopAbs_EDGE)
        while walk.More():
            edge = TopoDS.Edge(walk.Current())
            walk.Next()
            curve = BRepAdaptor_Curve(edge)
            # Its linear properties are 4e-4 off for a whole ellipse; its lengths of arcs are asked for to a micron.
            yield curve.GetType() == GeomAbs_Line, GCPnts_AbscissaPoint.Length_s(curve, 1e-6), points_of(curve)


def length_of(arc) -> float:
    """mm along an arc, by chords a thousand times finer than it is drawn."""
    t = np.linspace(arc.start, arc.stop, 20001)
    return float(np.hypot(*np.diff(arc.at(t), axis=0).T).sum())


def inclined(name: str, seed: int):
    problem, reference = both(name, seed)
    for face in inclined_faces(problem.solid):
        view = whole_view(problem, face, problem.view(HOMES[face.axis]).frame)
        shape = true_shape(problem, face, view)
        yield face, view, shape, kernel_faces(reference, face.normal, shape.level)


FAMILIES = [name for name in BANK if list(inclined_faces(problem_of(BANK[name].sample(1)).solid))]


def test_at_least_twelve_families_have_an_inclined_face():
    assert len(FAMILIES) >= 12 and {"slotted-wedge", "slant-cut-spigot", "skew-ended-tunnel"} <= set(FAMILIES)


@pytest.mark.parametrize("name", FAMILIES)
def test_the_true_shape_has_the_faces_own_area_and_edges(name):
    for seed in SEEDS:
        for face, _, shape, theirs in inclined(name, seed):
            edges = list(edges_of(theirs))
            within = POLYGON if all(straight for straight, _, _ in edges) else CURVED
            assert theirs and shape.area == pytest.approx(area_of(theirs), rel=within), (name, seed, face.normal)
            ours = [(isinstance(line, Straight), line.length if not hasattr(line, "at") else length_of(line))
                    for line in shape.visible_lines]
            for straight in (True, False):
                lengths = [sum(length for is_straight, length, *_ in each if is_straight is straight) for each in (ours, edges)]
                assert lengths[0] == pytest.approx(lengths[1], rel=within), (name, seed, straight)
            flat = [points @ shape.frame.axes.T for _, _, points in edges]
            held = compare(shape.visible, flat, 1e-5 if within == POLYGON else 0.01)
            assert held.agree, f"{name} {seed}: {held}"


@pytest.mark.parametrize("name", FAMILIES)
def test_the_whole_view_has_the_kernels_lines_along_the_normal_of_the_face(name):
    face, view, _, _ = next(inclined(name, 1))
    theirs = lines_along(both(name, 1)[1].shape, face.normal.tolist(), view.frame.axes[0].tolist())
    seen = compare(view.visible, theirs[0])
    assert seen.agree, f"{name}: {seen}"
    hidden = compare_hidden((view.visible, view.hidden), theirs)
    assert hidden.agree, f"{name}: {hidden}"


@pytest.mark.parametrize(("name", "projection"), [
    ("slotted-wedge", "first"), ("slotted-wedge", "third"), ("chamfered-saddle", "first"), ("twin-ribbed-bracket", "first"),
    ("vee-guide", "first")])
def test_what_is_drawn_on_the_answer_is_as_large_as_the_face_at_the_scale_asked_for(name, projection):
    settings = settings_of(Style(projection=projection))
    for seed in range(1, 6):
        problem, reference = both(name, seed)
        try:
            task = task_of(problem, settings)
        except RefusedError:
            continue
        turned, shape = task.folded.turned, task.asked.face
        drawn = [mark.points / turned.scale for mark in turned.marks() if isinstance(mark, Stroke) and mark.pen is Pen.OUTLINE]
        theirs = kernel_faces(reference, shape.frame.toward, shape.level)
        assert sum(float(np.hypot(*np.diff(line, axis=0).T).sum()) for line in drawn) == pytest.approx(
            sum(length for _, length, _ in edges_of(theirs)), rel=POLYGON)
        # Drawn from end to end round the face, the lines sweep its area (the shoelace formula).
        corners = np.array(drawn)
        twice = corners[:, 0, 0] * corners[:, 1, 1] - corners[:, 1, 0] * corners[:, 0, 1]
        assert abs(float(twice.sum())) / 2 == pytest.approx(area_of(theirs), rel=POLYGON)
        return
    pytest.fail("no seed can be drawn")
