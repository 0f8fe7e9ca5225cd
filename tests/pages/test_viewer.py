"""A part that readers turn: what they see is what the answer shows, whatever they use to turn it."""

from __future__ import annotations

import numpy as np
import pytest
import shapely
from playwright.sync_api import expect

from sheetgen.projection import LineKind
from tests.pages.parts import Look, act, answer_of, expected, near, page_of, picture, settle

STILL = {"reduced_motion": "reduce"}

LAYOUTS = [
    Look("stepped-block"), Look("stepped-block", "third", "right"), Look("counterbored-block", "third"),
    Look("conical-boss", "first", "both"),
    Look("oblique-stepped-block", "third", "both"), Look("bored-tee", "first", "right"), Look("hinge-lug", "third", "left", 3),
]


@pytest.mark.parametrize("look", LAYOUTS, ids=lambda look: f"{look.family}, {look.angle} angle, {look.side}")
def test_unfolding_ends_with_each_line_where_the_answer_has_it(browser, opened, tmp_path, look):
    """Reckoned from the lower left corner of the front view, in part millimetres."""
    page = opened.open(browser, page_of(tmp_path, look), **STILL)
    act(page, "shown.unfold(true)")
    told, drawing = page.evaluate("shown.lines()"), answer_of(look)
    assert max(line["off"] for line in told) < 1e-6
    front = np.array(drawing.layout.places["front"])
    for placed in drawing.views:
        for kind in LineKind:
            true = [(shape.points() * placed.scale + placed.origin - front) / placed.scale for shape in placed.lines(kind)]
            found = [np.array(line["points"]) for line in told if (line["view"], line["kind"]) == (placed.view.name, str(kind))]
            assert len(found) == len(true)
            if true:
                one, other = shapely.MultiLineString(true), shapely.MultiLineString(found)
                assert shapely.hausdorff_distance(one, other, densify=0.2) < 0.02
    assert {line["view"] for line in told} == {placed.view.name for placed in drawing.views}


@pytest.mark.parametrize("look", [Look(), Look("bored-tee", "third", "both")], ids=lambda look: look.angle)
def test_before_they_unfold_views_lie_on_planes_square_to_each_other(browser, opened, tmp_path, look):
    page = opened.open(browser, page_of(tmp_path, look), **STILL)
    act(page, "shown.fold(0.45)")
    off = {}
    for line in page.evaluate("shown.lines()"):
        off[line["view"]] = max(off.get(line["view"], 0), line["off"])
    assert off.pop("front") == 0 and min(off.values()) > 10
    act(page, "shown.fold(0.75)")
    flat = page.evaluate("shown.lines()")
    assert max(line["off"] for line in flat if line["view"] == "top") < max(off.values())


SEEN = [
    ("stepped-block", 7), ("counterbored-block", 7), ("conical-boss", 7), ("tapered-spindle-block", 2),
    ("oblique-stepped-block", 7), ("bored-tee", 7), ("cross-drilled-boss", 7), ("round-ended-link", 7),
    ("slant-cut-spigot", 5), ("dovetail-guide", 7),
]


@pytest.mark.parametrize(("family", "seed"), SEEN)
def test_the_part_seen_square_on_shows_the_lines_of_that_view(browser, opened, tmp_path, family, seed):
    """Each visible line of the view has dark ink along it, and no ink lies elsewhere; with hidden edges shown there is ink along
    hidden lines too. Faces are light, so that ink can be told by its darkness."""
    look = Look(family, seed=seed)
    page = opened.open(browser, page_of(tmp_path, look), **STILL)
    for view in ("front", "top", "left"):
        act(page, f"shown.view('{view}')")
        drawn = next(placed.view for placed in answer_of(look).views if placed.view.name == view)
        ink = picture(page) < 90
        rows, columns = np.flatnonzero(ink.any(axis=1)), np.flatnonzero(ink.any(axis=0))
        box = (columns[0] + 0.5, rows[0] + 0.5, columns[-1] - 0.5, rows[-1] - 0.5)
        wide, high = drawn.extent[1] - drawn.extent[0]
        assert (box[2] - box[0]) / (box[3] - box[1]) == pytest.approx(wide / high, rel=0.01), view
        lines = expected(drawn, LineKind.VISIBLE, box, ink.shape)
        assert (lines & ~near(ink, 2)).sum() == 0, view
        assert (ink & ~near(lines, 3)).sum() == 0, view
        act(page, "shown.hidden(true)")
        more = picture(page) < 150
        act(page, "shown.hidden(false)")
        unseen = expected(drawn, LineKind.HIDDEN, box, ink.shape)
        dashed = (unseen & near(more, 2)).sum()
        assert not unseen.any() or 0.5 * unseen.sum() < dashed, view           # a dash is twice a gap
        assert (more & ~near(lines | unseen, 3)).sum() < 0.002 * more.size or not unseen.any(), view


def test_the_part_can_be_turned_by_keys_alone(browser, opened, tmp_path):
    page = opened.open(browser, page_of(tmp_path, Look("bored-tee")), **STILL)
    settle(page)
    for _ in range(12):
        page.keyboard.press("Tab")
        if page.evaluate("document.activeElement.tagName") == "CANVAS":
            break
    expect(page.locator("canvas")).to_be_focused()
    start = picture(page)
    for key in ("ArrowLeft", "ArrowUp", "+"):
        before = picture(page)
        page.keyboard.press(key)
        settle(page)
        assert (picture(page) != before).any(), key
    page.keyboard.press("Home")
    settle(page)
    assert (picture(page) == start).all()
    page.keyboard.press("ArrowRight")
    page.keyboard.press("ArrowLeft")
    settle(page)
    assert np.abs(picture(page) - start).max() < 60 and (picture(page) != start).mean() < 0.001


def test_every_control_is_reached_by_the_tab_key_and_says_what_it_does(browser, opened, tmp_path):
    page = opened.open(browser, page_of(tmp_path, Look(side="both")), **STILL)
    page.locator("summary").click()
    page.locator("h1").click()
    named, seen = [], set()
    for _ in range(30):
        page.keyboard.press("Tab")
        found = page.evaluate("""() => { const at = document.activeElement;
            return [at.tagName, at.textContent || at.getAttribute('aria-label') || at.closest('label')?.textContent || ''] }""")
        if tuple(found) in seen or found[0] == "BODY":
            break
        seen.add(tuple(found))
        named.append(found[1])
    assert named == [
        "Pictorial", "Front view", "Top view", "Side view from the left", "Side view from the right", "A part with steps",
        "Hidden edges", "Unfold the views", "How far unfolded", "Other ways to turn the part", "Turn left", "Turn right",
        "Turn up", "Turn down", "Larger", "Smaller", "Back to the start"]


def test_a_screen_reader_is_told_what_there_is_and_what_is_shown(browser, opened, tmp_path):
    page = opened.open(browser, page_of(tmp_path, Look(angle="third")), **STILL)
    expect(page.get_by_role("img", name="A part with steps")).to_be_visible()
    expect(page.get_by_role("group", name="Views of the part")).to_be_visible()
    status = page.get_by_role("status")
    for name in ("Front view", "Top view", "Side view from the left", "Pictorial"):
        button = page.get_by_role("button", name=name)
        button.click()
        expect(button).to_have_attribute("aria-pressed", "true")
        expect(status).to_have_text(name)
        assert page.locator("[aria-pressed=true]").count() == 1
    page.get_by_role("button", name="Hidden edges").click()
    expect(page.get_by_role("button", name="Hidden edges", pressed=True)).to_be_visible()
    page.get_by_role("button", name="Unfold the views").click()
    expect(status).to_have_text("All views in one plane, third angle projection")
    slider = page.get_by_role("slider", name="How far unfolded")
    expect(slider).to_have_attribute("aria-valuetext", "All views in one plane, third angle projection")
    slider.press("Home")
    expect(slider).to_have_attribute("aria-valuetext", "The part alone")
    expect(page.get_by_role("button", name="Unfold the views", pressed=False)).to_be_visible()


def test_the_slider_stops_the_unfolding_anywhere(browser, opened, tmp_path):
    page = opened.open(browser, page_of(tmp_path, Look()), **STILL)
    slider = page.get_by_role("slider")
    slider.fill("70")
    settle(page)
    off = max(line["off"] for line in page.evaluate("shown.lines()"))
    assert off > 1
    slider.press("ArrowRight")
    settle(page)
    assert max(line["off"] for line in page.evaluate("shown.lines()")) < off


def test_the_mouse_turns_the_part_the_way_it_moves(browser, opened, tmp_path):
    """From the front, a quarter turn to the right brings the left side before the reader."""
    page = opened.open(browser, page_of(tmp_path, Look("bored-tee")), **STILL)
    act(page, "shown.view('left')")
    side = picture(page)
    act(page, "shown.view('front')")
    box = page.locator("canvas").bounding_box()
    x, y = box["x"] + box["width"] / 4, box["y"] + box["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + 180, y, steps=6)
    page.mouse.up()
    settle(page)
    assert (np.abs(picture(page) - side) > 60).mean() < 0.001
    expect(page.get_by_role("button", name="Side view from the left", pressed=True)).to_be_visible()


def test_one_finger_turns_the_part_and_two_make_it_larger(browser, opened, tmp_path):
    page = opened.open(browser, page_of(tmp_path, Look()), width=360, height=640, has_touch=True, **STILL)
    touch = page.context.new_cdp_session(page)

    def fingers(kind, *places):
        touch.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": [
            {"x": x, "y": y, "id": k} for k, (x, y) in enumerate(places)]})

    box = page.locator("canvas").bounding_box()
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    start = picture(page)
    fingers("touchStart", (x, y))
    fingers("touchMove", (x + 40, y + 10))
    fingers("touchEnd")
    settle(page)
    turned = picture(page)
    assert (turned != start).any() and page.evaluate("scrollY") == 0
    fingers("touchStart", (x - 20, y), (x + 20, y))
    fingers("touchMove", (x - 50, y), (x + 50, y))
    fingers("touchEnd")
    settle(page)
    blank = turned[0, 0]
    assert (picture(page) != blank).sum() > 2 * (turned != blank).sum()


def test_the_wheel_scrolls_the_page_and_not_the_part(browser, opened, tmp_path):
    page = opened.open(browser, page_of(tmp_path, Look()), width=800, height=400, **STILL)
    start = picture(page)
    page.evaluate("scrollTo(0, 0)")
    box = page.locator("canvas").bounding_box()
    page.mouse.move(box["x"] + 50, box["y"] + 50)
    page.mouse.wheel(0, 200)
    page.wait_for_function("scrollY > 0")
    assert (picture(page) == start).all()


def test_where_motion_is_unwanted_the_views_are_unfolded_at_once(browser, opened, tmp_path):
    page = opened.open(browser, page_of(tmp_path, Look()), **STILL)
    shares = page.evaluate("""async () => { const found = [], slider = document.querySelector('[type=range]');
        shown.unfold(true);
        for (let k = 0; k < 4; k += 1) { await new Promise(requestAnimationFrame); found.push(+slider.value) }
        return found }""")
    assert shares[-1] == 100 and set(shares) <= {0, 100}


def test_elsewhere_they_unfold_little_by_little_and_the_readers_hand_stops_them(browser, opened, tmp_path):
    page = opened.open(browser, page_of(tmp_path, Look()), reduced_motion="no-preference")
    page.get_by_role("button", name="Unfold the views").click()
    page.wait_for_function("document.querySelector('[type=range]').value > 20")
    page.locator("canvas").press("ArrowLeft")
    settle(page)
    stopped = page.get_by_role("slider").input_value()
    page.wait_for_timeout(300)
    assert 20 < int(stopped) < 100 and page.get_by_role("slider").input_value() == stopped
    page.get_by_role("button", name="Unfold the views").click()
    page.wait_for_function("document.querySelector('[type=range]').value == 100", timeout=20_000)


@pytest.mark.parametrize(("width", "ratio"), [(360, 1), (720, 2), (1440, 1)])
def test_nothing_runs_off_a_narrow_page_or_one_read_at_twice_its_size(browser, opened, tmp_path, width, ratio):
    """A window of 1440 pixels at 200 % has 720 of CSS."""
    page = opened.open(browser, page_of(tmp_path, Look(side="both")), width=width, device_scale_factor=ratio, **STILL)
    page.locator("summary").click()
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    for button in page.locator("button").all():
        box = button.bounding_box()
        assert box["x"] >= 0 and box["x"] + box["width"] <= width and box["height"] >= 44
        assert button.evaluate("node => node.scrollWidth <= node.clientWidth && node.scrollHeight <= node.clientHeight")


def test_letters_twice_as_large_still_find_room(browser, opened, tmp_path):
    page = opened.open(browser, page_of(tmp_path, Look(side="both")), width=360, **STILL)
    page.add_style_tag(content="html { font-size: 200% }")
    page.locator("summary").click()
    settle(page)
    assert page.evaluate("document.documentElement.scrollWidth") <= 360


@pytest.mark.parametrize(("scheme", "paper", "ink"), [("light", 255, 17), ("dark", 24, 234)])
def test_the_picture_has_the_papers_colour_and_the_letters(browser, opened, tmp_path, scheme, paper, ink):
    page = opened.open(browser, page_of(tmp_path, Look()), color_scheme=scheme, **STILL)
    settle(page)
    found = picture(page)
    assert abs(found[5, 5] - paper) <= 2
    assert abs((found.min() if scheme == "light" else found.max()) - ink) <= 4


def test_the_picture_follows_the_page_from_light_to_dark(browser, opened, tmp_path):
    page = opened.open(browser, page_of(tmp_path, Look()), color_scheme="light", **STILL)
    settle(page)
    page.emulate_media(color_scheme="dark", reduced_motion="reduce")
    settle(page)
    assert picture(page).max() > 220 and picture(page)[5, 5] < 40


def test_where_the_browser_draws_no_solids_the_page_is_told_and_nothing_breaks(browser_without_solids, opened, tmp_path):
    page = opened.open(browser_without_solids, page_of(tmp_path, Look()))
    assert page.evaluate("sheetgenViewer.supported()") is False
    assert page.locator("canvas").count() == 0
    assert page.evaluate("typeof shown") == "undefined"
    expect(page.locator("#after")).to_be_visible()


def test_many_parts_are_shown_one_after_another_and_the_oldest_close(browser, opened, tmp_path):
    """A browser draws about 16 pictures of this sort at a time, and complains at more."""
    page = opened.open(browser, page_of(tmp_path, Look()), **STILL)
    closed = page.evaluate("""() => { let closed = 0;
        for (let k = 0; k < 20; k += 1) {
            sheetgenViewer.show(document.getElementById('here'), given.solid, {...given, closed: () => { closed += 1 }});
        }
        return closed }""")
    settle(page)
    assert page.locator("canvas").count() == 6 and closed == 14


def test_a_part_that_is_put_away_leaves_nothing(browser, opened, tmp_path):
    page = opened.open(browser, page_of(tmp_path, Look()), **STILL)
    settle(page)
    page.evaluate("shown.unfold(true); shown.dispose(); shown.dispose()")
    settle(page)
    assert page.locator("#here").inner_html() == ""


@pytest.mark.parametrize(("wrong", "told"), [
    ("given.angle = 'second'", "the angle is"), ("given.side = 'top'", "the side is"), ("delete given.texts.front", "lack front"),
    ("given.description = ''", "description"), ("delete given.solid.views.left", "lacks the views left"),
    ("given.solid.facets.pop()", "not whole"), ("given.solid.triangles = 'gA=='", "not whole"),
    ("given.solid.step = 0", "no step"),
])
def test_what_is_wrong_with_a_record_is_told_and_nothing_is_left_behind(browser, opened, tmp_path, wrong, told):
    page = opened.open(browser, page_of(tmp_path, Look()), **STILL)
    page.evaluate("shown.dispose()")
    said = page.evaluate(f"""() => {{ {wrong};
        try {{ sheetgenViewer.show(document.getElementById('here'), given.solid, given); return 'nothing' }}
        catch (error) {{ return error.message }} }}""")
    assert told in said and page.locator("#here").inner_html() == ""


def test_a_picture_that_the_browser_takes_away_and_gives_back_is_drawn_again(browser, opened, tmp_path):
    """Browsers do so when a machine wakes, or its graphics card is wanted elsewhere."""
    page = opened.open(browser, page_of(tmp_path, Look("bored-tee")), **STILL)
    act(page, "shown.view('front')")
    before = picture(page)
    page.evaluate("""async () => {
        const canvas = document.querySelector('canvas'), losing = canvas.getContext('webgl2').getExtension('WEBGL_lose_context');
        const told = (name) => new Promise((done) => { canvas.addEventListener(name, done, { once: true }) });
        const lost = told('webglcontextlost'), back = told('webglcontextrestored');
        losing.loseContext();
        await lost;
        setTimeout(() => losing.restoreContext(), 50);
        await back;
    }""")
    settle(page)
    assert (picture(page) == before).all()
