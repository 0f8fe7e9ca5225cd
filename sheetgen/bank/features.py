"""Features with their sizes filled in: what a variant hands to the solid. Millimetres, part frame, degrees for angles.

Part frame: x to the right (width), y away from the viewer of the front view (depth), z up (height).
A feature is drawn in a plane called by the view that shows it: ``front`` (u, v) = (x, z), ``top`` (x, y), ``right`` (y, z).
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

Axis = Literal["x", "y", "z"]
Plane = Literal["front", "top", "right"]
Mouth = Literal["left", "right", "front", "back", "bottom", "top"]
Toward = Literal["left", "right", "up", "down"]
Point = tuple[float, float]
Point3 = tuple[float, float, float]
Span = tuple[float | None, float | None]
"""From, to along an axis, mm; None stands for open: right through on that side."""

NORMAL_AXIS: dict[str, Axis] = {"front": "y", "top": "z", "right": "x"}
PLANE_AXES: dict[str, tuple[Axis, Axis]] = {"front": ("x", "z"), "top": ("x", "y"), "right": ("y", "z")}


@dataclass(frozen=True, slots=True)
class Block:
    """A box square to the axes. Sides: left, right (x), front, back (y), bottom, top (z)."""

    name: str
    cut: bool
    x: Span
    y: Span
    z: Span


@dataclass(frozen=True, slots=True)
class Piece:
    """One piece of an outline, from the end of the piece before: a line, or an arc about ``centre``."""

    end: Point
    side: str | None = None           # the name of the face it makes, e.g. "ramp"
    centre: Point | None = None       # an arc if given
    turn: Literal["left", "right"] | None = None   # arcs: left is anticlockwise, right is clockwise


@dataclass(frozen=True, slots=True)
class Profile:
    """An outline of lines and arcs in ``plane``, extruded ``along`` the plane's normal axis.

    Sides: those named in the outline, and the two ends, named by axis (left/right, front/back, bottom/top).
    The outline closes itself: the last piece ends at ``start``. An arc's axis is ``<side>`` too (``nose`` has wall and axis).
    """

    name: str
    cut: bool
    plane: Plane
    start: Point
    pieces: tuple[Piece, ...]
    along: Span


@dataclass(frozen=True, slots=True)
class Hole:
    """One hole, or several alike. Drilled from ``mouth`` at each of ``at`` (plane coordinates of that side's view).

    Top and bottom mouths: (x, y); front and back: (x, z); left and right: (y, z). ``level``: coordinate of the mouth along
    the axis, None for the outermost. ``depth`` from the mouth, None for right through; ``point_angle`` of the drilled bottom
    (None: flat). Sides: axis, wall, floor, counterbore, shoulder, countersink; of several, ``1.axis``, ``2.axis`` ...
    """

    name: str
    mouth: Mouth
    at: tuple[Point, ...]
    diameter: float
    level: float | None = None
    depth: float | None = None
    point_angle: float | None = None
    counterbore: tuple[float, float] | None = None     # diameter, depth
    countersink: tuple[float, float] | None = None     # diameter, included angle in degrees


@dataclass(frozen=True, slots=True)
class Cylinder:
    """A boss, spindle or pin (or a round cut) along ``axis`` at each of ``at`` (the plane whose normal is the axis).

    Sides: axis, wall, and the two ends named by axis; of several, ``1.axis`` and so on.
    """

    name: str
    cut: bool
    axis: Axis
    at: tuple[Point, ...]
    diameter: float
    along: Span


@dataclass(frozen=True, slots=True)
class Cone:
    """A frustum or full cone along ``axis``; ``diameters`` at the low and the high end (one may be 0). Sides as Cylinder."""

    name: str
    cut: bool
    axis: Axis
    at: Point
    diameters: tuple[float, float]
    along: Span                        # both ends given


@dataclass(frozen=True, slots=True)
class Lug:
    """A tongue with a half-round end tangent to its flats; or, cut, a slot with one round end.

    ``centre`` of the round end in ``plane``; ``width`` across the flats; ``toward`` where the round end points; ``foot`` the
    coordinate where the straight part begins (None, cut only: open). Sides: round (wall and axis), floor at the foot, the two
    flats named by place in the plane (left/right or bottom/top; front/back for a depth), and the ends along the normal axis.
    """

    name: str
    cut: bool
    plane: Plane
    centre: Point
    width: float
    toward: Toward
    foot: float | None
    along: Span


@dataclass(frozen=True, slots=True)
class Obround:
    """A slot (or link) with two rounded ends: all within ``width``/2 of the line between ``centres``, which is square to an axis.

    Sides: 1.round, 2.round (wall and axis), the two flats as for Lug, the ends along the normal axis.
    """

    name: str
    cut: bool
    plane: Plane
    centres: tuple[Point, Point]
    width: float
    along: Span


@dataclass(frozen=True, slots=True)
class Rib:
    """A triangular rib: right-angled ``corner`` in ``plane``, ``legs`` signed lengths along u and v.

    Sides: slope, the ends along.
    """

    name: str
    plane: Plane
    corner: Point
    legs: tuple[float, float]
    along: Span


@dataclass(frozen=True, slots=True)
class Vee:
    """A V cut: ``tip`` in ``plane``, opening ``toward``, ``angle`` between its flanks in degrees.

    Sides: the flanks as for Lug.
    """

    name: str
    plane: Plane
    tip: Point
    toward: Toward
    angle: float
    along: Span


@dataclass(frozen=True, slots=True)
class Slant:
    """An inclined cut: all that lies on one side (``remove``) of the line through two points of ``plane``. Side: face."""

    name: str
    plane: Plane
    line: tuple[Point, Point]
    remove: Literal["above", "below", "left", "right"]
    along: Span


@dataclass(frozen=True, slots=True)
class Dovetail:
    """A dovetail groove (cut) or tongue: symmetric about ``centre`` (the middle of the floor or crest), ``width`` there,
    sides sloping at ``angle`` to the floor, opening ``toward`` over ``height``.

    Sides: floor (crest of a tongue), the flanks as for Lug, ends.
    """

    name: str
    cut: bool
    plane: Plane
    centre: Point
    width: float
    height: float
    angle: float
    toward: Toward
    along: Span


@dataclass(frozen=True, slots=True)
class Corner:
    """An oblique cut: the plane through three points; what lies towards ``corner`` (signs along x, y, z) goes. Side: face."""

    name: str
    through: tuple[Point3, Point3, Point3]
    corner: tuple[int, int, int]


Feature = Block | Profile | Hole | Cylinder | Cone | Lug | Obround | Rib | Vee | Slant | Dovetail | Corner


@dataclass(frozen=True, slots=True)
class Side:
    """A side by its two names: of the feature, and of the side of it; the latter is empty where the feature alone is named.

    >>> Side.of("bore.counterbore"), Side.of("bore")
    (Side(feature='bore', name='counterbore'), Side(feature='bore', name=''))
    """

    feature: str
    name: str = ""

    @classmethod
    def of(cls, full: str) -> Side:
        """The side called ``feature.name``, as a file writes it."""
        feature, _, name = full.partition(".")
        return cls(feature, name)


@dataclass(frozen=True, slots=True)
class End:
    """One end of a span: a side ("slot.left", "bore.axis"), or the edge where two sides meet."""

    sides: tuple[str, ...]

    @property
    def named(self) -> tuple[Side, ...]:
        """The sides, each as feature and side."""
        return tuple(Side.of(side) for side in self.sides)


@dataclass(frozen=True, slots=True)
class MeasureSpec:
    """What is to be printed. span: ``a`` to ``b`` (``along`` an axis, needed only when neither end tells it);
    diameter or radius: ``a`` is a cylinder's side or feature; depth: ``a`` is a blind hole or a counterbore, from its mouth to
    its floor; angle: between ``a`` and ``b``, two planes, or without ``b`` of ``a``, a countersink, from side to side.

    ``text`` and ``line``: what the file says, and where; empty and 0 of one that no file gives. They do not tell measures apart.
    """

    kind: Literal["span", "diameter", "radius", "angle", "depth"]
    a: End
    b: End | None = None
    along: Axis | None = None
    text: str = field(default="", compare=False)
    line: int = field(default=0, compare=False)

    @property
    def sides(self) -> tuple[Side, ...]:
        """All sides that it names, those of ``a`` first."""
        return self.a.named + (self.b.named if self.b else ())


@dataclass(frozen=True, slots=True)
class SectionSpec:
    """A cutting plane with its numbers filled in, as ``specs.SectionLine``: levels in mm, axes by name. ``number`` and ``line``:
    its place in the file; ``mirrored``: of the part in the other hand, where lengths along x count from the right."""

    section: Literal["full", "half", "offset"]
    view: Literal["front", "top", "side"]
    through: tuple[float | str, ...]
    turns: tuple[float, ...] = ()
    number: int = 0
    line: int = 0
    mirrored: bool = False
