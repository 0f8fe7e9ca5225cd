"""Count pages by what makes them hard to read, from what was placed on them, over random pairs of all families and styles.

    python tests/bench/legibility.py [--pairs 252] [--first-seed 0] [--jobs 2] [--families a,b] [--list DEFECT]

Nothing here is wrong on a page; each is what a strict examiner marks in pencil. ``--list`` names the pages that have a defect.
Lengths are drawing practice or judgement (common practice, no source).
"""

from __future__ import annotations

import argparse
import sys
from collections import Counter
from collections.abc import Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import replace
from functools import partial
from itertools import combinations, permutations, product
from pathlib import Path

import numpy as np
import shapely
import shapely.affinity

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))
from sheetgen.bank import load_bank
from sheetgen.exercises.drawing import Drawing, drawing_of
from sheetgen.exercises.kinds.views.question import lines_of
from sheetgen.exercises.picture import Picture, picture_of
from sheetgen.geometry import Array
from sheetgen.ink import Text, text_width
from sheetgen.placing import Item, Placement
from sheetgen.placing.candidate import FIRST_TIER, NEXT_TIER
from sheetgen.placing.offers.on_views import faces_measured
from sheetgen.problem import Problem, problem_of
from sheetgen.refusals import RefusedError
from sheetgen.sheet import Settings, settings_of
from sheetgen.sight import PlacedView
from sheetgen.solid import Plane
from tests.bench.sweep import STYLES

LONG = 20.0              # mm of an extension line over the part
NUMBERS, NAMES = 4.0, 6.0    # mm between two numbers side by side, between a number and a name
AT_TIP = 0.3             # mm from an arrow's tip: what it meets there it touches
SAMPLE = 0.25            # mm
CLEAR = 0.8              # mm round figures and names
FIGURES, BEND = 1.4, 2.0    # mm between figures, or a leader's bend, and an outline
PAST = 3.0               # mm that an extension line goes on past its own arrow, and some
SOME = 8.0               # mm of an extension line over a view that a strict reader marks
BESIDE = 5.8             # mm between dimension lines side by side
DEFECTS = (
    "question: a dimension line crosses an outline",
    "question: a dimension line crosses a curve",
    "question: an extension line over the part for more than 20 mm",
    "answer: a dimension line crosses an outline",
    "answer: an extension line over a view for more than 20 mm",
    "answer: the names of a row of views a tier lower than there is room",
    "answer: names of one row at different heights",
    "numbers side by side under 4 mm apart, or a number and a name under 6",
    "answer: a size on a view that shows nothing of its feature's shape, though another does",
    "answer: a size farther out than there is room",
    "answer: a view's name aside of the middle",
    "question: a leader's bend or figures close to an outline",
    "answer: a leader's bend or figures close to an outline",
    "question: an arrow on the extension line of a size along another axis, which goes on",
    "answer: an extension line over a view for more than 8 mm",
)
STRICTER = 11
"""The defect from which on they are told, and no page is judged by them."""


def pictorial_defects(picture: Picture) -> set[str]:
    """What is hard to read on a question's pictorial."""
    found = set()
    curves = [line for line in picture.view.coarse("visible") if len(line) > 2]
    straights = [line for line in picture.view.coarse("visible") if len(line) == 2]
    sizes = picture.chosen[:len(picture.items)]
    for placement in _lengths(sizes):
        if _crosses(placement, straights):
            found.add(DEFECTS[0])
        if _crosses(placement, curves):
            found.add(DEFECTS[1])
    if any(_over(line, [picture.view]) > LONG for placement in sizes for line in placement.drawn.extensions):
        found.add(DEFECTS[2])
    if _side_by_side(picture.chosen):
        found.add(DEFECTS[7])
    if _close(sizes, [*curves, *straights]):
        found.add(DEFECTS[11])
    if any(_passed(one, other) for one, other in permutations(_lengths(sizes), 2)):
        found.add(DEFECTS[13])
    return found


def drawing_defects(drawing: Drawing, problem: Problem) -> set[str]:
    """What is hard to read on an answer's views."""
    found, count = set[str](), len(drawing.items)
    sizes, names = drawing.chosen[:count], drawing.chosen[count:]
    lines = [line for view in drawing.views for line in view.coarse("visible")]
    if any(_crosses(placement, lines) for placement in _lengths(sizes)):
        found.add(DEFECTS[3])
    if any(_over(line, drawing.views) > LONG for placement in sizes for line in placement.drawn.extensions):
        found.add(DEFECTS[4])
    if any(_over(line, drawing.views) > SOME for placement in sizes for line in placement.drawn.extensions):
        found.add(DEFECTS[14])
    if _close(sizes, lines):
        found.add(DEFECTS[12])
    rows: dict[float, list[int]] = {}
    for k, view in enumerate(drawing.views):
        rows.setdefault(round(view.box[1], 3), []).append(k)
    if any(all(_too_low(drawing, k) for k in row) for row in rows.values()):
        found.add(DEFECTS[5])
    at = [name.drawn.texts[0].at for name in names]
    if any(len({round(at[k][1], 3) for k in row}) > 1 for row in rows.values()):
        found.add(DEFECTS[6])
    if any(abs(x - (view.box[0] + view.box[2]) / 2) > AT_TIP for (x, _), view in zip(at, drawing.views, strict=True)):
        found.add(DEFECTS[10])
    if _side_by_side(drawing.chosen):
        found.add(DEFECTS[7])
    if any(_shapeless(drawing, problem, item, place) for item, place in zip(drawing.items, sizes, strict=True)):
        found.add(DEFECTS[8])
    if any(_too_far_out(drawing, placement) for placement in _lengths(sizes)):
        found.add(DEFECTS[9])
    return found


def _close(placements: Sequence[Placement], lines: Sequence[Array]) -> bool:
    """Whether figures, or the bend of a leader, come close to lines of the part."""
    outlines = shapely.MultiLineString(list(lines))
    for placement in placements:
        drawn = placement.drawn
        if any(_box(text).distance(outlines) < FIGURES for text in drawn.texts):
            return True
        if len(drawn.heads) == 1 and any(shapely.Point(bend).distance(outlines) < BEND for bend in drawn.lines[0][1:]):
            return True
    return False


def _passed(one: Placement, other: Placement) -> bool:
    """Whether an arrow of one length lies on an extension line of the other, across its own way, that goes on past it."""
    (ax, ay), (bx, by) = (placement.drawn.heads[0].along for placement in (one, other))
    if abs(ax * by - ay * bx) < 1e-6:
        return False
    for head, line in product(one.drawn.heads, other.drawn.extensions):
        on = shapely.distance(shapely.Point(head.tip), shapely.linestrings(line)) < AT_TIP
        if on and np.hypot(*(line[1] - head.tip)) > PAST:
            return True
    return False


def _lengths(placements: Sequence[Placement]) -> list[Placement]:
    """Those that are dimension lines with two arrows."""
    return [placement for placement in placements if len(placement.drawn.heads) == 2]


def _crosses(placement: Placement, lines: Sequence[Array]) -> bool:
    """Whether a dimension line crosses lines of the part elsewhere than at its arrows' tips."""
    drawn = placement.drawn
    if not lines:
        return False
    met = shapely.intersection(shapely.MultiLineString(list(drawn.lines)), shapely.MultiLineString(list(lines)))
    points = shapely.get_coordinates(met)
    tips = np.array([head.tip for head in drawn.heads])
    return bool((np.hypot(*(points[:, None] - tips[None]).T).min(axis=0) > AT_TIP).any()) if len(points) else False


def _over(line: Array, views: Sequence[PlacedView]) -> float:
    """mm of a line (2, 2) over the part."""
    length = float(np.hypot(*(line[1] - line[0])))
    share = (np.arange(max(1, round(length / SAMPLE))) + 0.5) * SAMPLE / length
    points = line[0] + share[:, None] * (line[1] - line[0])
    return SAMPLE * float(sum(view.shadow.over(points).sum() for view in views))


def _box(text: Text, clear: float = 0.0) -> shapely.Polygon:
    """The box round a text, grown by ``clear`` mm."""
    width = text_width(text.text, text.height)
    along, up = np.array(text.along), np.array(text.up)
    start = np.array(text.at) - {"start": 0.0, "middle": 0.5, "end": 1.0}[text.anchor] * width * along
    corners = [start, start + width * along, start + width * along + text.height * up, start + text.height * up]
    return shapely.Polygon(corners).buffer(clear, join_style="mitre")


def _side_by_side(placements: Sequence[Placement]) -> bool:
    """Whether figures stand so near in one line that they may be read as one number, or with a name as its figure."""
    texts = [(text, k) for k, placement in enumerate(placements) for text in placement.drawn.texts]
    for (one, i), (other, j) in combinations(texts, 2):
        if i == j or abs(one.along[0] * other.along[1] - one.along[1] * other.along[0]) > 1e-6:
            continue
        least = NUMBERS if any(sign.isdigit() for sign in one.text) and any(sign.isdigit() for sign in other.text) else NAMES
        along, across = np.array(one.along), np.array([-one.along[1], one.along[0]])
        (a, b), (c, d) = ([_reach(_box(text), way) for text in (one, other)] for way in (along, across))
        apart = max(a[0], b[0]) - min(a[1], b[1])
        level = min(c[1], d[1]) - max(c[0], d[0])
        if 0 <= apart < least and level > one.height / 2:
            return True
    return False


def _reach(box: shapely.Polygon, way: Array) -> tuple[float, float]:
    places = shapely.get_coordinates(box) @ way
    return float(places.min()), float(places.max())


def _obstacles(drawing: Drawing, without: Placement) -> tuple[list[Array], list[shapely.Polygon]]:
    """Lines and the boxes of texts on the sheet, but for one placement's own."""
    others = [placement for placement in drawing.chosen if placement is not without]
    lines = [line for view in drawing.views for kind in ("visible", "hidden", "centre") for line in view.coarse(kind)]
    lines += [line for placement in others for line in (*placement.drawn.lines, *placement.drawn.extensions)]
    return lines, [_box(text) for placement in others for text in placement.drawn.texts]


def _too_low(drawing: Drawing, k: int) -> bool:
    """Whether a view's name could stand a tier nearer to it: clear of all else, and not between the view and its sizes."""
    name, view = drawing.chosen[len(drawing.items) + k], drawing.views[k]
    lines, boxes = _obstacles(drawing, name)
    [text] = name.drawn.texts
    nearer = shapely.affinity.translate(_box(text, CLEAR), 0.0, NEXT_TIER)
    if nearer.bounds[3] > view.box[1] - 1.0:
        return False
    between = [_field(placement) for placement in _lengths(drawing.chosen)]
    return not nearer.intersects(shapely.union_all([shapely.MultiLineString(lines), *boxes, *between]))


def _field(placement: Placement) -> shapely.Geometry:
    """What lies between a dimension line and where its extension lines start."""
    return shapely.MultiPoint(np.concatenate([*placement.drawn.lines, *placement.drawn.extensions])).convex_hull


def _shapeless(drawing: Drawing, problem: Problem, item: Item, placement: Placement) -> bool:
    """Whether a length stands where no face of its feature is seen edge-on, though in another view all are."""
    axis = item.main.axis
    if item.kind != "span" or axis is None:
        return False
    faces = faces_measured(problem.solid, item)
    shares = [_share(view, problem, faces) for view in drawing.views if max(map(abs, view.unit(axis))) > 0.5]
    return _share(drawing.views[placement.view], problem, faces) < 0.34 and max(shares) > 0.99


def _share(view: PlacedView, problem: Problem, faces: Sequence[int]) -> float:
    surfaces = [problem.solid.surfaces[k] for k in faces]
    shown = [
        abs(float(s.normal @ view.view.frame.toward)) < 1e-6 if isinstance(s, Plane)
        else abs(float(s.direction @ view.view.frame.toward)) > 1 - 1e-9 for s in surfaces]
    return sum(shown) / max(1, len(shown))


def _too_far_out(drawing: Drawing, placement: Placement) -> bool:
    """Whether a length outside its view could stand a tier nearer: clear of all else, in line with others or well apart."""
    drawn, view = placement.drawn, drawing.views[placement.view]
    tips = np.array([head.tip for head in drawn.heads])
    way = 0 if abs(tips[0, 1] - tips[1, 1]) < 1e-6 else 1
    if abs(tips[0, 1 - way] - tips[1, 1 - way]) > 1e-6:
        return False
    level, (low, high) = float(tips[0, 1 - way]), (view.box[1 - way], view.box[3 - way])
    side = 1 if level > high else -1
    if (level - high if side > 0 else low - level) < FIRST_TIER + NEXT_TIER - 0.1:
        return False
    shift = np.zeros(2)
    shift[1 - way] = -side * NEXT_TIER
    lines, boxes = _obstacles(drawing, placement)
    figures = shapely.affinity.translate(_box(drawn.texts[0], CLEAR), *shift)
    if figures.intersects(shapely.union_all([shapely.MultiLineString(lines), *boxes])):
        return False
    [text] = drawn.texts
    there = replace(drawn, texts=(replace(text, at=(text.at[0] + shift[0], text.at[1] + shift[1])),))
    if _side_by_side([replace(placement, drawn=there), *(other for other in drawing.chosen if other is not placement)]):
        return False
    moved = shapely.MultiLineString([line + shift for line in drawn.lines])
    for other in drawing.chosen:
        if other is placement:
            continue
        if any(_near(line, moved, level - side * NEXT_TIER, 1 - way) for line in other.drawn.lines):
            return False
        for line in other.drawn.extensions:
            met = shapely.get_coordinates(shapely.intersection(moved, shapely.linestrings(line)))
            at = tips + shift
            if len(met) and np.hypot(*(met[:, None] - at[None]).T).min() > AT_TIP:
                return False
    return not any(box.intersects(moved) for box in boxes)


def _near(line: Array, moved: shapely.Geometry, level: float, across: int) -> bool:
    """Whether another's dimension line or leader stands too near to be beside the moved one, and is not in line with it."""
    if np.abs(line[:, across] - level).max() < 1e-6:
        return bool(shapely.intersection(shapely.linestrings(line), moved).length > 1e-6)
    return bool(shapely.distance(shapely.linestrings(line), moved) < BESIDE)


def judged(job: tuple[str, int, int]) -> tuple[tuple[str, int, int], set[str] | str]:
    """The defects of one pair, or why it was refused."""
    family, seed, style = job
    settings = settings_of(STYLES[style])
    try:
        problem = problem_of(load_bank()[family].sample(seed))
        return job, _defects(problem, settings)
    except RefusedError as error:
        return job, str(error.reasons[0].what)


def _defects(problem: Problem, settings: Settings) -> set[str]:
    drawing = drawing_of(problem, settings)
    picture, _ = picture_of(problem, settings, partial(lines_of, problem, settings, drawing.layout))
    return pictorial_defects(picture) | drawing_defects(drawing, problem)


def jobs_of(names: Sequence[str], pairs: int, first_seed: int) -> Iterator[tuple[str, int, int]]:
    """Families in turn, each with seeds and styles of its own."""
    for k in range(pairs):
        yield names[k % len(names)], first_seed + k // len(names), (k * 5 + k // len(names)) % len(STYLES)


def main() -> None:
    """Count and print."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--pairs", type=int, default=252)
    parser.add_argument("--first-seed", type=int, default=0)
    parser.add_argument("--jobs", type=int, default=2)
    parser.add_argument("--families", default="")
    parser.add_argument("--list", type=int, default=-1, metavar="DEFECT", help="name the pages with the defect of that number")
    options = parser.parse_args()
    names = options.families.split(",") if options.families else list(load_bank())
    jobs = list(jobs_of(names, options.pairs, options.first_seed))
    with ProcessPoolExecutor(options.jobs) as pool:
        found = list(pool.map(judged, jobs, chunksize=4))
    counts = Counter(defect for _, defects in found if isinstance(defects, set) for defect in defects)
    refused = Counter(job[0] for job, defects in found if isinstance(defects, str))
    for number, defect in enumerate(DEFECTS):
        print(f"{number:2} {defect:90} {counts[defect]:4}")
    clean = [sum(isinstance(d, set) and not any(e.startswith(sheet) or e[0] == "n" for e in d & {*DEFECTS[:STRICTER]}) for _, d in found)
             for sheet in ("question", "answer")]
    print(f"{len(found)} pairs; without any: {clean[0]} questions, {clean[1]} answers; refused: {dict(refused) or 'none'}")
    if options.list >= 0:
        for (family, seed, style), defects in found:
            if DEFECTS[options.list] in defects:
                print(f"  {family} {seed} style {style}")


if __name__ == "__main__":
    main()
