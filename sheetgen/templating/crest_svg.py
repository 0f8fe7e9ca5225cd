"""A crest from an SVG file: shapes of plain colours. Nothing that could run, grow, be looked up or hang on fonts is taken.

The XML is read event by event, within limits, without document types or entities. What cannot be drawn faithfully is refused,
with its line; what draws nothing (descriptions, what drawing programs note for themselves) is passed over.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from xml.parsers import expat

import numpy as np

from sheetgen.faults import Fault, shown
from sheetgen.geometry import Array
from sheetgen.ink import Colour, Shape
from sheetgen.templating.crest import Crest
from sheetgen.templating.crest_paths import (
    FARTHEST,
    MOST_POINTS,
    Run,
    ShapeError,
    ellipse,
    numbers_of,
    path_of,
    rectangle,
    straight,
    transform_of,
)
from sheetgen.templating.faults import TemplateError

SVG = "http://www.w3.org/2000/svg"

MOST_ELEMENTS, DEEPEST, MOST_FAULTS = 1000, 20, 20

BEYOND = 0.01
"""Part of the page's longer side by which a shape may stand out of it: nobody sees that little."""

SMALLEST = 1e-3
"""Units: less is no height or width of a crest."""

SHAPES = {"path": ("d",), "rect": ("x", "y", "width", "height", "rx", "ry"), "circle": ("cx", "cy", "r"),
          "ellipse": ("cx", "cy", "rx", "ry"), "polygon": ("points",), "polyline": ("points",), "line": ("x1", "y1", "x2", "y2")}
"""What can be drawn, and the attributes that say how."""

SILENT = ("title", "desc", "metadata")
"""Elements that draw nothing: passed over, with all in them."""

WORDS = {
    "fill-rule": ("nonzero", "evenodd"), "stroke-linecap": ("butt", "round", "square"),
    "stroke-linejoin": ("miter", "round", "bevel"),
}

PLAIN = {
    "opacity": ("1", "1.0"), "fill-opacity": ("1", "1.0"), "stroke-opacity": ("1", "1.0"), "stroke-dasharray": ("none",),
    "clip-path": ("none",), "mask": ("none",), "filter": ("none",), "marker": ("none",), "marker-start": ("none",),
    "marker-mid": ("none",), "marker-end": ("none",), "mix-blend-mode": ("normal",), "paint-order": ("normal",),
    "vector-effect": ("none",), "display": ("inline", "block"), "visibility": ("visible",), "stroke-miterlimit": ("4",),
}
"""Properties that may be given only with the words that change nothing."""

PASSED_OVER = re.compile(
    r"-[a-z-]+|font(-[a-z-]+)?|text-[a-z-]+|(line-height|letter-spacing|word-spacing|white-space|writing-mode|direction|"
    r"baseline-shift|shape-[a-z-]+|image-rendering|color(-[a-z-]+)?|solid-[a-z]+|stop-[a-z]+|flood-[a-z]+|lighting-color|"
    r"isolation|overflow|clip-rule|stroke-dashoffset|enable-background|clip)")
"""Properties of texts, gradients and screens, which change nothing of a shape."""

NAMED: Mapping[str, Colour] = {
    name: (int(code[0:2], 16) / 255, int(code[2:4], 16) / 255, int(code[4:6], 16) / 255) for name, code in {
        "black": "000000", "silver": "c0c0c0", "gray": "808080", "grey": "808080", "white": "ffffff", "maroon": "800000",
        "red": "ff0000", "purple": "800080", "fuchsia": "ff00ff", "green": "008000", "lime": "00ff00", "olive": "808000",
        "yellow": "ffff00", "navy": "000080", "blue": "0000ff", "teal": "008080", "aqua": "00ffff", "gold": "ffd700",
        "orange": "ffa500", "brown": "a52a2a", "crimson": "dc143c"}.items()}


WANTED_INSTEAD = {
    "text": ("letters", "letters made into paths: most drawing programs have a command for it, such as \"object to path\""),
    "use": ("a reference", "the shapes themselves"),
    "image": ("a picture within the drawing", "a drawing of lines and areas; or the picture alone, as a .png file"),
}
"""Elements that teachers' files have, as found and wanted."""


def drawing_of(raw: bytes, file: str) -> Crest:
    """The crest whose SVG file is ``raw``. Raises: TemplateError."""
    reader = _Reader(file)
    shapes = reader.read(raw)
    runs = [_along(shape) for shape in shapes]
    _check_page(reader, np.concatenate(runs))
    points = np.concatenate([run + side * shape.width / 2 for run, shape in zip(runs, shapes, strict=True) for side in (-1, 1)])
    low, high = points.min(axis=0), points.max(axis=0)
    if (high - low).min() < SMALLEST:
        raise TemplateError([Fault(file, 0, "", "a drawing without height or width", "a crest with both")])
    width, height = (high - low).tolist()
    flip, shift = np.array([1.0, -1.0]), np.array([-low[0], high[1]])
    return Crest(width, height, tuple(replace(shape, points=shape.points * flip + shift) for shape in shapes))


def _check_page(reader: _Reader, points: Array) -> None:
    """Find out whether something would be cut off by the page, which we do not do."""
    if not np.isfinite(points).all() or np.abs(points).max() > FARTHEST:
        found = "shapes that a transform has carried out of sight"
        raise TemplateError([Fault(reader.file, 0, "", found, "a drawing within its page")])
    if reader.page is None:
        return
    x, y, width, height = reader.page
    room = BEYOND * max(width, height)
    if (points < (x - room, y - room)).any() or (points > (x + width + room, y + height + room)).any():
        found = "shapes that stand out of the page"
        raise TemplateError([Fault(reader.file, 0, "", found, "a drawing within its page (viewBox)")])


def _along(shape: Shape) -> Array:
    """Points along a shape, enough to know its box."""
    t = np.linspace(0.0, 1.0, 17)[:, None, None]
    out, start = [], 0
    for count, _ in shape.runs:
        run, start = shape.points[start:start + count], start + count
        a, b, c, d = run[0:-1:3], run[1::3], run[2::3], run[3::3]
        s = 1 - t
        out.append((a * s**3 + 3 * b * s * s * t + 3 * c * s * t * t + d * t**3).reshape(-1, 2))
    return np.concatenate(out)


@dataclass(frozen=True, eq=False)
class _Manner:
    """How a shape is painted, and where: what is handed down from group to group."""

    words: Mapping[str, str] = field(default_factory=dict)
    matrix: Array = field(default_factory=lambda: np.eye(3)[:2])
    defines: bool = False                              # within definitions, where nothing is drawn


class _Reader:
    """Puts the events of one file together."""

    def __init__(self, file: str) -> None:
        self.file = file
        self.page: tuple[float, float, float, float] | None = None
        self.shapes: list[Shape] = []
        self.faults: list[Fault] = []
        self.manners: list[_Manner] = []
        self.elements = self.points = self.silent = 0
        self.parser = expat.ParserCreate(namespace_separator=" ")
        self.parser.StartElementHandler = self._start
        self.parser.EndElementHandler = self._end
        self.parser.CharacterDataHandler = lambda _: None
        self.parser.StartDoctypeDeclHandler = lambda *_: self._stop("a document type", "a file without <!DOCTYPE …>")
        self.parser.EntityDeclHandler = lambda *_: self._stop("an entity", "a file without entities")
        self.parser.ProcessingInstructionHandler = lambda *_: self._stop("a processing instruction", "a file without <? … ?>")

    def read(self, raw: bytes) -> list[Shape]:
        """All shapes of the file, y down. Raises: TemplateError."""
        try:
            self.parser.Parse(raw, True)
        except expat.ExpatError as error:
            raise TemplateError([*self.faults, Fault(self.file, error.lineno, "", "something that is not XML",
                                                     "an SVG file, saved as plain SVG")]) from None
        except (ValueError, LookupError):              # an encoding that there is not
            raise TemplateError([Fault(self.file, 1, "", "letters that cannot be read", "a file saved as UTF-8")]) from None
        if not self.faults and not self.shapes:
            self._fault("", "nothing that is drawn", f"a drawing of {', '.join(SHAPES)}")
        if self.faults:
            raise TemplateError(self.faults)
        return self.shapes

    def _stop(self, found: str, wanted: str) -> None:
        raise TemplateError([*self.faults, Fault(self.file, self.parser.CurrentLineNumber, "", found, wanted)])

    def _fault(self, where: str, found: str, wanted: str) -> None:
        self.faults.append(Fault(self.file, self.parser.CurrentLineNumber, where, found, wanted))
        if len(self.faults) >= MOST_FAULTS:
            raise TemplateError(self.faults)

    def _start(self, name: str, attributes: dict[str, str]) -> None:
        space, _, tag = name.rpartition(" ")
        self.elements += 1
        if self.elements > MOST_ELEMENTS:
            self._stop(f"more than {MOST_ELEMENTS} elements", "a simpler drawing")
        if len(self.manners) + self.silent >= DEEPEST:
            self._stop(f"more than {DEEPEST} elements within each other", "fewer")
        if not self.manners and (space, tag) != (SVG, "svg"):
            self._stop(f"{shown(tag)} as the outermost element", f'svg with xmlns="{SVG}"')
        if self.silent or (self.manners and (space != SVG or tag in SILENT)):
            self.silent += 1
            return
        if self.manners and tag not in (*SHAPES, "g", "defs"):           # what is in it, and how it is drawn, follows from it
            what, wanted = WANTED_INSTEAD.get(tag, (f"an element {shown(tag)}", f"only {', '.join(SHAPES)} and g"))
            self._fault(tag, what, wanted)
            self.silent += 1
            return
        own = {key: value for key, value in attributes.items() if " " not in key}
        if any(key.rpartition(" ")[2] == "href" for key in attributes):
            self._fault(tag, "a reference", "a drawing without links")
        outer = self.manners[-1] if self.manners else _Manner()
        try:
            manner = self._manner(tag, outer, own)
            if tag in SHAPES:
                self._draw(tag, manner, own)
            elif tag == "svg" and not self.manners:
                self._page(own)
        except ShapeError as error:
            self._fault(tag, str(error), error.wanted)
            manner = outer
        self.manners.append(replace(manner, defines=manner.defines or tag == "defs"))

    def _end(self, _: str) -> None:
        if self.silent:
            self.silent -= 1
        else:
            self.manners.pop()

    def _page(self, own: Mapping[str, str]) -> None:
        """The page, if the file tells its size in the units of the shapes."""
        if "viewBox" in own:
            box = numbers_of(own["viewBox"])
            if len(box) != 4 or min(box[2:]) <= 0:
                raise ShapeError(f"viewBox {shown(own['viewBox'])}", "four numbers: x, y, width, height")
            x, y, width, height = box
            self.page = (x, y, width, height)

    def _manner(self, tag: str, outer: _Manner, own: Mapping[str, str]) -> _Manner:
        """How an element is painted. Notes what cannot be drawn so."""
        words = dict(outer.words)
        said = {key: value.strip() for key, value in own.items()}
        for part in said.pop("style", "").split(";"):
            key, colon, value = part.partition(":")
            if part.strip():
                said[key.strip()] = value.strip() if colon else "?"
        for key, value in said.items():
            if key in ("fill", "stroke", "stroke-width") or (key in WORDS and value in WORDS[key]):
                words[key] = value
            elif key in WORDS or key in PLAIN:
                if value not in PLAIN.get(key, ()) and not (key == "stroke-miterlimit" and _is_number(value)):
                    self._fault(tag, f"{key}: {shown(value)}", f"one of {', '.join(WORDS.get(key) or PLAIN[key])}")
            elif not self._known(tag, key):
                self._fault(tag, f"an attribute {shown(key)}", "one that draws: position, size, fill, stroke, transform")
        matrix = outer.matrix
        if "transform" in said:
            matrix = (np.vstack([matrix, [0, 0, 1]]) @ np.vstack([transform_of(said["transform"]), [0, 0, 1]]))[:2]
        return _Manner(words, matrix, outer.defines)

    def _known(self, tag: str, key: str) -> bool:
        if tag == "svg":
            return not key.startswith("on")            # the page itself draws nothing
        return key in (*SHAPES.get(tag, ()), "transform", "id", "class") or PASSED_OVER.fullmatch(key) is not None

    def _draw(self, tag: str, manner: _Manner, own: Mapping[str, str]) -> None:
        if manner.defines:
            raise ShapeError("a definition", "shapes that are drawn where they stand")
        runs = _runs(tag, own)
        self.points += sum(len(run.points) for run in runs)
        if self.points > MOST_POINTS:
            self._stop(f"more than {MOST_POINTS} points", "a simpler drawing")
        fill, line = _colour(manner.words.get("fill", "black")), _colour(manner.words.get("stroke", "none"))
        stretch = float(np.sqrt(abs(np.linalg.det(manner.matrix[:, :2]))))
        width = _number(manner.words.get("stroke-width", "1"), "stroke-width") * stretch if line is not None else 0.0
        line = line if width > 0 else None
        if not runs or (fill is None and line is None):
            return                                     # it draws nothing
        points = np.concatenate([run.points for run in runs]) @ manner.matrix[:, :2].T + manner.matrix[:, 2]
        self.shapes.append(Shape(
            points, tuple((len(run.points), run.closed) for run in runs), fill, line, width if line is not None else 0.0,
            manner.words.get("fill-rule") == "evenodd", manner.words.get("stroke-linecap", "butt"),
            manner.words.get("stroke-linejoin", "miter")))


def _runs(tag: str, own: Mapping[str, str]) -> list[Run]:
    """The runs of a shape; none if it has no size."""
    if tag == "path":
        return path_of(own.get("d", ""))
    if tag in ("polygon", "polyline"):
        said = numbers_of(own.get("points", ""))
        if len(said) < 4 or len(said) % 2:
            raise ShapeError(f"{len(said)} numbers for points", "x and y of two points or more")
        return [straight(list(zip(said[::2], said[1::2], strict=True)), tag == "polygon")]
    given = {key: _number(own[key], key) for key in SHAPES[tag] if key in own}
    said = [given.get(key, 0.0) for key in SHAPES[tag]]
    if tag == "line":
        return [straight([(said[0], said[1]), (said[2], said[3])], False)]
    if tag == "circle":
        said.append(said[2])
    if min(said[2:4]) < 0:
        raise ShapeError("a size below 0", "a size of 0 or more")
    if min(said[2:4]) == 0:
        return []
    if tag == "rect":
        x, y, width, height, rx, ry = said
        rx, ry = given.get("rx", ry), given.get("ry", rx)            # one stands for both
        if min(rx, ry) < 0:
            raise ShapeError("a radius below 0", "a radius of 0 or more")
        return [rectangle(x, y, width, height, rx, ry)]
    return [ellipse(*said)]


def _is_number(text: str) -> bool:
    try:
        return len(numbers_of(text)) == 1
    except ShapeError:
        return False


def _number(text: str, key: str) -> float:
    plain = text.strip().removesuffix("px")
    if not _is_number(plain):
        raise ShapeError(f"{key} {shown(text)}", "a plain number, without a unit")
    return numbers_of(plain)[0]


def _colour(text: str) -> Colour | None:
    """The colour that a text means; None for none."""
    said = text.strip().lower()
    if said in ("none", "transparent"):
        return None
    if said in NAMED:
        return NAMED[said]
    if match := re.fullmatch(r"#([0-9a-f]{3}|[0-9a-f]{6})", said):
        code = match[1] if len(match[1]) == 6 else "".join(2 * sign for sign in match[1])
        return int(code[0:2], 16) / 255, int(code[2:4], 16) / 255, int(code[4:6], 16) / 255
    if match := re.fullmatch(r"rgb\(\s*(\d{1,3})\s*,\s*(\d{1,3})\s*,\s*(\d{1,3})\s*\)", said):
        red, green, blue = (min(int(part), 255) / 255 for part in match.groups())
        return red, green, blue
    raise ShapeError(f"the colour {shown(text)}", f"one such as #1a2b3c, none, or one of {', '.join(sorted(NAMED))}")
