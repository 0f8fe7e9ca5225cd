"""Finished paper: question and answer sheets as PDF files, measured by readers that know nothing of the program."""

from __future__ import annotations

import hashlib
import io
import os
import re
import subprocess
import sys
from collections.abc import Iterator
from itertools import combinations
from pathlib import Path

import numpy as np
import pytest
from pypdf import PdfReader

from tests.outside.reader import Line
from tests.outside.sheets import ANSWERS, Made, answer, answer_anew, question

ROOT = Path(__file__).resolve().parents[2]
RULE = 0.02           # mm: what can be told on paper
D = 0.25              # mm: width of narrow lines


@pytest.fixture(scope="module", params=ANSWERS, ids=lambda key: "-".join(map(str, key)))
def made(request) -> Made:
    """An answer sheet of some families, in one projection or the other."""
    return answer(*request.param)


@pytest.fixture(params=[question, answer], ids=["question", "answer"])
def page(request) -> Made:
    """A question and an answer sheet with round and hidden detail."""
    return request.param("counterbored-block", 1)


def dashed(made: Made, elements: int) -> Iterator[Line]:
    """Dashed lines with so many elements in their pattern: 2 hidden lines, 4 centre lines."""
    return (line for line in made.sheet.lines if len(line.dash) == elements and not line.closed)


def test_a_page_is_a3_to_a_hundredth_of_a_millimetre(page):
    # ISO 216 / ISO 5457:1999 Table 1 (from memory): 420 x 297
    assert (page.sheet.width, page.sheet.height) == pytest.approx((420, 297), abs=0.01)


def test_the_drawing_space_is_390_by_277_with_a_filing_border_of_20(page):
    # ISO 5457:1999 cl. 4.2 (from memory): 20 left, 10 elsewhere; frame 0.7
    [frame] = [line for line in page.sheet.lines if line.closed and len(line.points) == 5 and abs(line.width - 0.7) < 0.001]
    assert [*frame.points.min(axis=0), *frame.points.max(axis=0)] == pytest.approx([20, 10, 410, 287], abs=RULE)


def test_lines_are_of_four_widths_of_the_series_only(page):
    # ISO 128-20:1996 cl. 4.1 (from memory): 0.25, 0.35, 0.5, 0.7 of the series; wide to narrow 2 : 1
    assert {round(line.width, 3) for line in page.sheet.lines} == {0.25, 0.35, 0.5, 0.7}


def test_on_these_sheets_there_are_hidden_and_centre_lines_to_look_at():
    pages = [answer(*key) for key in ANSWERS]
    assert sum(len(list(dashed(page, 2))) for page in pages) > 5 * len(pages)
    assert sum(len(list(dashed(page, 4))) for page in pages) > 4 * len(pages)
    assert sum(any(dashed(page, 2)) for page in pages) >= 0.8 * len(pages)


def test_hidden_and_centre_lines_are_narrow(made):
    # ISO 128-24:1999 Table 1, 02.1 and 04.1 (from memory)
    assert {round(line.width, 3) for line in made.sheet.lines if line.dash} <= {0.25}


def test_hidden_dashes_are_about_12_widths_long_with_gaps_of_3_and_fill_the_line(made):
    # dash 12 d, gap 3 d (ISO 128-20:1996 Table 3); the dash is stretched, the gap kept (ISO 128-21 cl. 5); all from memory
    for line in dashed(made, 2):
        dash, gap = line.dash
        assert gap == pytest.approx(3 * D, abs=0.001) or line.length < 3.0
        assert 6 * D - 0.01 <= dash <= 18 * D + 0.01 or line.length < 3.0
        at_end = (line.length + line.phase) % (dash + gap)
        whole = min(abs(at_end - dash), abs(at_end), abs(at_end - dash - gap))   # at the end of a dash, or of a last gap
        assert whole < 0.005, f"a hidden line {line.length:.2f} mm long ends inside a dash"


def test_centre_lines_begin_and_end_with_a_long_dash(made):
    # MED abstract, EA p. 3-21: both ends are long dashes; 24 d, 3 d, at most 0.5 d, 3 d (ISO 128-20:1996 Table 3, from memory)
    for line in dashed(made, 4):
        long, gap, dot, again = line.dash
        assert (gap, again) == pytest.approx((3 * D, 3 * D), abs=0.001)
        assert 0 < dot <= 0.5 * D + 0.001
        assert 0.4 * 24 * D - 0.01 <= long <= 1.5 * 24 * D
        assert line.phase == 0
        count = (line.length + gap + dot + again) / sum(line.dash)
        assert count == pytest.approx(round(count), abs=0.002)


def test_every_font_is_in_the_file(page):
    fonts = [font.get_object() for font in PdfReader(io.BytesIO(page.data)).pages[0]["/Resources"]["/Font"].values()]
    assert fonts
    for font in fonts:
        inner = font["/DescendantFonts"][0].get_object() if "/DescendantFonts" in font else font
        assert {"/FontFile", "/FontFile2", "/FontFile3"} & set(inner["/FontDescriptor"].get_object()), font["/BaseFont"]


def test_the_print_dialogue_is_asked_not_to_scale(page):
    # ISO 32000-1 Table 150 (from memory): PrintScaling None
    assert PdfReader(io.BytesIO(page.data)).trailer["/Root"]["/ViewerPreferences"]["/PrintScaling"] == "/None"


def test_the_check_bar_is_100_mm_long(page):
    bars = [line for line in page.sheet.thin if line.straight and line.points[:, 0].max() < 20]
    assert max(line.length for line in bars) == pytest.approx(100, abs=0.005)
    assert any(entry.text.startswith("100 mm") for entry in page.sheet.lettering)


def test_all_ink_keeps_5_mm_from_the_papers_edge(page):
    # what a school printer reaches (common practice, no source)
    points = np.concatenate([line.points for line in page.sheet.lines])
    assert points.min() >= 5 - 0.35
    assert (points <= np.array([420 - 5 + 0.35, 297 - 5 + 0.35])).all()


def test_each_view_is_as_large_as_the_part_at_the_scale(made):
    width, depth, height = made.problem.solid.size * made.sheet.scale
    sizes = {"front": (width, height), "top": (width, depth), "left": (depth, height), "right": (depth, height)}
    assert len(made.sheet.views) == 3
    for view, (x0, y0, x1, y1) in made.sheet.views.items():
        assert (x1 - x0, y1 - y0) == pytest.approx(sizes[view], abs=RULE), view


def test_views_stand_in_line_with_the_front_view(made):
    # shared sizes on common projectors: front and top the width, front and side the height (NP lecture 14)
    front, top = made.sheet.views["front"], made.sheet.views["top"]
    side = made.sheet.views.get("left") or made.sheet.views["right"]
    assert (top[0], top[2]) == pytest.approx((front[0], front[2]), abs=0.005)
    assert (side[1], side[3]) == pytest.approx((front[1], front[3]), abs=0.005)


def said(made: Made, word: str) -> tuple[list[float], float, float]:
    """The numbers of a printed line of arithmetic, (length - size - size ...) / parts = gap: those in brackets, parts, gap."""
    [text] = [entry.text for entry in made.sheet.lettering if entry.text.startswith(word) and " = " in entry.text]
    numbers = re.search(r"\(([\d. -]+)\) / ([23]) = ([\d.]+)", text)
    assert numbers is not None, text
    return [float(n) for n in numbers[1].split(" - ")], float(numbers[2]), float(numbers[3])


def test_the_printed_arithmetic_is_right_and_of_this_part(made):
    # thirds rule, EA p. 5-8; where room is kept for the title block, what is left is halved
    width, depth, height = made.problem.solid.size * made.sheet.scale
    across, up = said(made, "Across"), said(made, "Up")
    assert across[0] == pytest.approx([390, width, depth], abs=0.006) and across[1] == 3
    assert [up[0][0], *up[0][-2:]] == pytest.approx([277, height, depth], abs=0.006)
    assert len(up[0]) == (3 if up[1] == 3 else 4)
    for inside, parts, gap in (across, up):
        assert gap == pytest.approx((inside[0] - sum(inside[1:])) / parts, abs=0.006)


def test_the_gaps_on_paper_are_those_of_the_printed_arithmetic(made):
    (_, _, gap_across), (inside, parts, gap_up) = said(made, "Across"), said(made, "Up")
    boxes = list(made.sheet.views.values())
    columns = sorted({(round(b[0], 2), round(b[2], 2)) for b in boxes})
    rows = sorted({(round(b[1], 2), round(b[3], 2)) for b in boxes})
    gaps = (columns[0][0] - 20, columns[1][0] - columns[0][1], 410 - columns[1][1])
    assert gaps == pytest.approx((gap_across,) * 3, abs=RULE)
    lowest = gap_up if parts == 3 else inside[1]
    assert (rows[0][0] - 10, rows[1][0] - rows[0][1], 287 - rows[1][1]) == pytest.approx((lowest, gap_up, gap_up), abs=RULE)


def test_no_line_of_the_part_is_drawn_twice_or_under_another(made):
    # precedence: visible, hidden, centre (I128o, summary of ISO 128:1982): what coincides is drawn once
    part = [line for line in made.sheet.lines if line.straight and (line.dash or abs(line.width - 0.5) < 1e-3)]
    doubled = [(one.points.tolist(), other.points.tolist()) for one, other in combinations(part, 2) if _overlap(one, other) > 0.1]
    assert doubled == []


def _overlap(one: Line, other: Line) -> float:
    """mm over which two straight lines lie on each other."""
    if abs(float(one.unit @ other.unit)) < 0.9999 or one.off(other.points[0]) > 0.05 or one.off(other.points[1]) > 0.05:
        return 0.0
    low, high = sorted(one.along(point) for point in other.points)
    return min(high, one.length) - max(low, 0.0)


def test_the_same_sheet_made_twice_is_the_same_bytes():
    assert answer_anew("slotted-wedge", 1).data == answer("slotted-wedge", 1).data


def test_the_same_sheets_are_the_same_bytes_in_another_process_with_other_hashes():
    code = ("import hashlib; from tests.outside.sheets import answer, question\n"
            "print(*(hashlib.sha256(make('counterbored-block', 1).data).hexdigest() for make in (answer, question)))")
    environment = {**os.environ, "PYTHONHASHSEED": "4242", "PYTHONPATH": str(ROOT)}
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, cwd=ROOT, env=environment)
    assert done.stdout.split() == [hashlib.sha256(make("counterbored-block", 1).data).hexdigest() for make in (answer, question)]
