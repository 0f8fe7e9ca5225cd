"""The page of a pack in a browser: from a folder, from a plain server, and as a single file, with mouse, keyboard and reader."""

from __future__ import annotations

import csv
import io
import json
import subprocess
import sys
from pathlib import Path

import numpy as np
import pypdfium2
import pytest
from PIL import Image, ImageFilter
from playwright.sync_api import expect

from tests.pages.packs import LENGTHS, PLAN, TITLE, pack_in, served

AXE = Path(__file__).parent / "node_modules" / "axe-core" / "axe.min.js"
"""The rules that a page is held against; ./check-pages fetches them."""

STILL = {"reduced_motion": "reduce"}


@pytest.fixture(scope="session")
def folder(tmp_path_factory):
    """A pack with all that a page can help with; its page."""
    return pack_in(tmp_path_factory.mktemp("folder"))


@pytest.fixture(scope="session")
def single(tmp_path_factory):
    """The same as a single file, alone in its folder, as it was sent."""
    page = pack_in(tmp_path_factory.mktemp("made"), single=True)
    alone = tmp_path_factory.mktemp("phone") / "pack.html"
    alone.write_bytes(page.read_bytes())
    return alone


@pytest.fixture(scope="session")
def bare(tmp_path_factory):
    """A pack of a kind that helps with nothing."""
    return pack_in(tmp_path_factory.mktemp("bare"), PLAN.split("  - {family: slotted")[0], helping=False)


def problem(page, number):
    """Go to a problem, and wait until it is there."""
    page.evaluate(f"location.hash = '#{number}'")
    expect(page.locator("#one h2")).to_contain_text(f"{number}. ")
    expect(page.locator("#one .question .sheet svg")).to_be_visible()


def button(page, name):
    return page.get_by_role("button", name=name, exact=True)


@pytest.mark.parametrize("which", ["folder", "single"])
def test_the_list_shows_every_problem_with_its_picture(browser, opened, request, which):
    page = opened.open(browser, request.getfixturevalue(which), **STILL)
    expect(page.get_by_role("heading", level=1)).to_have_text(TITLE)
    expect(page.locator(".card")).to_have_count(4)
    expect(page.locator("#shown")).to_have_text("Problems shown: 4 of 4")
    for card in page.locator(".card").all():
        card.scroll_into_view_if_needed()
        expect(card.locator("svg path").first).to_be_attached()
    assert page.locator("body b, body img").count() == 0 and "{{ 7 * 7 }}" in page.locator(".about").inner_text()


def test_filters_and_search_narrow_the_list_and_say_how_far(browser, opened, folder):
    page = opened.open(browser, folder, **STILL)
    page.get_by_label("Rung", exact=True).select_option(label="Rung 2: inclined faces")
    expect(page.locator(".card:visible")).to_have_count(1)
    expect(page.locator("#shown")).to_have_text("Problems shown: 1 of 4")
    page.get_by_label("Rung", exact=True).select_option("")
    page.get_by_label("Topic", exact=True).select_option(label="holes")
    expect(page.locator(".card:visible h4")).to_have_text(["4. Slotted conical boss"])
    page.get_by_label("Topic", exact=True).select_option("")
    page.get_by_label("Search", exact=True).fill("BLOCK step")
    expect(page.locator(".card:visible h4")).to_have_text(["1. Stepped block"])
    page.get_by_label("Search", exact=True).fill("nothing like it")
    expect(page.locator("#shown")).to_contain_text("No problem fits")
    button(page, "Show all problems").click()
    expect(page.locator(".card:visible")).to_have_count(4)
    assert page.locator("#choose-kind").count() == 0                    # one kind is nothing to choose from


@pytest.mark.parametrize("which", ["folder", "single"])
def test_help_comes_when_it_is_asked_for_and_the_answer_after_two_steps(browser, opened, request, which):
    page = opened.open(browser, request.getfixturevalue(which), **STILL)
    problem(page, 3)
    assert page.locator(".hints li, .answer svg, .strip svg").count() == 0
    button(page, "Show hint 1 of 3").click()
    button(page, "Show hint 2 of 3").click()
    assert page.locator(".hints li").all_inner_texts()[1].split() == ["Begin", "with", "the", "base.", "Then", "the", "slot."]
    button(page, "Show hint 3 of 3").click()
    assert page.get_by_role("button", name="Show hint").count() == 0
    button(page, "Show the answer").click()
    assert page.locator(".answer svg").count() == 0
    button(page, "Not yet").click()
    button(page, "Show the answer").click()
    button(page, "Yes, show the answer").click()
    expect(page.locator(".answer .sheet svg")).to_be_visible()
    button(page, "Hide the answer").click()
    assert page.locator(".answer svg").count() == 0


def test_a_construction_is_stepped_through_with_buttons_and_with_keys(browser, opened, folder):
    page = opened.open(browser, folder, **STILL)
    problem(page, 1)
    button(page, "Show the construction").click()
    expect(page.locator(".sentences")).to_contain_text("Draw a box for each view.")
    layers = page.locator(".strip svg g[class]")
    expect(layers).to_have_count(1)
    expect(button(page, "Previous stage")).to_be_disabled()
    button(page, "Next stage").click()
    expect(page.locator(".sentences")).to_contain_text("Begin with the front view.")
    assert [group.get_attribute("class") for group in layers.all()] == ["thin", "before", "new"]
    page.keyboard.press("End")
    expect(page.locator(".sentences h4")).to_have_text("The sizes")
    assert [group.get_attribute("class") for group in layers.all()] == ["new"] * 3      # the finished answer
    page.keyboard.press("ArrowLeft")
    expect(page.locator(".sentences h4")).to_have_text("The outlines")
    page.get_by_role("button", name="Stage 1 of 3").click()
    expect(layers).to_have_count(1)


def test_on_a_telephone_outlines_are_a_point_wide_and_steps_take_two_rows(browser, opened, folder):
    page = opened.open(browser, folder, width=360, height=740, **STILL)
    problem(page, 1)
    button(page, "Show the construction").click()
    image = page.locator(".strip .sheet")
    per_mm = image.evaluate("at => at.clientWidth / at.querySelector('svg').viewBox.baseVal.width")
    wide = image.evaluate(
        "at => Math.max(...[...at.querySelectorAll('path')].map(one => parseFloat(getComputedStyle(one).strokeWidth)))")
    assert per_mm < 1.5 and wide * per_mm == pytest.approx(1.0, abs=0.05)
    steps, picture, sentences = (page.locator(f".strip {place}").bounding_box() for place in (".steps", ".picture", ".sentences"))
    assert steps["height"] < 150 and steps["y"] < picture["y"] < sentences["y"]
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")


def test_lengths_within_one_millimetre_are_right(browser, opened, folder):
    page = opened.open(browser, folder, **STILL)
    problem(page, 2)
    form = page.locator("#one form")
    button(page, "Check").click()
    expect(form.get_by_role("status")).to_have_text("Type at least one length.")
    given = ["81", "41.4", " 15,0 mm", "abc", ""]
    for (where, _), text in zip(LENGTHS, given, strict=True):
        page.get_by_label(where).fill(text)
    page.keyboard.press("Enter")
    expect(form.get_by_role("status")).to_have_text("Right: 2 of 5")
    assert form.locator(".verdict").all_inner_texts() == ["Right", "Not right", "Right", "Not a number", ""]
    assert page.get_by_label(LENGTHS[1][0]).get_attribute("aria-invalid") == "true"
    expect(form).to_contain_text("hidden in this page, but they are no secret")
    assert "41" not in [str(value) for _, value in LENGTHS]


def test_progress_is_kept_exported_and_reset(browser, opened, folder):
    page = opened.open(browser, folder, accept_downloads=True, **STILL)
    problem(page, 3)
    button(page, "Show hint 1 of 3").click()
    problem(page, 1)
    page.get_by_label("I have drawn this problem").check()
    page.reload()
    expect(page.get_by_label("I have drawn this problem")).to_be_checked()
    page.get_by_role("link", name="All problems").first.click()
    expect(page.locator("#progress")).to_contain_text("Done: 1 of 4")
    assert [badge.inner_text() for badge in page.locator(".badge").all()] == ["Done", "", "Begun", ""]
    page.get_by_label("Progress", exact=True).select_option("done")
    expect(page.locator(".card:visible")).to_have_count(1)
    with page.expect_download() as download:
        button(page, "Export progress").click()
    rows = list(csv.reader(io.StringIO(Path(download.value.path()).read_text(encoding="utf-8-sig"))))
    assert rows[0][:4] == ["Number", "Title", "Code", "Progress"]
    assert [row[3] for row in rows[1:]] == ["Done", "Not begun", "Begun", "Not begun"]
    assert rows[3][4] == "1"
    button(page, "Reset progress").click()
    button(page, "Forget it").click()
    expect(page.locator("#progress")).to_contain_text("Done: 0 of 4")
    assert json.loads(page.evaluate("localStorage[Object.keys(localStorage)[0]]")) == {}


def test_where_the_browser_keeps_nothing_the_page_says_so_and_offers_to_export(browser, opened, folder):
    context = browser.new_context(**STILL)
    page = context.new_page()
    page.add_init_script("Object.defineProperty(window, 'localStorage', { get() { throw new Error('no'); } });")
    page.goto(folder.as_uri())
    expect(page.locator("#progress .warning")).to_contain_text("keeps nothing")
    expect(button(page, "Export progress")).to_be_visible()
    problem(page, 1)
    page.get_by_label("I have drawn this problem").check()
    page.get_by_role("link", name="All problems").first.click()
    expect(page.locator("#progress")).to_contain_text("Done: 1 of 4")            # as long as the page is open
    context.close()


def test_all_can_be_done_without_a_mouse(browser, opened, folder):
    page = opened.open(browser, folder, **STILL)
    page.keyboard.press("Tab")
    expect(page.locator(".skip")).to_be_focused()
    page.keyboard.press("Enter")
    for _ in range(12):
        page.keyboard.press("Tab")
        if page.evaluate("document.activeElement.textContent") == "1. Stepped block":
            break
    page.keyboard.press("Enter")
    expect(page.locator("#one h2")).to_be_focused()
    seen = []
    for _ in range(60):
        page.keyboard.press("Tab")
        name = page.evaluate("document.activeElement.textContent")
        if name in ("Show the answer", "Yes, show the answer"):
            page.keyboard.press("Enter")
            seen.append(name)
            expect(button(page, "Not yet" if name == "Show the answer" else "Hide the answer")).to_be_focused()
        if len(seen) == 2:
            break
    assert seen == ["Show the answer", "Yes, show the answer"]
    page.evaluate("scrollTo(0, 0); document.querySelector('.skip').focus()")
    page.keyboard.press("Enter")                                        # it skips to the problem, not away from it
    expect(page.locator("#one h2")).to_be_focused()
    page.go_back()
    expect(page.locator(".card a").first).to_be_focused()


def test_each_picture_has_a_name_and_the_part_in_words(browser, opened, folder):
    page = opened.open(browser, folder, **STILL)
    problem(page, 3)
    picture = page.get_by_role("img", name="Question: Bearing support")
    told = page.evaluate("id => document.getElementById(id).textContent", picture.get_attribute("aria-describedby"))
    assert "An upright with a round top, at the rear: " in told
    page.locator("summary", has_text="The part in words").click()
    expect(page.get_by_text("An upright with a round top, at the rear")).to_be_visible()
    assert page.locator(".task p").all_inner_texts() == ["Draw the views.", "Show <all> hidden detail."]


@pytest.mark.parametrize("which", ["folder", "single"])
def test_the_part_is_turned_when_it_is_asked_for(browser, opened, request, which):
    page = opened.open(browser, request.getfixturevalue(which), **STILL)
    problem(page, 2)
    assert not page.evaluate("'sheetgenViewer' in window")
    button(page, "Turn the part").click()
    expect(page.locator(".part canvas")).to_be_visible(timeout=20000)
    button(page, "Front view").click()
    problem(page, 1)
    assert page.locator("canvas").count() == 0


def test_a_browser_without_solids_is_told_so(browser_without_solids, opened, folder):
    page = opened.open(browser_without_solids, folder, **STILL)
    problem(page, 1)
    button(page, "Turn the part").click()
    expect(page.locator(".part")).to_contain_text("cannot draw the part")


def test_what_a_kind_has_not_has_no_button(browser, opened, bare):
    page = opened.open(browser, bare, **STILL)
    problem(page, 1)
    names = [one.inner_text() for one in page.get_by_role("button").all()]
    assert names == ["Larger", "Smaller", "Whole sheet", "Print this sheet", "Turn the part", "Show the answer"]
    assert page.locator("#one form, .hints, .strip").count() == 0


def test_a_picture_can_be_made_larger_and_seen_with_its_sheet(browser, opened, folder):
    page = opened.open(browser, folder, width=360, height=740, **STILL)
    problem(page, 3)
    sheet = page.locator(".question .sheet")
    before = sheet.bounding_box()["width"]
    page.locator(".question").get_by_role("button", name="Larger").click()
    assert sheet.bounding_box()["width"] == pytest.approx(1.5 * before, rel=0.01)
    assert page.evaluate("document.documentElement.scrollWidth") == 360
    page.locator(".question").get_by_role("button", name="Whole sheet").click()
    assert sheet.locator("svg").get_attribute("viewBox") == "0 0 420 297"


def ink(image):
    """Where there is ink, and where there may be some within three dots: programs soften thin lines each in its way."""
    grey = image.convert("L")
    return np.asarray(grey) < 110, np.asarray(grey.filter(ImageFilter.MinFilter(7))) < 235


def test_the_picture_of_a_sheet_looks_like_the_sheet(browser, opened, folder):
    """Drawn by the browser from compact marks, and by another program (pdfium) from the PDF file."""
    page = opened.open(browser, folder, width=1600, height=1300, **STILL)
    problem(page, 3)
    button(page, "Show the answer").click()
    button(page, "Yes, show the answer").click()
    for role, book in (("question", "questions-rung-3.pdf"), ("answer", "answers-rung-3.pdf")):
        page.locator(f".{role}").get_by_role("button", name="Whole sheet").click()
        page.evaluate("""role => { const sheet = document.querySelector('.' + role + ' .sheet'), svg = sheet.firstChild;
            svg.style.width = '1680px'; svg.style.height = '1188px'; svg.setAttribute('id', 'whole-' + role);
            document.body.append(svg);
            svg.style.position = 'absolute'; svg.style.left = 0; svg.style.top = '0'; svg.style.zIndex = 9;
            svg.style.background = '#fff'; svg.style.color = '#000'; }""", role)
        page.set_viewport_size({"width": 1700, "height": 1300})
        page.evaluate("scrollTo(0, 0)")
        shot = Image.open(io.BytesIO(page.locator(f"#whole-{role}").screenshot()))
        page.evaluate(f"document.getElementById('whole-{role}').remove()")
        document = pypdfium2.PdfDocument(str(folder.parent / book))
        printed = document[0].render(scale=shot.width / document[0].get_width()).to_pil().convert("RGB").resize(shot.size)
        (one, near_one), (other, near_other) = ink(shot), ink(printed)
        assert min(one.mean(), other.mean()) > 0.005
        assert (one & ~near_other).sum() <= 20 and (other & ~near_one).sum() <= 20, role


def test_a_sheet_is_printed_alone_at_its_true_size(browser, opened, folder):
    page = opened.open(browser, folder, **STILL)
    problem(page, 1)
    page.evaluate("window.print = () => { window.asked = true; }")
    page.locator(".question").get_by_role("button", name="Print this sheet").click()
    assert page.evaluate("window.asked")
    document = pypdfium2.PdfDocument(page.pdf(prefer_css_page_size=True))
    assert len(document) == 1
    assert [side * 25.4 / 72 for side in document[0].get_size()] == pytest.approx([420, 297], abs=0.5)
    page.evaluate("window.dispatchEvent(new Event('afterprint'))")
    expect(page.locator("#one h2")).to_be_visible()


@pytest.mark.parametrize("colours", ["light", "dark"])
@pytest.mark.parametrize("width", [360, 1440])
def test_nothing_is_seriously_in_the_way_of_anybody(browser, opened, folder, width, colours):
    assert AXE.is_file(), "./check-pages fetches axe-core"
    page = opened.open(browser, folder, width=width, color_scheme=colours, **STILL)

    def found():
        page.evaluate(AXE.read_text(encoding="utf-8"))
        told = page.evaluate("axe.run(document, { preload: false, resultTypes: ['violations'] })")["violations"]
        return [(one["id"], [node["html"][:200] for node in one["nodes"]]) for one in told
                if one["impact"] in ("serious", "critical")]

    assert found() == []
    problem(page, 3)
    for name in ("Show hint 1 of 3", "Show the construction", "Show the answer", "Yes, show the answer", "Check"):
        button(page, name).click()
    assert found() == []
    assert page.evaluate("document.documentElement.scrollWidth") <= width


def test_sheets_stay_white_in_the_dark(browser, opened, folder):
    page = opened.open(browser, folder, color_scheme="dark", **STILL)
    problem(page, 1)
    colour = "element => getComputedStyle(element).backgroundColor"
    assert page.locator(".question .sheet").evaluate(colour) == "rgb(255, 255, 255)"
    assert page.locator("body").evaluate(colour) != "rgb(255, 255, 255)"


def test_at_twice_the_size_of_letters_nothing_runs_out_of_a_narrow_page(browser, opened, folder):
    page = opened.open(browser, folder, width=720, **STILL)
    page.evaluate("document.documentElement.style.fontSize = '200%'")
    assert page.evaluate("document.documentElement.scrollWidth") <= 720
    problem(page, 3)
    assert page.evaluate("document.documentElement.scrollWidth") <= 720


def test_from_a_plain_server_it_is_the_same_and_asks_nobody_else(browser, folder):
    with served(folder.parent) as address:
        context = browser.new_context(**STILL)
        page, asked, faults = context.new_page(), [], []
        page.on("request", lambda request: asked.append(request.url))
        page.on("console", lambda said: faults.append(said.text) if said.type in ("error", "warning") else None)
        page.on("pageerror", lambda error: faults.append(str(error)))
        page.goto(f"{address}/index.html")
        problem(page, 2)
        expect(page.locator(".question .pdf a")).to_have_attribute("href", "questions-rung-2.pdf#page=1")
        assert all(url.startswith((address, "data:")) for url in asked) and faults == []
        context.close()


def test_if_a_piece_is_missing_the_page_says_what_it_needs(browser, folder, tmp_path):
    for path in folder.parent.iterdir():
        if path.name != "problem-2.js":
            (tmp_path / path.name).write_bytes(path.read_bytes())
    context = browser.new_context(**STILL)
    page = context.new_page()
    page.goto((tmp_path / "index.html").as_uri() + "#2")
    expect(page.locator("#one")).to_contain_text("needs all files of its folder")
    context.close()


def test_a_list_of_packs_is_searched(browser, opened, folder, tmp_path):
    for name in ("one", "two"):
        (tmp_path / name).mkdir()
        (tmp_path / name / "index.html").write_bytes(folder.read_bytes())
        (tmp_path / name / "pack.json").write_text(json.dumps(
            {"sheetgen": "pack", "title": f"Pack {name}", "topics": ["holes"], "rungs": [1], "problems": 4}), encoding="utf-8")
    subprocess.run([sys.executable, "-m", "sheetgen", "pack", "--list", "one", "two", "--out", "."], cwd=tmp_path, check=True)
    page = opened.open(browser, tmp_path / "index.html", width=360, **STILL)
    page.get_by_label("Search", exact=True).fill("TWO")
    expect(page.locator(".packs > li:visible a")).to_have_text(["Pack two"])
    expect(page.locator("#shown")).to_have_text("Packs shown: 1 of 2")
    page.evaluate(AXE.read_text(encoding="utf-8"))
    assert page.evaluate("axe.run(document, { preload: false })")["violations"] == []
