"""The code box: a figure of the right size with its quiet zone free, the text where no cell shows it, filled corners."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
import segno
import shapely

from sheetgen.codes import WIDEST
from sheetgen.ink import Fill, Pen, Stroke, Text, text_box
from sheetgen.sheet import PAPERS
from sheetgen.sheet.codebox import MODULE, QUIET, code_marks, code_place
from sheetgen.sheet.paper import corner_marks, frame_marks
from sheetgen.sheet.titleblock_ink import coded_marks, ruled_marks, titleblock_box
from sheetgen.templating import TemplateError, load_title_block, load_wording, title_block_names
from tests.extent import bounds

CODE = "7VGXPU-2EXH91-MVWG3G"
IN_WORDS = "oblique-stepped-block-999999999.19-s"

CELLS = """\
title: Own
width: 120
height: {height}
cells:
  - {{box: [0, 10, 60, 10], text: "{shown}"}}
  - {{box: [60, 10, 30, 10], symbol: projection}}
  - {{box: [0, 0, 90, 10], text: "{{{{ notice }}}}"}}
"""
BOX = "  - {{box: [90, 0, 30, {high}], symbol: code}}\n"


def own_block(folder, shown="", high=0, height=20):
    """A block of a school's own: what its first cell shows, and how high its code box is (0: it has none)."""
    cells = CELLS.format(height=height, shown=shown) + (BOX.format(high=high) if high else "")
    (folder / "own.yaml").write_text(cells, encoding="utf-8")
    return load_title_block(folder / "own.yaml")


def fills(marks):
    return [mark for mark in marks if isinstance(mark, Fill)]


def texts(marks):
    return [mark.text for mark in marks if isinstance(mark, Text)]


def raster(marks, modules):
    """The figure in ink as modules, True where black, from its marks; each module's middle is looked at."""
    area = shapely.union_all([shapely.Polygon(mark.points) for mark in fills(marks)])
    x0, _, x1, y1 = area.bounds
    step = (x1 - x0) / modules
    x, y = np.meshgrid(x0 + step * (np.arange(modules) + 0.5), y1 - step * (np.arange(modules) + 0.5))
    return shapely.contains_xy(area, x, y), step


@pytest.mark.parametrize("name", title_block_names())
def test_the_figure_has_21_modules_of_0_6_mm_and_is_the_one_that_iso_iec_18004_gives(name):
    # size, quiet zone and module count of version 1: ISO/IEC 18004, from memory; which modules are black: segno, which wrote it
    black, step = raster(code_marks(CODE, load_title_block(name)), 21)
    figure = segno.make(CODE.replace("-", ""), error="m", micro=False, boost_error=False)
    assert (figure.designator, figure.mode, MODULE) == ("1-M", "alphanumeric", 0.6) and step == pytest.approx(0.6)
    assert np.array_equal(black, np.array([list(row) for row in figure.matrix], bool))


@pytest.mark.parametrize("name", title_block_names())
def test_four_modules_all_round_the_figure_stay_free_of_everything_in_the_block(name):
    block = load_title_block(name)
    x0, y0, x1, y1 = shapely.union_all([shapely.Polygon(mark.points) for mark in fills(code_marks(CODE, block))]).bounds
    quiet = shapely.box(x0 - QUIET * MODULE, y0 - QUIET * MODULE, x1 + QUIET * MODULE, y1 + QUIET * MODULE)
    half = {Pen.BORDER: 0.25, Pen.TABLE: 0.125, Pen.OUTLINE: 0.25, Pen.CENTRE: 0.125}
    for mark in ruled_marks(block, load_wording(), "first", (block.width, 0.0)):
        line = not isinstance(mark, Text)
        ink = shapely.LineString(mark.points).buffer(half[mark.pen]) if line else shapely.Polygon(text_box(mark))
        assert quiet.intersection(ink).area < 1e-9
    frame = shapely.LineString([(0, 0), (block.width, 0), (block.width, block.height)]).buffer(0.35, cap_style="flat")
    assert quiet.intersection(frame).area < 1e-9


def test_equal_modules_side_by_side_are_one_mark_and_no_two_marks_overlap():
    areas = [shapely.Polygon(mark.points) for mark in fills(code_marks(CODE, load_title_block("harbour")))]
    assert len(areas) < 130 and sum(area.area for area in areas) == pytest.approx(shapely.union_all(areas).area)


def test_a_code_in_words_has_a_figure_of_more_and_smaller_modules_in_the_same_room():
    block = load_title_block("quarry")
    black, step = raster(code_marks(IN_WORDS, block), 25)
    figure = segno.make(IN_WORDS.upper(), error="m", micro=False, boost_error=False)
    assert figure.version == 2 and np.array_equal(black, np.array([list(row) for row in figure.matrix], bool))
    assert step * (25 + 2 * QUIET) == pytest.approx(17.4)


def test_a_sheet_without_a_code_has_no_figure():
    assert code_marks("", load_title_block("harbour")) == []


@pytest.mark.parametrize("name", title_block_names())
def test_a_block_that_shows_the_number_has_no_second_text_of_the_code(name):
    block = load_title_block(name)
    assert texts(code_marks(CODE, block)) == [] and code_place(block).beside is None
    assert titleblock_box(block, PAPERS["A3"])[0] == 410.0 - block.width


@pytest.mark.parametrize(("shown", "high", "beside", "lines"), [
    ("{{ number }}", 0, (-18.0, 0.0, 0.0, 20.0), []),                     # as high as the block
    ("{{ title }}", 0, (-18.0, 0.0, 0.0, 31.0), CODE.split("-")),
    ("{{ title }}", 20, (-18.0, 0.0, 0.0, 13.0), CODE.split("-")),
    ("{{ title }}", 40, None, CODE.split("-")),
    ("{{ number }}", 40, None, []),
])
def test_what_a_block_has_no_room_for_stands_beside_it_and_is_kept_free(tmp_path, shown, high, beside, lines):
    block, paper = own_block(tmp_path, shown, high, max(high, 20)), PAPERS["A4"]
    assert code_place(block).beside == pytest.approx(beside) if beside else code_place(block).beside is None
    marks = coded_marks(block, CODE, (paper.x1, paper.y0))
    assert fills(marks) and [text for line in texts(marks) for text in line.split("-")] == lines
    x0, y0, x1, y1 = titleblock_box(block, paper)
    assert (x1, y0) == (paper.x1, paper.y0) and x0 == paper.x1 - 120 - (18 if beside else 0)
    reach = bounds([*marks, *ruled_marks(block, load_wording(), "first", (paper.x1, paper.y0))])
    assert np.abs(np.subtract(reach, (x0, y0, x1, y1))).max() <= 0.25 + 1e-9      # half the border's width
    figure = shapely.union_all([shapely.Polygon(mark.points) for mark in fills(marks)])
    figure = figure.buffer(QUIET * MODULE - 1e-6, join_style="mitre")
    assert not any(figure.intersects(shapely.Polygon(text_box(mark))) for mark in marks if isinstance(mark, Text))


def test_what_stands_beside_a_block_is_ruled_as_the_block_is(tmp_path):
    block = own_block(tmp_path, "{{ title }}")
    borders = [mark.points.tolist() for mark in ruled_marks(block, load_wording(), "first", (120.0, 0.0))
               if isinstance(mark, Stroke) and mark.pen is Pen.BORDER]
    assert [[-18.0, 0.0], [-18.0, pytest.approx(31.0)], [0.0, pytest.approx(31.0)], [0.0, 20.0]] in borders


def test_the_widest_code_has_room_as_text_and_one_too_long_is_told_with_the_blocks_file(tmp_path):
    block = own_block(tmp_path, "{{ title }}")
    assert texts(coded_marks(block, WIDEST, (0.0, 0.0))) == ["WWWWWW"] * 3
    with pytest.raises(TemplateError) as caught:
        coded_marks(block, f"{'w' * 40}-999999999", (0.0, 0.0))
    [fault] = caught.value.faults
    assert fault.file.endswith("own.yaml") and "too long for a box 18 mm wide" in fault.found and "number" in fault.wanted


@pytest.mark.parametrize("paper", PAPERS.values(), ids=PAPERS)
def test_three_corners_of_the_border_are_filled_and_that_at_the_title_block_is_not(paper):
    corners = [tuple(np.round([*mark.points.min(axis=0), *mark.points.max(axis=0)], 6).tolist()) for mark in corner_marks(paper)]
    x0, y0, x1, y1 = paper.frame
    wanted = [(x0 - 5, y0 - 5, x0, y0), (x0 - 5, y1, x0, y1 + 5), (x1, y1, x1 + 5, y1 + 5)]
    assert np.allclose(corners, wanted)
    letters = [shapely.Polygon(text_box(mark)) for mark in frame_marks(paper) if isinstance(mark, Text)]
    assert not any(shapely.box(*corner).distance(letter) < 2.0 for corner in corners for letter in letters)


def test_the_shipped_blocks_show_the_code_whatever_cells_they_gain():
    for name in title_block_names():
        block = load_title_block(name)
        bare = replace(block, cells=tuple(cell for cell in block.cells if not cell.text or "number" not in cell.text.names))
        assert code_place(bare).text is not None and code_place(block).text is None
