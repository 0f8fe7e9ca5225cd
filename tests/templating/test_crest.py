"""Crests: plain shapes and dots are drawn as they are; whatever could run, grow or be looked up is refused, with its line."""

from __future__ import annotations

import struct
import zlib
from io import BytesIO, StringIO

import numpy as np
import pypdfium2
import pytest
from click.testing import CliRunner
from PIL import Image, PngImagePlugin
from pypdf import PdfReader

from sheetgen.cli import main
from sheetgen.ink import Document, Page, Picture, Shape, enlarged, page_of_text, page_text, write_pdf, write_svg
from sheetgen.sets.run import digest_of
from sheetgen.sheet import Style, settings_of
from sheetgen.templating import TemplateError, load_crest, load_title_block
from sheetgen.templating.crest import MOST_KILOBYTES
from sheetgen.templating.crest_paths import FARTHEST, path_of
from sheetgen.templating.crest_png import MOST_DOTS
from sheetgen.templating.crest_svg import DEEPEST, MOST_ELEMENTS
from tests import samples

SHIELD = '<path d="M0 0H80V60c0 30-20 45-40 55C20 105 0 90 0 60z" fill="#1f3a6e"/>'
SQUARE = '<rect width="20" height="20"/>'

BLOCK = """\
title: Small
width: 120
height: 24
{crest}
cells:
  - box: [0, 10, 20, 14]
    symbol: crest
  - box: [40, 10, 60, 14]
    symbol: projection
  - box: [0, 0, 120, 10]
    text: "{{{{ notice }}}} {{{{ number }}}} {{{{ sheet }}}} {{{{ document_type }}}}"
"""


def svg(inner, page='viewBox="0 0 100 120"'):
    return f'<?xml version="1.0"?>\n<svg xmlns="http://www.w3.org/2000/svg" {page}>\n{inner}\n</svg>\n'


def crest_of(folder, inner, **options):
    return text_crest(folder, svg(inner, **options))


def text_crest(folder, text):
    (folder / "ours.svg").write_text(text, encoding="utf-8")
    return load_crest(folder / "ours.svg")


def refused(folder, inner, **options):
    """What is told of an SVG that is refused, without the file's name."""
    with pytest.raises(TemplateError) as caught:
        crest_of(folder, inner, **options)
    return "\n".join(line.split("ours.svg", 1)[1] for line in str(caught.value).splitlines())


def png(image, **options):
    raw = BytesIO()
    image.save(raw, "PNG", **options)
    return raw.getvalue()


def png_crest(folder, raw):
    (folder / "ours.png").write_bytes(raw)
    return load_crest(folder / "ours.png")


def page_with(crest):
    """A page of the crest's own size, in mm."""
    return Page(crest.width, crest.height, crest.marks)


def painted(page):
    """The page of a PDF in dots, four to the millimetre."""
    out = BytesIO()
    write_pdf(Document([page], "crest"), out)
    return pypdfium2.PdfDocument(out.getvalue())[0].render(scale=4 * 25.4 / 72).to_numpy()


def written_svg(page):
    out = StringIO()
    write_svg(page, out)
    return out.getvalue()


def test_a_shape_fills_its_box_with_y_up(tmp_path):
    crest = crest_of(tmp_path, '<path d="M10 20h40v30z"/>')
    [shape] = crest.marks
    assert (crest.width, crest.height) == (40, 30)
    assert shape.points[::3].tolist() == [[0, 30], [40, 30], [40, 0], [0, 30]] and shape.runs == ((10, True),)
    assert shape.fill == (0, 0, 0) and shape.line is None


@pytest.mark.parametrize(("shape", "ends"), [
    ('<rect x="5" y="5" width="10" height="20"/>', [(0, 20), (10, 20), (10, 0), (0, 0), (0, 20)]),
    ('<polygon points="0,0 10,0 10,5"/>', [(0, 5), (10, 5), (10, 0), (0, 5)]),
    ('<polyline points="0 0 10 0 10 5"/>', [(0, 5), (10, 5), (10, 0)]),
    ('<path d="m5 5l10 0 0 5"/>', [(0, 5), (10, 5), (10, 0)]),
    ('<path d="M5 5H15V10"/>', [(0, 5), (10, 5), (10, 0)]),
    ('<g transform="translate(7)"><path transform="scale(2 1)" d="M0 0h5v5"/></g>', [(0, 5), (10, 5), (10, 0)]),
    ('<path transform="rotate(90)" d="M0 0h5v-10"/>', [(0, 5), (0, 0), (10, 0)]),
])
def test_straight_shapes_keep_their_corners(tmp_path, shape, ends):
    [mark] = crest_of(tmp_path, shape, page="").marks
    assert np.allclose(mark.points[::3], ends)


@pytest.mark.parametrize("shape", [
    '<circle cx="30" cy="40" r="10"/>', '<ellipse cx="30" cy="40" rx="10" ry="10"/>',
    '<rect x="20" y="30" width="20" height="20" rx="10"/>', '<path d="M20 40a10 10 0 1 1 20 0a10 10 0 1 1 -20 0z"/>',
    '<path d="M20 40A10 10 0 0 0 40 40A10 10 0 00 20 40"/>', '<path d="M20 40a5 5 0 0 1 20 0a5 5 0 0 1 -20 0"/>',
])
def test_round_shapes_are_round(tmp_path, shape):
    """In the last, radii that are too small are made as large as they must be (SVG 1.1, F.6.6; from memory)."""
    crest = crest_of(tmp_path, shape)
    ends = crest.marks[0].points[::3]
    assert np.allclose(np.hypot(*(ends - (10, 10)).T), 10)
    assert crest.width == pytest.approx(20, abs=0.1) and crest.height == pytest.approx(20, abs=0.1)


def test_large_arcs_go_the_long_way_round():
    """Of the four arcs through two points, flags choose (SVG 1.1 cl. 8.3.8; from memory)."""
    for large, sweep, centre in ((0, 1, (0, 10)), (1, 1, (0, -10)), (0, 0, (0, -10)), (1, 0, (0, 10))):
        [run] = path_of(f"M-10 0A{200 ** 0.5} {200 ** 0.5} 0 {large} {sweep} 10 0")
        assert np.allclose(np.hypot(*(run.points[::3] - centre).T), 200 ** 0.5), (large, sweep)
        assert (len(run.points) > 10) == bool(large)


def test_smooth_curves_go_on_as_they_came():
    [run] = path_of("M0 0C0 5 5 10 10 10S20 5 20 0")
    assert run.points[4].tolist() == [15, 10]
    [run] = path_of("M0 0Q5 10 10 0T20 0")
    assert np.allclose(run.points[4], [10 + 10 / 3, -20 / 3])


def test_groups_hand_down_what_they_say_and_a_style_goes_before_an_attribute(tmp_path):
    crest = crest_of(tmp_path, '<g fill="gold" stroke="#f00" stroke-width="2"><rect width="20" height="20"/>'
                               '<rect width="9" height="9" fill="#abc" style="fill: none; stroke:rgb(0, 0, 255)"/></g>')
    one, other = crest.marks
    assert one.fill == (1, 215 / 255, 0) and one.line == (1, 0, 0) and one.width == 2
    assert other.fill is None and other.line == (0, 0, 1)
    assert crest.width == 22                           # with half a line at each side


def test_a_line_grows_with_what_it_belongs_to(tmp_path):
    [mark] = crest_of(tmp_path, '<g transform="scale(3)"><path d="M1 1h9v9" stroke="black" stroke-width=".5"/></g>').marks
    assert mark.width == pytest.approx(1.5)
    [large] = enlarged([mark], 2.0)
    assert large.width == pytest.approx(3.0) and np.allclose(large.points, 2 * mark.points)


def test_what_draws_nothing_is_passed_over(tmp_path):
    inner = ('<title>Shield</title><metadata><a href="x"/></metadata><defs/><x:view xmlns:x="urn:x" x:on="1"><x:y/></x:view>'
             f'<rect width="0" height="5"/><path d=""/><g font-family="serif" style="-x-y:1;display:inline">{SHIELD}</g>')
    assert len(crest_of(tmp_path, inner).marks) == 1


@pytest.mark.parametrize(("inner", "told"), [
    ("<text>A</text>", ":3: text: found letters, wanted letters made into paths"),
    ('<image href="a.png"/>', ":3: image: found a picture within the drawing, wanted"),
    ('<rect href="a.png" width="5" height="5"/>', "found a reference"),
    ('<use href="#a"/>', "found a reference"),
    ('<use xmlns:l="http://www.w3.org/1999/xlink" l:href="#a"/>', "found a reference"),
    ("<script>1</script>", "found an element 'script'"),
    ("<style>path {}</style>", "found an element 'style'"),
    ("<svg/>", "found an element 'svg'"),
    (f'<defs>{SQUARE}</defs>', "found a definition"),
    ('<defs><linearGradient id="a"/></defs>', "found an element 'linearGradient'"),
    ('<rect width="5" height="5" onclick="x()"/>', "found an attribute 'onclick'"),
    ('<rect width="5" height="5" fill="url(#a)"/>', "found the colour 'url(#a)'"),
    ('<rect width="5" height="5" fill="javascript:1"/>', "found the colour"),
    ('<rect width="5" height="5" opacity=".5"/>', "found opacity: '.5', wanted one of 1, 1.0"),
    ('<rect width="5" height="5" style="clip-path:url(#a)"/>', "found clip-path"),
    ('<rect width="5" height="5" stroke-dasharray="3 1"/>', "found stroke-dasharray"),
    ('<rect width="5" height="5" stroke-linejoin="arcs"/>', "wanted one of miter, round, bevel"),
    ('<rect width="5mm" height="5"/>', "found width '5mm', wanted a plain number"),
    ('<rect width="-5" height="5"/>', "a size below 0"),
    ('<path d="M0 0 L 5"/>', "in place of a number"),
    ('<path d="L 5 5"/>', "'L' in a path"),
    ('<path d="M0 0 X"/>', "'X' in a path"),
    ('<path d="M0 0a5 5 0 2 1 9 9"/>', "in place of a flag"),
    ('<path d="M0 0 1e9 5"/>', "a plain number up to 1e+06"),
    ('<polygon points="0 0 5"/>', "3 numbers for points"),
    ('<g transform="spin(5)"/>', "found the transform 'spin(5)'"),
    ('<g transform="scale(1 2 3)"/>', "found 3 numbers for scale, wanted 1 or 2"),
    ('<rect x="90" width="50" height="5"/>', "out of the page"),
    ('<rect x="90" width="nan" height="5"/>', "'nan'"),
    ("", "nothing that is drawn"),
    ('<path d="M0 0h5"/>', "without height or width"),
])
def test_what_cannot_be_drawn_as_it_is_is_refused_with_what_was_found(tmp_path, inner, told):
    assert told in refused(tmp_path, inner)


def test_all_that_is_wrong_is_told_each_with_its_line(tmp_path):
    said = refused(tmp_path, '<text>A</text>\n<rect width="5" height="5" mask="url(#m)"/>\n<use/>').splitlines()
    assert [line.split(":")[1] for line in said] == ["3", "4", "5"]


@pytest.mark.parametrize(("text", "told"), [
    ('<!DOCTYPE svg [<!ENTITY a "b">]>\n' + svg(SQUARE).partition("\n")[2], "found a document type"),
    ('<!DOCTYPE svg SYSTEM "file:///etc/passwd">\n' + svg(SQUARE).partition("\n")[2], "found a document type"),
    ('<?xml-stylesheet href="a.css"?>\n' + svg(SQUARE).partition("\n")[2], "found a processing instruction"),
    (svg("&a;"), "something that is not XML"),
    (svg("<g>"), "something that is not XML"),
    ("", "something that is not XML"),
    ('<?xml version="1.0" encoding="none"?><svg/>', "found"),
    ("<svg/>", "as the outermost element"),
    ("<html/>", "'html' as the outermost element"),
    (svg(f"{SQUARE}\n" * MOST_ELEMENTS), f"more than {MOST_ELEMENTS} elements"),
    (svg("<g>" * DEEPEST + SQUARE + "</g>" * DEEPEST), f"more than {DEEPEST} elements within each other"),
    (svg('<metadata xmlns:x="urn:x">' + "<x:g>" * 50 + "</x:g>" * 50 + "</metadata>"), "elements within each other"),
    (svg(f'<path d="M0 0{"1 1 " * 9000}"/>'), "more than 20000 points"),
    (svg('<path d="M0 0h9v9"/>' * 3 + f'<path d="M0 0{"h1" * 3000}"/>' * 3), "more than 20000 points"),
    (svg('<g transform="scale(9e5)">' * 15 + SQUARE + "</g>" * 15, page=""), "out of sight"),
    (svg(SQUARE) + " " * MOST_KILOBYTES * 1000, f"more than {MOST_KILOBYTES} kB"),
])
def test_files_that_could_grow_or_be_looked_up_are_refused(tmp_path, text, told):
    with pytest.raises(TemplateError, match=told):
        text_crest(tmp_path, text)


def test_an_arc_of_radii_beyond_all_measure_is_a_line():
    [run] = path_of(f"M0 0A{FARTHEST} {FARTHEST} 0 0 0 1e-99 1e-200L5 5")
    assert np.isfinite(run.points).all()


def test_a_crest_is_painted_in_its_colours_and_its_holes_stay_open(tmp_path):
    inner = '<path d="M0 0H40V40H0zM10 10H30V30H10z" fill="#ff0000" fill-rule="evenodd"/><path d="M2 20H38" stroke="#0000ff" ' \
            'stroke-width="4"/>'
    page = page_with(crest_of(tmp_path, inner))
    dots = painted(page)                               # blue, green, red
    assert dots[20, 20].tolist() == [0, 0, 255]
    assert dots[55, 80].tolist() == [255, 255, 255]
    assert dots[80, 80].tolist() == [255, 0, 0]
    text = written_svg(page)
    assert 'fill="#ff0000" fill-rule="evenodd"' in text and 'stroke="#0000ff" stroke-width="4"' in text


def test_a_picture_of_dots_stands_upright_in_both_files_and_once_in_a_pdf(tmp_path):
    image = Image.new("RGBA", (8, 4), (255, 0, 0, 255))
    image.paste((0, 255, 0, 255), (0, 0, 8, 2))        # the upper half is green
    image.paste((0, 0, 0, 0), (0, 0, 4, 2))            # of it the left half is clear
    crest = png_crest(tmp_path, png(image))
    assert (crest.width, crest.height) == (8, 4)
    page = page_with(crest)
    dots = painted(page)
    assert dots[3, 3].tolist() == [255, 255, 255] and dots[3, 28].tolist() == [0, 255, 0]
    assert dots[13, 16].tolist() == [0, 0, 255]
    text = written_svg(page)
    assert '<image x="0" y="0" width="8" height="4" ' in text and 'href="data:image/png;base64,' in text
    out = BytesIO()
    write_pdf(Document([page, page, page], "crest"), out)
    out.seek(0)
    found = {image.indirect_reference.idnum for page in PdfReader(out).pages for image in page.images}
    assert len(found) == 1


@pytest.mark.parametrize("mode", ["1", "L", "LA", "P", "RGB", "RGBA"])
def test_pictures_of_all_sorts_of_colours_are_read(tmp_path, mode):
    crest = png_crest(tmp_path, png(Image.new("RGB", (9, 9), (255, 255, 255)).convert(mode)))
    assert painted(page_with(crest))[18, 18].tolist()[:3] == [255, 255, 255]


def test_only_the_dots_of_a_picture_are_taken(tmp_path):
    about = PngImagePlugin.PngInfo()
    about.add_text("Place", "Exampleford, behind the bicycle shed")
    raw = png(Image.new("RGB", (9, 9)), pnginfo=about)
    [picture] = png_crest(tmp_path, raw).marks
    assert b"bicycle" in raw and b"bicycle" not in picture.png


def chunk(name, data):
    return struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))


def raw_png(width, height, depth=8, data=b"", more=b""):
    head = chunk(b"IHDR", struct.pack(">IIBBBBB", width, height, depth, 2, 0, 0, 0))
    return b"\x89PNG\r\n\x1a\n" + head + more + chunk(b"IDAT", zlib.compress(data)) + chunk(b"IEND", b"")


@pytest.mark.parametrize(("raw", "told"), [
    (b"", "damaged, or none"),
    (b"GIF89a", "damaged, or none"),
    (raw_png(9, 9, data=bytes(280))[:-20], "damaged, or none"),
    (raw_png(9, 9), "damaged, or none"),
    (raw_png(9, 9, data=bytes(280), more=chunk(b"ZZZZ", b"")), "damaged, or none"),
    (raw_png(9, 9, data=bytes(280), more=chunk(b"IHDR", struct.pack(">IIBBBBB", 9999, 9999, 8, 2, 0, 0, 0))), "damaged, or none"),
    (raw_png(9, 9, data=bytes(280)).replace(b"IDAT", b"IDaT"), "damaged, or none"),
    (raw_png(30_000, 30_000), "30000 x 30000 dots, wanted at most 1 000 000"),
    (raw_png(2**32 - 1, 1), f"{2**32 - 1} x 1 dots"),
    (raw_png(0, 9), "0 x 9 dots"),
    (raw_png(9, 9, depth=16, data=bytes(500)), "colours of 16 bits"),
])
def test_damaged_and_immense_pictures_are_refused_before_they_are_unpacked(tmp_path, raw, told):
    assert MOST_DOTS == 1_000_000
    with pytest.raises(TemplateError, match=told):
        png_crest(tmp_path, raw)


def test_other_files_are_no_crests(tmp_path):
    for name, told in (("a.gif", "a .gif file"), ("none.svg", "no such file"), ("none.png", "no such file")):
        with pytest.raises(TemplateError, match=told):
            load_crest(tmp_path / name)


def test_a_page_with_a_crest_comes_back_from_its_text_as_it_was(tmp_path):
    marks = (*crest_of(tmp_path, SHIELD).marks, *png_crest(tmp_path, png(Image.new("RGB", (9, 9)))).marks)
    page = Page(100, 120, marks)
    again = page_of_text(page_text(page))
    assert page_text(again) == page_text(page) and written_svg(again) == written_svg(page)


def block_in(folder, crest, name="ours.yaml"):
    (folder / name).write_text(BLOCK.format(crest=crest), encoding="utf-8")
    return folder / name


def test_a_title_block_shows_its_crest_in_its_cell_and_leaves_it_empty_without(tmp_path):
    (tmp_path / "ours.svg").write_text(svg(SHIELD), encoding="utf-8")
    settings = settings_of(Style(title_block=block_in(tmp_path, "crest: ours.svg")))
    [shape] = [mark for mark in settings.stationery if isinstance(mark, Shape)]
    left, low = settings.paper.x1 - 120, settings.paper.y0
    box = shape.points.min(axis=0), shape.points.max(axis=0)
    assert np.allclose((box[0] + box[1]) / 2, (left + 10, low + 17), atol=0.05)          # in the middle of the cell
    assert box[1][1] - box[0][1] == pytest.approx(12, abs=0.1)                          # as high as it goes, 1 mm clear
    bare = settings_of(Style(title_block=block_in(tmp_path, "")))
    assert not [mark for mark in bare.stationery if isinstance(mark, Shape | Picture)]


def test_a_crest_that_is_named_must_lie_beside_and_have_a_cell(tmp_path):
    (tmp_path / "ours.svg").write_text(svg(SHIELD), encoding="utf-8")
    for name in ("../ours.svg", "/etc/passwd", "none.svg", "ours.yaml"):
        with pytest.raises(TemplateError, match=r"4: crest: found .*beside the title block"):
            load_title_block(block_in(tmp_path, f"crest: {name}"))
    block = block_in(tmp_path, "crest: ours.svg")
    block.write_text(block.read_text(encoding="utf-8").replace("symbol: crest", "text: x"), encoding="utf-8")
    with pytest.raises(TemplateError, match="4: crest: found a crest, and no cell for it"):
        load_title_block(block)


@pytest.mark.parametrize(("change", "told"), [
    (("[0, 10, 20, 14]", "[0, 10, 7, 14]"), "7 x 14 mm for a crest, wanted 8 x 8 mm or more"),
    (("symbol: crest", "symbol: crest\n    text: x"), "where a crest is to stand"),
])
def test_the_cell_of_a_crest_is_large_enough_and_its_own(tmp_path, change, told):
    block = block_in(tmp_path, "")
    block.write_text(block.read_text(encoding="utf-8").replace(*change), encoding="utf-8")
    with pytest.raises(TemplateError, match=told):
        load_title_block(block)


def plan_in(folder, block, crest):
    samples.bank_of(folder, step=samples.STEP)
    (folder / "plan.yaml").write_text(
        f"title_block: {block}\ncrest: {crest}\nproblems:\n  - {{family: step.yaml, seed: 4}}\n", encoding="utf-8")
    return folder / "plan.yaml"


def run_plan(folder, *words, code=0):
    outcome = CliRunner().invoke(main, ["worksheet", str(folder / "plan.yaml"), "--out", str(folder / "out"), *words])
    assert outcome.exit_code == code, outcome.output
    return outcome


def test_a_plans_crest_goes_before_the_title_blocks_own_and_stands_on_every_sheet(tmp_path):
    (tmp_path / "ours.svg").write_text(svg(SHIELD), encoding="utf-8")
    (tmp_path / "red.png").write_bytes(png(Image.new("RGB", (9, 9), (255, 0, 0))))
    block_in(tmp_path, "crest: ours.svg")
    plan_in(tmp_path, "ours.yaml", "red.png")
    run_plan(tmp_path, "--blank")
    for book in ("questions", "answers", "blanks"):
        [page] = PdfReader(tmp_path / "out" / f"{book}.pdf").pages
        [image] = page.images
        assert image.image.size == (9, 9)
    plan_in(tmp_path, "ours.yaml", '""')
    run_plan(tmp_path)
    [page] = PdfReader(tmp_path / "out" / "questions.pdf").pages
    assert not page.images and b"0.122 0.227 0.431 rg" in page.get_contents().get_data()        # the shield's blue


def test_another_crest_is_another_set(tmp_path):
    """Work begun under one crest is not gone on with under another."""
    (tmp_path / "ours.svg").write_text(svg(SHIELD), encoding="utf-8")
    block = block_in(tmp_path, "crest: ours.svg")
    one = digest_of(settings_of(Style(title_block=block)))
    assert digest_of(settings_of(Style(title_block=block))) == one
    (tmp_path / "ours.svg").write_text(svg(SHIELD.replace("1f3a6e", "1f3a6f")), encoding="utf-8")
    assert digest_of(settings_of(Style(title_block=block))) != one


@pytest.mark.parametrize(("block", "crest", "told"), [
    ("harbour", "ours.svg", "plan.yaml:2: crest: found a crest, and no cell for it in templates/title_blocks/harbour.yaml"),
    ("ours.yaml", "../ours.svg", "plan.yaml:2: crest: found '../ours.svg', wanted the name of an .svg or .png file beside"),
    ("ours.yaml", "[ours.svg]", "plan.yaml:2: crest: found a list of 1"),
    ("ours.yaml", "bad.svg", "bad.svg:3: text: found letters"),
])
def test_a_plans_crest_that_cannot_be_shown_is_told_with_its_line(tmp_path, block, crest, told):
    (tmp_path / "ours.svg").write_text(svg(SHIELD), encoding="utf-8")
    (tmp_path / "bad.svg").write_text(svg("<text/>"), encoding="utf-8")
    block_in(tmp_path, "")
    plan_in(tmp_path, block, crest)
    assert told in run_plan(tmp_path, code=2).stderr and not (tmp_path / "out").exists()
