"""Pages with nothing but the viewer on them, and what is drawn there read back from pictures."""

from __future__ import annotations

import io
import json
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path

import numpy as np
from PIL import Image, ImageDraw
from playwright.sync_api import Page

import sheetgen
from sheetgen.exercises.drawing import Drawing, drawing_of
from sheetgen.problem import problem_of
from sheetgen.projection import LineKind
from sheetgen.sets.packs.solids import record_of, words_of
from sheetgen.sheet import Style, settings_of
from sheetgen.templating import load_wording

VIEWER = Path(sheetgen.__file__).parent / "sets" / "packs" / "page" / "viewer.js"
ENGLISH = load_wording()

PAGE = """<!doctype html>
<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">
<title>A part</title><link rel="icon" href="data:,"><script src="viewer.js"></script>
<style>
:root {{ color-scheme: light dark }}
body {{ margin: 1rem; font: 1rem/1.4 sans-serif; background: #fff; color: #111 }}
@media (prefers-color-scheme: dark) {{ body {{ background: #16181c; color: #eceae4 }} }}
</style></head>
<body><h1>A part</h1><div id="here"></div><p id="after">The question goes on.</p>
<script>
var given = {given};
var here = document.getElementById('here');
if (sheetgenViewer.supported()) window.shown = sheetgenViewer.show(here, given.solid, given);
</script></body></html>
"""


@dataclass(frozen=True)
class Look:
    """A course's look, as far as the viewer knows it, and the part."""

    family: str = "stepped-block"
    angle: str = "first"
    side: str = "left"
    seed: int = 7
    more: dict[str, object] = field(default_factory=dict, hash=False)


@cache
def _drawn(family: str, seed: int, angle: str, side: str) -> Drawing:
    variant = sheetgen.load_bank()[family].sample(seed)
    problem = problem_of(variant.record, variant.solid().exact)
    return drawing_of(problem, settings_of(Style(projection=angle, side=side)))


def answer_of(look: Look) -> Drawing:
    """The views as the answer sheet places them."""
    return _drawn(look.family, look.seed, look.angle, look.side)


def page_of(folder: Path, look: Look) -> Path:
    """The file of a page that shows the part."""
    drawing = answer_of(look)
    views = {placed.view.name: placed.view for placed in drawing.views}
    given = {
        "solid": record_of(drawing.views[0].view.solid, views, drawing.layout), "angle": look.angle, "side": look.side,
        "texts": words_of(ENGLISH, look.angle), "description": "A part with steps", **look.more,
    }
    (folder / "viewer.js").write_bytes(VIEWER.read_bytes())
    path = folder / "part.html"
    path.write_text(PAGE.format(given=json.dumps(given)), encoding="utf-8")
    return path


def settle(page: Page) -> None:
    """Wait until the picture stands still: without motion it needs two frames at most."""
    page.evaluate("async () => { for (let k = 0; k < 3; k += 1) await new Promise(requestAnimationFrame) }")


def act(page: Page, script: str) -> None:
    """Have the page do something with ``shown``, the viewer's handle."""
    page.evaluate(script)
    settle(page)


def picture(page: Page) -> np.ndarray:
    """The picture without its border, as grey (h, w), 0 to 255."""
    shot = Image.open(io.BytesIO(page.locator("canvas").screenshot())).convert("L")
    return np.asarray(shot, dtype=int)[2:-2, 2:-2]


def expected(view, kind: LineKind, box, shape) -> np.ndarray:
    """True (h, w) where the lines of a view lie if its outline fills ``box`` (left, top, right, bottom) of a picture."""
    lines = view.visible if kind is LineKind.VISIBLE else view.hidden
    low, high = view.extent
    scale = np.array([box[2] - box[0], box[3] - box[1]]) / (high - low)
    image = Image.new("L", (shape[1], shape[0]))
    for line in lines:
        at = (line - low) * scale
        ImageDraw.Draw(image).line([(box[0] + u, box[3] - v) for u, v in at.tolist()], fill=255)
    return np.asarray(image) > 0


def near(marks: np.ndarray, reach: int) -> np.ndarray:
    """True where a mark is no farther than ``reach`` pixels away, across or up."""
    found = marks.copy()
    for dy in range(-reach, reach + 1):
        for dx in range(-reach, reach + 1):
            found |= np.roll(marks, (dy, dx), axis=(0, 1))
    return found
