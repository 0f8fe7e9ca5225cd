"""The rules of dimensioning, held against finished sheets read from their PDF files. Sources stand at each rule.

Books: MD, *Machine Drawing* (Indian, after SP 46), p. 30-31; DIM, an Indian textbook's chapter on dimensioning; TED, *Textbook of
Engineering Drawing*, 2nd ed.; A145, an extract of the US dimensioning standard; ID, NAVEDTRA 14276.
"""

from __future__ import annotations

import io
from itertools import combinations

import numpy as np
import pypdfium2
import pytest
import shapely

from tests.outside.reader import MM, Lettering, Line
from tests.outside.sheets import ANSWERS, SOME, Made, answer, question
from tests.outside.sizes import Linear, circles_at, height_over, leaders, part_lines

FINE = 0.02      # mm: what rounding on paper may add


@pytest.fixture(scope="module", params=ANSWERS, ids=lambda key: "-".join(map(str, key)))
def made(request) -> Made:
    """An answer sheet of some families, in one projection or the other: with sizes, or the loops below would see nothing."""
    found = answer(*request.param)
    assert len(found.sizes.linear) >= 5 and all(extension_lines(found, size) for size in found.sizes.linear[:3])
    return found


@pytest.fixture(scope="module", params=SOME)
def asked(request) -> Made:
    """The question sheet of some families, with sizes."""
    found = question(request.param, 1)
    assert len(found.sizes.linear) >= 5
    return found


def test_on_these_sheets_there_are_notes_angles_and_leaders_to_look_at():
    pages = [answer(*key) for key in ANSWERS]
    assert sum(len(page.sizes.notes) for page in pages) > 15
    assert sum(len(page.sizes.angular) for page in pages) > 1
    assert sum(bool(note.radii) for page in pages for note in page.sizes.notes) > 5
    assert sum(note.places > 1 for page in pages for note in page.sizes.notes) > 5


def extension_lines(made: Made, size: Linear) -> list[Line]:
    """Thin lines through the tips of a size's arrowheads, square to its dimension line."""
    square = [line for line in made.sheet.thin if line.straight and abs(float(line.unit @ size.line.unit)) < 1e-6]
    tips = [arrow.tip for arrow in size.arrows]
    return [line for line in square if any(line.off(tip) < FINE and -FINE < line.along(tip) < line.length + FINE for tip in tips)]


def level_of(size: Linear) -> float:
    return float(size.line.points[0, 0 if size.upright else 1])


def side_of(made: Made, size: Linear) -> tuple[str, int, float]:
    """The view that a size's extension lines (or its arrowheads) belong to, the side of its box (-1, 1), mm outside the box."""
    k = 0 if size.upright else 1
    points = [point for line in extension_lines(made, size) for point in line.points] or [arrow.tip for arrow in size.arrows]
    name = min(made.sheet.views, key=lambda view: min(_outside(point, made.sheet.views[view]) for point in points))
    box = made.sheet.views[name]
    above, below = level_of(size) - box[k + 2], box[k] - level_of(size)
    return name, 1 if above > below else -1, max(above, below)


def _outside(point, box) -> float:
    """mm from a box to a point, 0 inside."""
    return float(np.hypot(*np.maximum(0, np.maximum(np.array(box[:2]) - point, point - np.array(box[2:])))))


def test_arrowheads_are_closed_and_filled_of_15_degrees_and_as_long_as_figures_are_high(made):
    # MD p. 30: closed, filled, 15 degrees included, so length / width = 1 / (2 tan 7.5) = 3.798; length about the figures' height
    for size in made.sizes.linear:
        for arrow in size.arrows:
            assert arrow.length / arrow.width == pytest.approx(3.798, abs=0.02)
            assert 3.0 - FINE <= arrow.length <= 3.5 + FINE


def test_extension_lines_run_2_to_3_mm_past_the_dimension_line(made):
    # 2 (8 line widths, ISO 129-1:2018, from memory) to 3 (US school lists)
    tips = [arrow.tip for size in made.sizes.linear for arrow in size.arrows]
    for size in made.sizes.linear:
        for line in extension_lines(made, size):
            on = [at for tip in tips if line.off(tip) < FINE and 0 < (at := line.along(tip)) < line.length]
            past = min(min(on), line.length - max(on))
            assert 2 - FINE <= past <= 3 + FINE, f"{size.number}: {past:.2f} mm past the last arrowhead"


def test_extension_lines_leave_a_gap_of_1_to_2_mm_to_the_part(made):
    # short visible gap, 1.5 (A145, US lists); about 8 line widths allowed (ISO 129-1:2018, from memory); one way per sheet
    # (a hidden line that happens to pass where the extension line begins is not what it is measured from)
    drawn = shapely.MultiLineString([line.string for line in part_lines(made.sheet) if len(line.dash) != 2])
    for size in made.sizes.linear:
        for line in extension_lines(made, size):
            gaps = [_onward(drawn, line.points[k], way * line.unit) for k, way in ((0, -1), (1, 1))]
            # 0.05: an extension line that starts at the side of a round runs along it for a moment
            assert 1 - 0.05 <= min(gaps) <= 2 + FINE, f"{size.number}: {min(gaps):.2f} mm"


def _onward(drawn: shapely.Geometry, start, way) -> float:
    """mm from a line's end, straight on, to the first line of the part; infinite if there is none within 5 mm."""
    met = shapely.LineString([start, start + 5 * way]).buffer(1e-3, cap_style="flat").intersection(drawn)
    return float("inf") if met.is_empty else met.distance(shapely.Point(start))


def test_a_dimension_line_outside_a_view_keeps_10_mm_from_it(made):
    # DIM: at least 10 from the outline to the first dimension line; US school lists: 3/8 inch
    for size in made.sizes.linear:
        _, _, out = side_of(made, size)
        assert out < 0 or out >= 10 - FINE, f"{size.number}: {out:.2f} mm from the view"


def test_parallel_dimension_lines_beside_each_other_keep_6_mm_apart(made):
    # A145: at least 6; DIM has 8 in its figure
    for one, other in combinations(made.sizes.linear, 2):
        if one.upright == other.upright and _share(one.line, other.line) > 1:
            assert one.line.off(other.line.points[0]) >= 6 - FINE, f"{one.number} and {other.number}"


def _share(one: Line, other: Line) -> float:
    """mm over which two parallel lines run beside each other."""
    low, high = sorted(one.along(point) for point in other.points)
    return float(min(high, one.length) - max(low, 0.0))


def test_of_two_sizes_on_one_side_the_shorter_within_the_longer_stands_nearer_the_view(made):
    # A145: shortest nearest the outline, overall outermost; a size within a recess of the view stands in no row outside it
    for one, other in combinations([size for size in made.sizes.linear if side_of(made, size)[2] > 0], 2):
        short, long = sorted((one, other), key=lambda size: size.number)
        if one.upright == other.upright and side_of(made, one)[:2] == side_of(made, other)[:2] and _within(short, long):
            assert side_of(made, short)[2] < side_of(made, long)[2], f"{short.number} stands outside {long.number}"


def _within(short: Linear, long: Linear) -> bool:
    low, high = sorted(long.line.along(arrow.tip) for arrow in long.arrows)
    return all(low - FINE <= long.line.along(arrow.tip) <= high + FINE for arrow in short.arrows)


def test_dimension_lines_and_leaders_do_not_cross(made):
    # A145: crossing dimension lines are avoided
    lines = [*(size.line for size in made.sizes.linear), *(line for line, _ in leaders(made.sheet))]
    strings = [line.string for line in lines]
    assert [(one, other) for one, other in combinations(strings, 2) if one.crosses(other)] == []


def test_no_outline_or_centre_line_serves_as_a_dimension_line(made):
    # ID p. 3-29; US school lists
    others = [line for line in made.sheet.lines if line.straight and (line.dash or line.width > 0.4)]
    for size in made.sizes.linear:
        covered = [line for line in others if line.off(size.line.points[0]) < 0.3 and line.off(size.line.points[1]) < 0.3
                   and _share(size.line, line) > 0.5]
        assert covered == [], f"{size.number} lies along a line of the part"


def test_figures_are_3_5_mm_high(made):
    # TED p. 2.9: dimensions 3.5; measured on the glyphs' own outlines
    page = pypdfium2.PdfDocument(io.BytesIO(made.data))[0]
    text = page.get_textpage()
    sizes = {entry.text: entry for entry in (size.lettering for size in made.sizes.linear) if abs(entry.angle) < 1}
    heights = []
    for k in range(text.count_chars()):
        left, bottom, right, top = (value * MM for value in text.get_charbox(k))
        if text.get_text_range(k, 1) in "1247" and any(_holds(entry, (left + right) / 2, bottom) for entry in sizes.values()):
            heights.append(top - bottom)          # figures with a flat foot and head: round ones reach a little farther
    assert heights == pytest.approx([3.5] * len(heights), abs=0.1)


def _holds(entry: Lettering, x: float, y: float) -> bool:
    return bool(entry.start[0] < x < entry.end[0] and abs(y - entry.start[1]) < 0.3)


def test_figures_stand_clear_over_an_unbroken_dimension_line(made):
    # MD p. 30: aligned, above the unbroken line; clear by 0.5 to 1.5 (common practice, no source)
    for size in made.sizes.linear:
        assert 0.5 <= height_over(size.lettering, size.line) <= 1.5


def test_figures_between_the_arrowheads_stand_in_the_middle(made):
    # MD p. 30: near the middle, but on no line of the part: aside of a centre line there (common practice, no source)
    for size in made.sizes.linear:
        low, high = sorted(size.line.along(arrow.tip) for arrow in size.arrows)
        at, middle = size.line.along(size.lettering.middle), (low + high) / 2
        if low < at < high and not _in_the_way(made, size, middle):
            assert abs(at - middle) < 0.1 * size.distance


def _in_the_way(made: Made, size: Linear, middle: float) -> bool:
    """Whether figures in the middle of their dimension line would stand on a line of the part."""
    half = float(np.linalg.norm(size.lettering.end - size.lettering.start)) / 2 + 1.0
    start = size.line.points[0]
    there = shapely.LineString([start + (middle + step) * size.line.unit for step in (-half, half)])
    return any(shapely.LineString(line.points).intersects(there) for line in part_lines(made.sheet))


def test_figures_on_views_read_from_below_or_from_the_right(made):
    # aligned method: from the bottom or the right of the sheet (MD p. 30; SP 46, from memory)
    for size in made.sizes.linear:
        assert size.lettering.angle == pytest.approx(90 if size.upright else 0, abs=0.01)
    for entry in (*(e for note in made.sizes.notes for e in note.letterings), *(size.lettering for size in made.sizes.angular)):
        assert entry.angle == pytest.approx(0, abs=0.01)


def test_figures_on_the_pictorial_never_stand_in_the_forbidden_sector(asked):
    # no dimension lines between 90 and 120 degrees from level (SP 46 / ISO 129 figure, from memory): figures there lean over
    assert asked.sizes.linear
    for entry in [size.lettering for size in asked.sizes.linear] + [e for note in asked.sizes.notes for e in note.letterings]:
        assert -60 < entry.angle < 90.01
        assert entry.up[1] > -1e-6 or entry.angle > 89.99, f"{entry.text} stands on its head"


def test_no_line_touches_lettering(made):
    # MD p. 31: text is not crossed or separated by any line
    _assert_text_free(made)


def test_no_line_touches_lettering_on_the_question(asked):
    # MD p. 31
    _assert_text_free(asked)


def _assert_text_free(made: Made) -> None:
    lines = shapely.STRtree([line.string.buffer(line.width / 2) for line in made.sheet.lines])
    for entry in made.sheet.lettering:
        if entry.text.strip():
            touched = lines.query(_box(entry), predicate="intersects")
            assert len(touched) == 0, f"{entry.text} is touched by a line"


def _box(entry: Lettering) -> shapely.Polygon:
    """Base line to the height of capitals (0.7 of the type)."""
    up = entry.up * entry.size * 0.7
    return shapely.Polygon([entry.start, entry.end, entry.end + up, entry.start + up])


def test_whole_circles_have_diameters_and_arcs_up_to_half_a_turn_have_radii(made):
    # full circles and arcs over 180 degrees: diameter; arcs up to 180 degrees: R (from memory); a slot may part one circle
    for note in made.sizes.notes:
        for circle in circles_at(made.sheet, note.arrow.tip):
            alike = [c for c in made.sheet.circles if abs(c.radius - circle.radius) < 0.02
                     and float(np.linalg.norm(c.centre - circle.centre)) < 0.05]
            turn = sum(c.line.length for c in alike) / circle.radius
            assert turn <= np.pi + 0.01 if note.radii else turn > np.pi, note.text


def test_a_note_has_one_arrowhead_at_the_circle(made):
    # R has one arrowhead, at the arc (MD p. 30)
    for note in made.sizes.notes:
        leader = note.leader.string
        on = [arrow for arrow in made.sheet.arrows if leader.distance(shapely.Point(arrow.base)) < 0.3]
        assert len(on) == 1


def test_millimetres_are_said_once_for_the_sheet_and_after_no_figure(made):
    # general note instead of mm after each figure (SP 46, from memory)
    assert sum("ALL DIMENSIONS IN MILLIMETRES" in entry.text for entry in made.sheet.lettering) == 1
    sizes = [size.lettering.text for size in (*made.sizes.linear, *made.sizes.angular)] + [note.text for note in made.sizes.notes]
    assert not any("mm" in text for text in sizes)
