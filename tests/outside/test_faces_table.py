"""The table of faces against sight lines in space: what bears a letter is what bears the number. Normals are those of an
independent reader of meshes (trimesh); lines meet facets after Möller and Trumbore 1997 (from memory)."""

from __future__ import annotations

import numpy as np
import pytest
import trimesh

from sheetgen.bank import load_bank
from sheetgen.exercises import kinds, make_exercise, sheets_of
from sheetgen.problem import problem_of
from sheetgen.refusals import RefusedError
from sheetgen.sheet import Style, settings_of

BANK = load_bank()
STYLES = (Style(), Style(projection="third", side="right", title_block="quarry"))
SAME = 1e-3


def plane_seen(mesh, view, at):
    """The outward normal and the offset of the flat face that a sight line of ``view`` meets first at ``at`` (2,)."""
    u, v = (np.asarray(at) - view.origin) / view.scale
    frame = view.view.frame
    axes = np.vstack([frame.axes, frame.toward])
    zero = frame.flat(np.zeros((1, 3)))[0]
    start = np.linalg.solve(axes, np.array([u - zero[0], v - zero[1], 1000.0]))
    a, b, c = mesh.triangles.transpose(1, 0, 2)
    way = -frame.toward
    across = np.cross(way, c - a)
    turned = np.einsum("ij,ij->i", b - a, across)
    facets = np.flatnonzero(np.abs(turned) > 1e-9)
    a, b, c, across, turned = a[facets], b[facets], c[facets], across[facets], turned[facets]
    p = np.einsum("ij,ij->i", start - a, across) / turned
    other = np.cross(start - a, b - a)
    q, far = other @ way / turned, np.einsum("ij,ij->i", c - a, other) / turned
    met = (p >= -1e-9) & (q >= -1e-9) & (p + q <= 1 + 1e-9)
    nearest = int(np.argmin(np.where(met, far, np.inf)))
    normal = mesh.face_normals[facets[nearest]]
    return normal, float(normal @ (start + far[nearest] * way))


@pytest.mark.parametrize(("name", "style"), [
    (name, STYLES[number % 2]) for number, name in enumerate((
        "stepped-block", "bevelled-block", "angle-bracket-bored", "cross-block", "slotted-wedge"))])
def test_a_letter_and_its_numbers_belong_to_one_face(name, style):
    settings = settings_of(style)
    made = make_exercise(BANK[name], 4, settings, kind="faces")
    task, solid = kinds()["faces"].shared(made.problem, settings), made.problem.solid
    mesh = trimesh.Trimesh(solid.vertices, solid.triangles, process=False)
    where = {one.number: (view, one) for view, those in zip(task.placed, task.chosen.pointed, strict=True) for one in those}
    seen = 0
    for face in task.chosen.faces:
        normal, offset = plane_seen(mesh, task.picture, face.place)
        for view, number in zip(task.placed, face.row, strict=True):
            turned = float(normal @ view.view.frame.toward)
            if number is None:
                assert turned < SAME or not looks_on(mesh, view, normal, offset)
                continue
            there, one = where[number]
            assert there is view
            if one.area:
                at = one.inside if one.inside is not None else one.line.points().mean(axis=0) * view.scale + view.origin
                other, level = plane_seen(mesh, view, at)
                assert np.allclose(other, normal, atol=SAME) and level == pytest.approx(offset, abs=0.01)
                seen += 1
            else:                                       # the plane passes through both ends of the line
                assert abs(turned) < SAME
                in_view = view.view.frame.flat_vectors(normal[None])[0]
                base = view.view.frame.flat(normal[None] * offset)[0]
                assert np.abs((one.line.points() - base) @ in_view).max() < 0.02
    assert seen


def looks_on(mesh, view, normal, offset):
    """Whether the middle of any facet of a plane is what its sight line in ``view`` meets first."""
    of_plane = np.flatnonzero((mesh.face_normals @ normal > 1 - SAME) & (np.abs(mesh.triangles_center @ normal - offset) < 0.01))
    for facet in of_plane:
        at = view.paper(mesh.triangles_center[facet][None])[0]
        other, level = plane_seen(mesh, view, at)
        if np.allclose(other, normal, atol=SAME) and abs(level - offset) < 0.01:
            return True
    return False


def test_a_round_part_without_flat_faces_enough_is_refused_with_the_reason():
    with pytest.raises(RefusedError, match="too few flat faces that one can point at in every view"):
        sheets_of(problem_of(BANK["countersunk-plate"].sample(1)), settings_of(Style()), kind="faces")
