"""Records of solids, as a page's viewer reads them: read back here in a second way, they are the solid and its views."""

from __future__ import annotations

import base64
import gzip
import hashlib
import json
import re
from itertools import islice
from pathlib import Path

import numpy as np
import pytest
import shapely
import trimesh

import sheetgen
from sheetgen.exercises.drawing import drawing_of
from sheetgen.problem import problem_of
from sheetgen.projection import LineKind, lines_of
from sheetgen.sets.packs.solids import packed, record_of, words_of
from sheetgen.sheet import Style, settings_of
from sheetgen.solid import Plane
from sheetgen.templating import load_wording, wording_names
from sheetgen.units import RECORD_STEP, VERTEX_STEP

ROOT = Path(__file__).resolve().parents[3]
PAGE = ROOT / "sheetgen" / "sets" / "packs" / "page"
VIEWS = ("front", "top", "left", "right")
FAMILIES = ("stepped-block", "counterbored-block", "conical-boss", "oblique-stepped-block", "bored-tee", "hinge-lug", "vee-guide")


@pytest.fixture(scope="module")
def bank():
    return sheetgen.load_bank()


def solid_and_record(bank, name, seed=7):
    solid = bank[name].sample(seed).solid()
    return solid, record_of(solid.exact, {view: solid.view(view) for view in VIEWS})


def unpacked(text):
    """What ``packed`` packed, by shifts of whole integers."""
    found, number, shift = [], 0, 0
    for byte in base64.b64decode(text, validate=True):
        number |= (byte & 127) << shift
        shift += 7
        if byte < 128:
            found.append(number)
            number, shift = 0, 0
    assert shift == 0
    return found


def mesh_of(record):
    """The record's vertices (n, 3), mm, and triangles (m, 3)."""
    places = [-(n + 1) // 2 if n % 2 else n // 2 for n in unpacked(record["vertices"])]
    vertices = np.array(places).reshape(-1, 3)
    for k in range(2, len(vertices)):
        vertices[k] += vertices[k - 2]
    told, triangles, known = iter(unpacked(record["triangles"])), [], 0

    def corner(back):
        nonlocal known
        known += back == 0
        return known - max(back, 1)

    for number in told:
        back, side = divmod(number, 4)
        if side == 3:
            triangles.append([corner(n) for n in islice(told, 3)])
        else:
            one, other = triangles[-1][side], triangles[-1][(side + 1) % 3]
            triangles.append([other, one, corner(back)])
    return vertices * record["vertex_step"], np.array(triangles)


def polylines(lines, step):
    """The lines of one kind as polylines, mm; arcs by many points."""
    found = [np.array(line).reshape(2, 2) for line in lines["straight"]]
    for cx, cy, ax, ay, bx, by, start, stop in lines["arcs"]:
        t = np.linspace(start, stop, 400) * 1e-6
        found.append(np.stack([cx + ax * np.cos(t) + bx * np.sin(t), cy + ay * np.cos(t) + by * np.sin(t)], axis=1))
    found += [np.cumsum(np.array(knots).reshape(-1, 2), axis=0) for knots in lines["curves"]]
    return [line * step for line in found]


@pytest.mark.parametrize("name", FAMILIES)
def test_the_record_of_a_solid_is_the_solid(bank, name):
    """A mesh reader that is not ours finds it closed, and as large as the solid's own mesh."""
    solid, record = solid_and_record(bank, name)
    vertices, triangles = mesh_of(record)
    mesh = trimesh.Trimesh(vertices, triangles, process=False)
    own = trimesh.Trimesh(solid.vertices, solid.triangles, process=False)
    assert mesh.is_watertight and len(triangles) == len(solid.triangles) and len(vertices) == len(solid.vertices)
    assert abs(mesh.volume - own.volume) < own.area * VERTEX_STEP / 2            # no face has moved farther than half a step
    assert np.array(record["size"]) * record["step"] == pytest.approx(solid.size)


@pytest.mark.parametrize("name", FAMILIES)
def test_facets_of_a_record_lie_on_the_surfaces_that_it_says(bank, name):
    solid, record = solid_and_record(bank, name)
    vertices, triangles = mesh_of(record)
    owner = np.repeat(np.arange(len(record["facets"])), record["facets"])
    rounds = {number: (np.array(rest[:3]), np.array(rest[3:6]), rest[6]) for number, *rest in record["round"]}
    surfaces = solid.exact.surfaces
    assert set(rounds) == {k for k, surface in enumerate(surfaces) if not isinstance(surface, Plane)}
    for number, surface in enumerate(surfaces):
        corners = np.unique(triangles[owner == number])
        if isinstance(surface, Plane):
            off = vertices[corners] @ surface.normal - surface.offset
        else:
            point, way, slope = rounds[number]
            arm = vertices[corners] - point
            along = arm @ way
            off = (np.linalg.norm(arm - np.outer(along, way), axis=1) - slope * along - getattr(surface, "radius", 0.0))
        assert np.abs(off).max(initial=0) < 2 * VERTEX_STEP


@pytest.mark.parametrize("name", FAMILIES)
def test_smooth_edges_of_a_record_are_those_where_no_line_is_drawn(bank, name):
    solid, record = solid_and_record(bank, name)
    vertices, _ = mesh_of(record)
    edges = solid.exact.edges
    found = {tuple(sorted(map(tuple, np.round(vertices[list(ends)], 2).tolist()))) for ends in record["smooth"]}
    true = {tuple(sorted(map(tuple, np.round(solid.vertices[ends] / VERTEX_STEP).astype(int).tolist())))
            for ends in edges.ends[edges.tangent].tolist()}
    assert {tuple(tuple(round(n / VERTEX_STEP) for n in end) for end in edge) for edge in found} == true


@pytest.mark.parametrize("name", FAMILIES)
def test_a_records_views_have_the_lines_of_the_answer(bank, name):
    solid, record = solid_and_record(bank, name)
    for view in VIEWS:
        for kind in LineKind:
            true = [shape.points() for shape in lines_of(solid.view(view), kind)]
            told = polylines(record["views"][view][str(kind)], record["step"])
            assert len(told) == len(true)
            if true:
                one, other = shapely.MultiLineString(true), shapely.MultiLineString(told)
                assert shapely.hausdorff_distance(one, other, densify=0.2) < 0.01
                assert other.length == pytest.approx(one.length, abs=0.002 * one.length + len(true) * RECORD_STEP)


@pytest.mark.parametrize(("projection", "paper"), [("first", "A3"), ("third", "A3"), ("first", "A4")])
def test_views_stand_as_far_apart_as_on_the_answer(bank, projection, paper):
    variant = bank["stepped-block"].sample(7)
    problem = problem_of(variant.record, variant.solid().exact)
    layout = drawing_of(problem, settings_of(Style(projection=projection, paper=paper))).layout
    record = record_of(problem.solid, {view: variant.solid().view(view) for view in VIEWS}, layout)
    across, up = (gap * record["step"] for gap in record["gaps"])
    front, side, top = (layout.box(view) for view in ("front", "left", "top"))
    beside = side[0] - front[2] if projection == "first" else front[0] - side[2]
    beyond = front[1] - top[3] if projection == "first" else top[1] - front[3]
    assert across == pytest.approx(beside / layout.scale, abs=RECORD_STEP)
    assert up == pytest.approx(beyond / layout.scale, abs=RECORD_STEP)


def test_centre_lines_reach_as_far_past_the_part_as_on_the_answer(bank):
    """The same 4 mm on every paper, so farther in the part where it is drawn smaller."""
    variant = bank["counterbored-block"].sample(7)
    problem, view = problem_of(variant.record, variant.solid().exact), variant.solid().view("top")
    layout = drawing_of(problem, settings_of(Style(paper="A4", title_block="quarry"))).layout
    told = record_of(problem.solid, {"top": view}, layout)["views"]["top"]["centre"]
    assert layout.scale < 1
    longest = max(float(np.linalg.norm(line[1] - line[0])) for line in polylines(told, RECORD_STEP))
    assert longest == pytest.approx(max(line.length for line in lines_of(view, LineKind.CENTRE, layout.scale)), abs=RECORD_STEP)
    assert longest > max(line.length for line in lines_of(view, LineKind.CENTRE))


def test_the_same_solid_makes_the_same_record(bank):
    one, other = (json.dumps(solid_and_record(sheetgen.load_bank(), "bored-tee")[1]) for _ in range(2))
    assert one == other


def test_the_viewer_and_sixty_solids_leave_half_of_three_megabytes_to_pictures(bank):
    """A pack of sixty in one file stays under 3 MB on disk; the heaviest families come as often as all others."""
    size = {name: len(json.dumps(solid_and_record(bank, name)[1], separators=(",", ":"))) for name in bank}
    many = [size[name] for name in islice((name for _ in range(60) for name in bank), 60)]
    assert sum(many) + (PAGE / "viewer.js").stat().st_size < 1_500_000
    assert 60 * max(size.values()) + (PAGE / "viewer.js").stat().st_size < 2_000_000


def test_a_packed_number_of_any_length_is_read_back():
    numbers = [0, 1, 127, 128, 2**14 - 1, 2**14, 2**40]
    assert unpacked(packed(numbers)) == numbers == unpacked(packed(np.array(numbers)))


def test_the_viewer_comes_with_the_licence_of_what_it_contains():
    """The MIT licence wants its text in all copies, and so in the built file too (from memory)."""
    lock = json.loads((ROOT / "viewer" / "package-lock.json").read_text(encoding="utf-8"))
    version = lock["packages"]["node_modules/three"]["version"]
    built, licence = ((PAGE / name).read_text(encoding="utf-8") for name in ("viewer.js", "three-licence.txt"))
    title, text = licence.split("\n\n", 1)
    assert title == f"three {version}" and f"three {version}" in built[:500] and text.strip() in built[:2000]
    assert text.startswith("The MIT License") and "shall be included in" in text


def test_the_viewer_is_small_and_asks_for_nothing():
    built = (PAGE / "viewer.js").read_bytes()
    assert len(gzip.compress(built, 9)) <= 250_000
    for sign in ("</script", "<!--", "fetch(", "XMLHttpRequest", "import(", "importScripts", "WebSocket", "eval(", "sendBeacon"):
        assert sign.encode() not in built, sign
    assert not re.findall(rb"https?://(?!www\.w3\.org/)[\w.]+/", built.split(b"*/", 1)[1])


def test_the_viewer_was_built_from_its_sources():
    """Its first lines tell their digest, as ``viewer/build.mjs`` takes it."""
    folder, digest = ROOT / "viewer", hashlib.sha256()
    for name in ("build.mjs", "package-lock.json", *(f"src/{path.name}" for path in sorted((folder / "src").iterdir()))):
        digest.update(f"{name}\n".encode() + (folder / name).read_bytes())
    assert f"Sources: {digest.hexdigest()}" in (PAGE / "viewer.js").read_text(encoding="utf-8")[:300]


@pytest.mark.parametrize("name", wording_names())
def test_the_viewer_gets_each_of_its_words_from_the_wording(name):
    source = (ROOT / "viewer" / "src" / "words.js").read_text(encoding="utf-8")
    asked = set(re.findall(r"'(\w+)'", source[:source.index("]")]))
    said = words_of(load_wording(name), "third")
    assert set(said) == asked and all(said.values()) and "third angle" in said["unfolded"]


