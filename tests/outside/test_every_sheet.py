"""What holds for questions and answers alike, on every paper and in both ways of writing figures: read from the finished file.

Only lines, filled triangles and letters are looked at; sources as in ``test_dimension_rules.py``. Each test asserts that it found
what it is about.
"""

from __future__ import annotations

import io
import re
from collections.abc import Iterator
from functools import cache
from itertools import combinations

import numpy as np
import pytest
import shapely
from pypdf import PdfReader

from tests.outside.reader import Arrow, Lettering, Line, Sheet
from tests.outside.sheets import ANSWERS, SOME, Made, answer, question, styled
from tests.outside.sizes import NEAR, angle_arcs, leaders, part_lines

FINE = 0.02          # mm: what rounding on paper may add
FRAME = 0.7
USUAL = [("question", family) for family in SOME] + [("answer", *key) for key in ANSWERS]
LOOKS = [
    {"paper": "A2"}, {"paper": "A3", "figures": "upright"}, {"paper": "A4", "title_block": "quarry"},
    {"paper": "A2", "figures": "upright", "projection": "third", "side": "right", "title_block": "quarry"},
    {"paper": "A4", "title_block": "quarry", "figures": "upright", "projection": "third", "side": "right"},
    {"paper": "11x17", "side": "right"},
]
SMALL = ("stepped-block", "slotted-wedge", "counterbored-block", "hinge-lug", "round-ended-link", "bored-tee")
"""Which find room on the smallest paper."""
STYLED = [
    ("styled", role, family, k) for k, look in enumerate(LOOKS)
    for family in (SMALL[k % 2::2] if look["paper"] == "A4" else SOME[k::6]) for role in ("question", "answer")]


@pytest.fixture(scope="module", params=USUAL + STYLED, ids=lambda key: "-".join(map(str, key)))
def page(request) -> Made:
    """A question and an answer of some families, and fewer on the other papers and with upright figures."""
    kind, *key = request.param
    if kind == "styled":
        role, family, look = key
        return styled(role, family, 3, **LOOKS[look])
    return question(*key, 1) if kind == "question" else answer(*key)


@cache
def pieces(sheet: Sheet) -> tuple[tuple[Line, Arrow], ...]:
    """Straight dimension lines, or the pieces of one broken for its figures, each with an arrowhead on it."""
    found = []
    for arrow in sized(sheet):
        on = [line for line in sheet.thin if line.straight and line.off(arrow.tip) < NEAR and line.off(arrow.base) < NEAR
              and _shared(line, arrow.tip, arrow.base) > arrow.length / 3]
        found += [(line, arrow) for line in on]
    return tuple(found)


def sized(sheet: Sheet) -> list[Arrow]:
    """The arrowheads of sizes: not those of leaders and arcs, nor the arrow of sight, whose line is thick."""
    others = [arrow for _, arrow in leaders(sheet)] + [arrow for _, both in angle_arcs(sheet) for arrow in both]
    return [arrow for arrow in sheet.arrows if arrow.length < 4 and not any(arrow is other for other in others)]


def _shared(line: Line, a, b) -> float:
    """mm for which the stretch from a to b runs along a line."""
    low, high = sorted((line.along(a), line.along(b)))
    return min(high, line.length) - max(low, 0.0)


@cache
def extensions(sheet: Sheet) -> tuple[Line, ...]:
    """Extension lines: thin, through the tip of an arrowhead of a size, and no dimension line."""
    own = {id(line) for line, _ in pieces(sheet)}
    found = {
        id(line): line for _, arrow in pieces(sheet) for line in sheet.thin
        if line.straight and id(line) not in own and line.off(arrow.tip) < FINE and line.off(arrow.base) > 0.5
        and FINE < line.along(arrow.tip) < line.length - FINE}
    return tuple(found.values())


def overshoots(sheet: Sheet, line: Line) -> tuple[float, float]:
    """mm from each end of an extension line to the nearest arrowhead's tip on it."""
    tips = [arrow.tip for arrow in sheet.arrows if line.off(arrow.tip) < FINE]
    at = [place for place in map(line.along, tips) if 0 < place < line.length]
    return min(at), line.length - max(at)


def centre_lines(sheet: Sheet) -> list[Line]:
    return [line for line in sheet.lines if line.straight and len(line.dash) == 4]


def test_arrowheads_are_3_mm_long_and_of_15_degrees(page):
    # MD p. 30: length to width 3.8; as long as figures are high (ISO 129-1 annex A, from memory); one size on a sheet
    arrows = [arrow for arrow in page.sheet.arrows if arrow.length < 4]
    assert len(arrows) >= 10
    assert {round(arrow.length, 2) for arrow in arrows} == {3.0}
    for arrow in arrows:
        assert arrow.length / arrow.width == pytest.approx(3.8, abs=0.03)


def test_most_arrowheads_of_sizes_stand_on_a_dimension_line_and_all_on_some_line(page):
    # the reader above must have found them
    assert len(pieces(page.sheet)) >= 0.8 * len(sized(page.sheet)) >= 5


def test_extension_lines_begin_1_to_2_mm_from_what_they_come_from_and_run_2_mm_past_the_last_arrowhead(page):
    # short visible gap (A145, US lists), overshoot 2 to 3 (8 line widths, ISO 129-1:2018, from memory; US school lists)
    own = {id(line) for line, _ in pieces(page.sheet)} | {id(line) for line in extensions(page.sheet)}
    drawn = shapely.MultiLineString([line.string for line in page.sheet.lines if len(line.dash) != 2 and id(line) not in own])
    assert len(extensions(page.sheet)) >= 5
    for line in extensions(page.sheet):
        fits = [2 - FINE <= past <= 3 + FINE and _from_a_line(drawn, line.points[1 - k], (1 - 2 * k) * line.unit)
                for k, past in enumerate(overshoots(page.sheet, line))]
        assert any(fits), f"{line.points.round(1).tolist()}: past the arrows {overshoots(page.sheet, line)}"


def _from_a_line(drawn: shapely.Geometry, start, way) -> bool:
    """True if, straight on from a line's end, another line lies 1 to 2 mm away; less where a line is met at a sharp angle."""
    band = shapely.LineString([start + 0.85 * way, start + (2 + FINE) * way]).buffer(2e-3, cap_style="flat")
    return bool(shapely.intersects(band, drawn))


def test_no_extension_line_is_drawn_along_a_line_of_the_part_or_over_a_centre_line(page):
    # a centre line serves in its stead (SP 46 and ISO 129-1, from memory); an outline would seem to go on
    lines = [line for line in part_lines(page.sheet) if line.straight]
    for line in extensions(page.sheet):
        for other in lines:
            if max(other.off(line.points[0]), other.off(line.points[1])) < 0.55 and abs(float(other.unit @ line.unit)) > 0.9999:
                assert _shared(line, *other.points) < 0.2, f"an extension line lies on a line at {line.points.round(1)}"


def test_no_dimension_line_runs_beside_an_outline_nearer_than_5_mm(page):
    # it would read as one of them (common practice, no source); beside a hidden line it keeps 4, beside a centre line 2
    found = 0
    outlines = [line for line in part_lines(page.sheet) if line.straight]
    for line, _ in pieces(page.sheet):
        for other in outlines:
            if abs(float(other.unit @ line.unit)) > 0.9999 and _shared(line, *other.points) > 1.0:
                found += 1
                least = 5.0 if other.width > 0.4 else 3.9 if len(other.dash) == 2 else 2.0
                off = line.off(other.points[0])
                assert off >= least - FINE, f"a dimension line {off:.2f} mm beside a line at {line.points.round(1)}"
    assert found


def test_lettering_of_every_size_keeps_clear_of_every_line(page):
    # MD p. 31: text is crossed by no line; 0.5 clear, 0.4 for the letters of the grid (common practice, no source)
    lines = [line.string.buffer(line.width / 2, cap_style="flat") for line in page.sheet.lines]
    tree = shapely.STRtree(lines)
    seen = [entry for entry in page.sheet.lettering if entry.text.strip()]
    assert {round(entry.size, 1) for entry in seen} >= {2.6, 5.0}
    for entry in seen:
        least = 0.5 if _in_frame(page.sheet, entry) else 0.39
        near = tree.query(_box(entry), predicate="dwithin", distance=least - FINE)
        assert len(near) == 0, f"{entry.text}: {min(lines[k].distance(_box(entry)) for k in near):.2f} mm from a line"


def test_no_lettering_touches_another_or_an_arrowhead(page):
    seen = [entry for entry in page.sheet.lettering if entry.text.strip() and _in_frame(page.sheet, entry)]
    boxes = [_box(entry) for entry in seen]
    assert len(boxes) > 20
    pairs = shapely.STRtree(boxes).query(boxes, predicate="intersects")
    assert [(seen[i].text, seen[j].text) for i, j in pairs.T if i < j] == []
    heads = [shapely.LineString([arrow.tip, arrow.base]).buffer(arrow.width / 4, cap_style="flat") for arrow in page.sheet.arrows]
    met = shapely.STRtree(boxes).query(heads, predicate="intersects")
    assert [seen[j].text for _, j in met.T] == []


def _in_frame(sheet: Sheet, entry: Lettering) -> bool:
    return bool(20 < entry.start[0] < sheet.width - 10 and 10 < entry.start[1] < sheet.height - 10)


def _box(entry: Lettering) -> shapely.Polygon:
    """Base line to the height of capitals (0.7 of the type)."""
    up = entry.up * entry.size * 0.7
    return shapely.Polygon([entry.start, entry.end, entry.end + up, entry.start + up])


def test_lines_are_of_the_widths_of_the_series_and_wide_are_twice_as_wide_as_narrow_ones(page):
    # ISO 128-20:1996 cl. 4.1 (from memory)
    assert {round(line.width, 3) for line in page.sheet.lines} == {0.25, 0.35, 0.5, FRAME}
    assert {round(line.width, 3) for line in page.sheet.lines if line.dash} <= {0.25}
    assert page.sheet.wide and page.sheet.thin


def test_the_frame_stands_20_mm_from_the_left_and_10_from_the_other_edges(page):
    # ISO 5457:1999 cl. 4.2 (from memory)
    [frame] = [line for line in page.sheet.lines if line.closed and len(line.points) == 5 and abs(line.width - FRAME) < 0.001]
    width, height = page.sheet.width, page.sheet.height
    assert [*frame.points.min(axis=0), *frame.points.max(axis=0)] == pytest.approx([20, 10, width - 10, height - 10], abs=FINE)


def test_the_paper_is_that_of_the_standard_and_all_ink_keeps_5_mm_from_its_edge(page):
    # ISO 216, and for 11 x 17 inch ASME Y14.1 (both from memory); what a school printer reaches (common practice, no source)
    width, height = page.sheet.width, page.sheet.height
    sizes = ((420, 297), (594, 420), (297, 210), (17 * 25.4, 11 * 25.4))
    assert any((width, height) == pytest.approx(size, abs=0.01) for size in sizes)
    points = np.concatenate([line.points for line in page.sheet.lines])
    points = np.concatenate([points, *(np.array(_box(entry).exterior.coords) for entry in page.sheet.lettering)])
    assert points.min() >= 5 - 0.35
    assert (points <= np.array([width - 5 + 0.35, height - 5 + 0.35])).all()


def test_every_font_is_in_the_file_and_the_print_dialogue_is_asked_not_to_scale(page):
    # ISO 32000-1 Table 150 (from memory): PrintScaling None
    reader = PdfReader(io.BytesIO(page.data))
    fonts = [font.get_object() for font in reader.pages[0]["/Resources"]["/Font"].values()]
    assert fonts
    for font in fonts:
        inner = font["/DescendantFonts"][0].get_object() if "/DescendantFonts" in font else font
        assert {"/FontFile", "/FontFile2", "/FontFile3"} & set(inner["/FontDescriptor"].get_object()), font["/BaseFont"]
    assert reader.trailer["/Root"]["/ViewerPreferences"]["/PrintScaling"] == "/None"


def test_the_check_bar_is_100_mm_long_and_says_so(page):
    bars = [line for line in page.sheet.thin if line.straight and line.points[:, 0].max() < 20]
    assert max(line.length for line in bars) == pytest.approx(100, abs=0.005)
    assert any(entry.text.startswith("100 mm") for entry in page.sheet.lettering)


def test_figures_and_notes_are_in_type_whose_capitals_are_3_5_mm_high(page):
    # TED p. 2.9; every size is one: a number, an angle, Ø or R
    figures = re.compile(r"(\d+ × )?[ØR]?\d+(\.\d+)?°?( THROUGH)?$")
    sizes = [entry for entry in page.sheet.lettering if figures.match(entry.text) and _in_frame(page.sheet, entry)
             and not _in_a_block(page.sheet, entry)]
    assert len(sizes) >= 5
    assert {round(entry.size * 0.7, 2) for entry in sizes} == {3.5}


def _in_a_block(sheet: Sheet, entry: Lettering) -> bool:
    """True in the lower right corner, where the title block stands."""
    return bool(entry.start[0] > sheet.width - 200 and entry.start[1] < 70)


def test_centre_lines_begin_and_end_with_a_long_dash(page):
    # MED abstract, EA p. 3-21; 24 d, 3 d, at most 0.5 d, 3 d (ISO 128-20:1996 Table 3, from memory)
    for line in centre_lines(page.sheet):
        long, gap, dot, again = line.dash
        assert (gap, again) == pytest.approx((0.75, 0.75), abs=0.001)
        assert 0 < dot <= 0.126 and 2.39 <= long <= 9.0 and line.phase == 0
        count = (line.length + gap + dot + again) / sum(line.dash)
        assert count == pytest.approx(round(count), abs=0.002)


def test_hidden_lines_that_go_on_from_visible_ones_begin_with_a_gap_and_others_do_not(page):
    # US Navy manual p. 3-21
    hidden = [line for line in page.sheet.lines if len(line.dash) == 2 and line.straight]
    wide = [line for line in page.sheet.wide if line.straight]
    for line, end, gap in ((each, end, gap) for each in hidden for end, gap in _begins(each)):
        onward = line.points[end] - line.points[1 - end]
        goes_on = any(
            min(np.linalg.norm(other.points - line.points[end], axis=1)) < NEAR and abs(float(other.unit @ line.unit)) > 0.9999
            and max((other.points - line.points[end]) @ onward) > 0.1 for other in wide)
        assert gap is goes_on, f"a hidden line at {line.points[end].round(2)}"


def _begins(line: Line) -> Iterator[tuple[int, bool]]:
    """Each end of a dashed line, and whether there is a gap at it."""
    dash, gap = line.dash
    yield 0, line.phase % (dash + gap) > dash - FINE
    stop = (line.phase + line.length) % (dash + gap)
    yield 1, stop > dash + FINE


def test_no_two_lines_of_the_part_lie_on_each_other(page):
    # precedence: visible, hidden, centre (ISO 128:1982, from memory)
    part = [line for line in part_lines(page.sheet) if line.straight]
    assert part
    strings = [line.string for line in part]
    near = shapely.STRtree(strings).query(strings, predicate="dwithin", distance=0.05).T
    for i, j in near:
        if i < j and abs(float(part[i].unit @ part[j].unit)) > 0.9999:
            one, other = sorted((part[i], part[j]), key=lambda line: -line.length)
            if max(one.off(other.points[0]), one.off(other.points[1])) < 0.05:
                assert _shared(one, *other.points) < 0.1, f"at {other.points.round(1)}"


def test_over_all_families_there_are_hidden_lines_that_go_on_centre_lines_and_upright_figures():
    """That the loops above have something to look at."""
    pages = [answer(*key).sheet for key in ANSWERS]
    hidden = [line for sheet in pages for line in sheet.lines if len(line.dash) == 2 and line.straight]
    assert sum(gap for line in hidden for _, gap in _begins(line)) >= 2
    assert sum(len(centre_lines(sheet)) for sheet in pages) > 20
    assert sum(len(extensions(sheet)) for sheet in pages) > 100
    upright = styled("answer", SOME[1], 3, **LOOKS[1])
    turned = [entry for entry in upright.sheet.lettering if re.fullmatch(r"\d+", entry.text) and abs(entry.angle) > 1
              and _in_frame(upright.sheet, entry)]
    assert turned == []
    assert len(list(combinations(pieces(upright.sheet), 2))) > 10
