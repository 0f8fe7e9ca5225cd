"""Is the reader to be trusted? Pages drawn by hand, stroke by stroke, some of them wrong on purpose."""

from __future__ import annotations

import io
import math

import pytest
from reportlab.pdfgen.canvas import Canvas

from tests.outside.reader import Sheet, read
from tests.outside.sizes import circles_at, sizes_of

MM = 72 / 25.4


def page(draw) -> Sheet:
    """An A3 page on which ``draw`` has drawn, in mm."""
    out = io.BytesIO()
    canvas = Canvas(out, pagesize=(420 * MM, 297 * MM))
    canvas.scale(1, 1)
    draw(canvas)
    canvas.showPage()
    canvas.save()
    return read(out.getvalue())


def stroke(canvas: Canvas, *points: tuple[float, float], width: float = 0.25, dash=()) -> None:
    canvas.setLineWidth(width * MM)
    canvas.setDash([length * MM for length in dash])
    path = canvas.beginPath()
    path.moveTo(points[0][0] * MM, points[0][1] * MM)
    for x, y in points[1:]:
        path.lineTo(x * MM, y * MM)
    canvas.drawPath(path)


def arrow(canvas: Canvas, x: float, y: float, degrees: float) -> None:
    """An arrowhead with its tip at (x, y), 3 mm long and 15 degrees wide, pointing ``degrees`` from level."""
    along, half = math.radians(degrees), 3 * math.tan(math.radians(7.5))
    back = (x - 3 * math.cos(along), y - 3 * math.sin(along))
    path = canvas.beginPath()
    path.moveTo(x * MM, y * MM)
    for side in (1, -1):
        path.lineTo((back[0] - side * half * math.sin(along)) * MM, (back[1] + side * half * math.cos(along)) * MM)
    path.close()
    canvas.drawPath(path, stroke=0, fill=1)


def write(canvas: Canvas, text: str, x: float, y: float, turned: bool = False) -> None:
    canvas.saveState()
    canvas.translate(x * MM, y * MM)
    canvas.rotate(90 if turned else 0)
    canvas.setFont("Helvetica", 5 * MM)
    canvas.drawCentredString(0, 0, text)
    canvas.restoreState()


def dimension(text: str, distance: float):
    """A level dimension line ``distance`` long with its number over it."""
    def draw(canvas: Canvas) -> None:
        stroke(canvas, (101.5, 100), (100 + distance - 1.5, 100))
        arrow(canvas, 100, 100, 180)
        arrow(canvas, 100 + distance, 100, 0)
        write(canvas, text, 100 + distance / 2, 101)
    return draw


def test_a_dimension_is_read_as_number_and_distance():
    [size] = sizes_of(page(dimension("40", 40))).linear
    assert size.number == 40
    assert size.distance == pytest.approx(40, abs=1e-3)
    assert not size.upright
    assert size.arrows[0].length / size.arrows[0].width == pytest.approx(3.798, abs=0.01)


def test_a_wrong_number_is_read_as_wrong():
    [size] = sizes_of(page(dimension("41", 40))).linear
    assert abs(size.number - size.distance) == pytest.approx(1, abs=1e-3)


def test_an_upright_dimension_with_arrows_outside_is_read():
    def draw(canvas: Canvas) -> None:
        stroke(canvas, (100, 94), (100, 121))
        arrow(canvas, 100, 100, 90)
        arrow(canvas, 100, 106, 270)
        write(canvas, "6", 99, 114, turned=True)

    [size] = sizes_of(page(draw)).linear
    assert (size.number, size.upright) == (6, True)
    assert size.distance == pytest.approx(6, abs=1e-3)
    assert size.lettering.angle == pytest.approx(90)


def test_a_number_without_a_line_is_a_stray():
    assert sizes_of(page(lambda canvas: write(canvas, "25", 200, 200))).stray == ("25: 0 lines",)


def test_a_line_with_one_arrowhead_is_no_dimension_line():
    def draw(canvas: Canvas) -> None:
        stroke(canvas, (100, 100), (140, 100))
        arrow(canvas, 140, 100, 0)
        write(canvas, "40", 120, 101)

    assert sizes_of(page(draw)).stray == ("40: 0 lines",)


def test_a_leader_is_read_with_its_note_and_its_circle():
    def draw(canvas: Canvas) -> None:
        canvas.setLineWidth(0.5 * MM)
        canvas.circle(100 * MM, 100 * MM, 8 * MM)
        c = math.sqrt(0.5)
        stroke(canvas, (100 + 9.5 * c, 100 + 9.5 * c), (115, 115), (118, 115))
        arrow(canvas, 100 + 8 * c, 100 + 8 * c, 225)
        canvas.setFont("Helvetica", 5 * MM)
        canvas.drawString(119 * MM, 113.25 * MM, "\u00d816")

    sheet = page(draw)
    [note] = sizes_of(sheet).notes
    [circle] = circles_at(sheet, note.arrow.tip)
    assert note.diameters == [16]
    assert circle.radius == pytest.approx(8, abs=0.005)
    assert circle.centre == pytest.approx([100, 100], abs=0.005)


def test_widths_and_dashes_are_read_in_millimetres():
    sheet = page(lambda canvas: stroke(canvas, (50, 50), (83, 50), dash=(3, 0.75)))
    [line] = sheet.lines
    assert (line.width, *line.dash) == pytest.approx((0.25, 3, 0.75), abs=1e-4)
    assert line.length == pytest.approx(33, abs=1e-3)


def test_views_are_told_by_the_titles_under_them():
    def draw(canvas: Canvas) -> None:
        for x, y, title in ((50, 60, "FRONT VIEW"), (50, 160, "TOP VIEW"), (200, 60, "SIDE VIEW FROM THE RIGHT")):
            stroke(canvas, (x, y), (x + 60, y), (x + 60, y + 40), (x, y + 40), (x, y), width=0.5)
            write(canvas, title, x + 30, y - 9)

    boxes = {"front": (50, 60, 110, 100), "top": (50, 160, 110, 200), "right": (200, 60, 260, 100)}
    assert page(draw).views == {view: pytest.approx(box, abs=1e-3) for view, box in boxes.items()}


def test_elevations_and_plan_are_views_too():
    def draw(canvas: Canvas) -> None:
        for y, title in ((60, "FRONT ELEVATION"), (160, "PLAN")):
            stroke(canvas, (50, y), (110, y), (110, y + 40), (50, y + 40), (50, y), width=0.5)
            write(canvas, title, 80, y - 9)

    assert set(page(draw).views) == {"front", "top"}
