"""Printed codes as a program that we did not write reads them: from pages as a scanner sees them, a little turned and blurred."""

from __future__ import annotations

from io import BytesIO

import numpy as np
import pypdfium2
import pytest
import shapely
import zxingcpp
from PIL import Image, ImageFilter

from sheetgen.bank import load_bank
from sheetgen.codes import Code
from sheetgen.exercises import PRINTED, Role, make_exercise, sheets_of
from sheetgen.ink import Document, Fill, Mark, Page, Stroke, Text, flattened, text_box, write_pdf
from sheetgen.problem import problem_of
from sheetgen.sheet import Style, settings_of
from sheetgen.sheet.codebox import MODULE, QUIET, code_place
from tests.sheet.test_codebox import own_block

DPI = 150
"""Of a quick scan; a telephone sees more."""

BLUR = 1.0
"""Dots, the standard deviation: edges are spread over four."""

BANK = load_bank()
SAMPLE = ("angle-bracket-bored", "bevelled-block", "conical-boss", "half-round-saddle")

LOOKS = [Style(paper=paper, title_block=block, projection=projection, side=side) for paper, block, projection, side in (
    ("A3", "harbour", "first", "left"), ("A4", "quarry", "third", "right"), ("A3", "quarry", "third", "both"),
    ("A4", "harbour", "first", "right"))]


def scan(page: Page, turned: float, blur: float = BLUR) -> Image.Image:
    """The page on paper, as a grey picture."""
    file = BytesIO()
    write_pdf(Document([page], title="scan"), file)
    picture = pypdfium2.PdfDocument(file.getvalue())[0].render(scale=DPI / 72, grayscale=True).to_pil()
    return picture.rotate(turned, Image.Resampling.BICUBIC, fillcolor=255).filter(ImageFilter.GaussianBlur(blur))


def read(picture: Image.Image) -> list[str]:
    """What the codes in a picture hold."""
    return [found.text for found in zxingcpp.read_barcodes(picture, formats=zxingcpp.BarcodeFormat.QRCode)]


@pytest.mark.parametrize(("number", "family"), list(enumerate(SAMPLE)), ids=SAMPLE)
def test_every_code_is_read_from_a_scan_turned_and_blurred(number, family):
    style = LOOKS[number % len(LOOKS)]
    made = make_exercise(BANK[family], 1 + number, settings_of(style), PRINTED)
    for turned, role in ((1.5, Role.QUESTION), (-1.5, Role.ANSWER), (1.5, Role.BLANK)):
        [page] = made.sheets[role]
        assert read(scan(page, turned)) == [made.particulars.code.replace("-", "")]
    told = Code.read(made.particulars.code)
    assert (told.seed, told.draw) == (made.problem.identity.seed, made.problem.identity.draw)


def test_a_code_in_words_with_its_smaller_modules_is_read_too():
    problem = problem_of(BANK["oblique-stepped-block"].sample(999_999_999))
    [page] = sheets_of(problem, settings_of(Style()), [Role.BLANK])[Role.BLANK]
    assert [read(scan(page, turned, 0.7)) for turned in (1.5, -1.5)] == [["OBLIQUE-STEPPED-BLOCK-999999999"]] * 2


def test_three_dark_corners_show_which_way_up_a_scan_is():
    problem = problem_of(BANK["stepped-block"].sample(7))
    for style in LOOKS:
        settings = settings_of(style)
        [page] = sheets_of(problem, settings, [Role.QUESTION])[Role.QUESTION]
        grey, dots = np.asarray(scan(page, 0.0, 0.1)), DPI / 25.4
        x0, y0, x1, y1 = settings.paper.frame
        middles = [(x, settings.paper.height - y) for y in (y1 + 2.5, y0 - 2.5) for x in (x0 - 2.5, x1 + 2.5)]
        dark = [bool(grey[round(y * dots) - 10:round(y * dots) + 10, round(x * dots) - 10:round(x * dots) + 10].mean() < 60)
                for x, y in middles]
        assert dark == [True, True, True, False]              # upper left, upper right, lower left, lower right


def shape_of(mark: Mark) -> shapely.Geometry:
    """The ink of a mark without its width."""
    if isinstance(mark, Stroke):
        points = flattened(mark, 0.05)
        return shapely.LineString([*points, points[0]] if mark.closed else points)
    return shapely.Polygon(text_box(mark) if isinstance(mark, Text) else mark.points)


def quiet_zone(settings, page):
    """The figure of a page with its quiet zone."""
    x0, y0, x1, y1 = code_place(settings.block).figure
    corner = settings.paper.x1 - settings.block.width, settings.paper.y0
    box = shapely.box(corner[0] + x0, corner[1] + y0, corner[0] + x1, corner[1] + y1)
    modules = [mark for mark in page.marks if isinstance(mark, Fill) and box.contains(shapely.Polygon(mark.points))]
    figure = shapely.union_all([shapely.Polygon(mark.points) for mark in modules])
    return modules, shapely.box(*figure.buffer(QUIET * MODULE - 1e-6, join_style="mitre").bounds)


@pytest.mark.parametrize(("number", "family"), list(enumerate(SAMPLE)), ids=SAMPLE)
def test_nothing_else_stands_in_the_code_box_or_its_quiet_zone_on_any_sheet(tmp_path, number, family):
    style = LOOKS[number % len(LOOKS)]
    if number % 3 == 2:                                       # a block of the school's own, with the box beside it
        own_block(tmp_path, "{{ title }}")
        style = Style(paper=style.paper, title_block=tmp_path / "own.yaml", projection=style.projection, side=style.side)
    settings = settings_of(style)
    made = make_exercise(BANK[family], 1, settings, PRINTED)
    for [page] in made.sheets.values():
        modules, zone = quiet_zone(settings, page)
        assert len(modules) > 60
        own = {id(mark) for mark in modules}
        for mark in page.marks:
            if id(mark) not in own:
                assert not shape_of(mark).intersects(zone)
