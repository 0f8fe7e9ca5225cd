"""What hypothesis draws from: variants of the bank, and parts made up at random. Millimetres on a grid of 1 or 0.5."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from hypothesis import assume
from hypothesis import strategies as st

from sheetgen.bank import Variant, load_bank
from sheetgen.bank.features import Block, Corner, Cylinder, Feature, Hole, Obround, Piece, Profile, Slant, Span
from sheetgen.solid import Solid, SolidError, build

ALL: Span = (None, None)
Features = tuple[Feature, ...]


def variants() -> st.SearchStrategy[Variant]:
    """A family of the bank with sizes chosen by a seed."""
    bank = load_bank()
    return st.builds(lambda name, seed: bank[name].sample(seed), st.sampled_from(sorted(bank)), st.integers(0, 500))


@dataclass(frozen=True, eq=False)
class Sample:
    """A solid and where it comes from, which is all that a failing test prints."""

    origin: str
    solid: Solid = field(repr=False)


def samples() -> st.SearchStrategy[Sample]:
    """Solids of both kinds: of the bank, and made up."""
    banked = variants().map(lambda variant: Sample(f"{variant.family.name} seed {variant.seed}", build(variant.features)))
    return st.one_of(bodies().map(lambda body: Sample(str(body.features), body.solid)), banked)


def halves(low: float, high: float) -> st.SearchStrategy[float]:
    """A size on a grid of half a millimetre."""
    return st.integers(round(2 * low), round(2 * high)).map(lambda twice: twice / 2)


@st.composite
def spans(draw: st.DrawFn, high: float, least: float = 4.0) -> Span:
    """From, to within 0..high; open at either end now and then."""
    low = draw(halves(0, high - least))
    top = draw(halves(low + least, high))
    return (draw(st.sampled_from([low, low, None])) if low < high / 2 else low, draw(st.sampled_from([top, top, None])))


@st.composite
def cuts(draw: st.DrawFn, size: tuple[float, float, float], number: int) -> Feature:
    """One cut or addition in a block of ``size``."""
    name, (w, d, h) = f"f{number}", size
    kind = draw(st.sampled_from(["slot", "hole", "blind", "slant", "corner", "obround", "boss", "round", "hollow"]))
    if kind == "slot":
        return Block(name, True, *(draw(st.one_of(spans(high), st.just(ALL))) for high in size))
    if kind in ("hole", "blind"):
        mouth = draw(st.sampled_from(["left", "right", "front", "back", "bottom", "top"]))
        u, v, deep = {"left": (d, h, w), "right": (d, h, w), "top": (w, d, h), "bottom": (w, d, h)}.get(mouth, (w, h, d))
        at = (draw(halves(0, u)), draw(halves(0, v)))
        depth = draw(halves(3, deep - 2)) if kind == "blind" else None
        point = draw(st.sampled_from([None, 118.0])) if kind == "blind" else None
        return Hole(name, mouth, (at,), draw(halves(4, 16)), depth=depth, point_angle=point)
    if kind == "slant":
        return Slant(name, "front", ((draw(halves(4, w - 8)), h), (w, draw(halves(4, h - 4)))), "above", ALL)
    if kind == "corner":
        a, b, c = draw(halves(3, w - 3)), draw(halves(3, d - 3)), draw(halves(3, h - 3))
        return Corner(name, ((a, 0, h), (w, b, h), (w, 0, c)), (1, -1, 1))
    if kind == "obround":
        first, y = draw(halves(4, w / 2)), draw(halves(2, d - 2))
        return Obround(name, True, "top", ((first, y), (draw(halves(first + 2, w)), y)), draw(halves(4, 12)), draw(spans(h)))
    if kind == "boss":
        at = (draw(halves(4, w - 4)), draw(halves(4, d - 4)))
        return Cylinder(name, False, "z", (at,), draw(halves(4, 24)), (h / 2, h + draw(halves(2, 20))))
    if kind == "round":
        at = (draw(halves(0, min(w, d))), h)
        return Cylinder(name, True, draw(st.sampled_from(["x", "y"])), (at,), draw(halves(6, 20)), ALL)
    r = draw(halves(3, min(w / 4, h - 2)))
    middle = draw(halves(r + 2, w - r - 2))
    arc = Piece((middle + r, h), "hollow", (middle, h), "left")
    return Profile(name, True, "front", (middle - r, h), (arc, Piece((middle - r, h))), ALL)


@dataclass(frozen=True, eq=False)
class Body:
    """A part made up, and its solid."""

    features: Features
    solid: Solid = field(repr=False)


@st.composite
def bodies(draw: st.DrawFn, most: int = 3) -> Body:
    """A block with up to ``most`` features, and its solid."""
    size = tuple(draw(st.integers(20, 60)) * 1.0 for _ in range(3))
    block = Block("block", False, (0, size[0]), (0, size[1]), (0, size[2]))
    features: Features = (block, *(draw(cuts(size, k)) for k in range(draw(st.integers(1, most)))))  # type: ignore[arg-type]
    try:
        return Body(features, build(features))
    except SolidError:
        assume(False)
        raise


def mirrored(features: Features, width: float) -> Features:
    """The part as a mirror square to x shows it: left and right exchanged."""
    return tuple(_mirror(feature, width) for feature in features)


def _mirror(feature: Feature, w: float) -> Feature:
    if isinstance(feature, Block):
        return replace(feature, x=_turned(feature.x, w))
    if isinstance(feature, Hole):
        swapped = {"left": "right", "right": "left"}.get(feature.mouth)
        if swapped:
            return replace(feature, mouth=swapped)  # type: ignore[arg-type]
        return replace(feature, at=tuple((w - u, v) for u, v in feature.at))
    if isinstance(feature, Cylinder):
        if feature.axis == "x":
            return replace(feature, along=_turned(feature.along, w))
        return replace(feature, at=tuple((w - u, v) for u, v in feature.at))
    if isinstance(feature, Slant):
        return replace(feature, line=tuple((w - u, v) for u, v in feature.line))  # type: ignore[arg-type]
    if isinstance(feature, Corner):
        through = tuple((w - x, y, z) for x, y, z in feature.through)
        return replace(feature, through=through, corner=(-feature.corner[0], *feature.corner[1:]))  # type: ignore[arg-type]
    if isinstance(feature, Obround):
        return replace(feature, centres=tuple((w - u, v) for u, v in feature.centres))  # type: ignore[arg-type]
    assert isinstance(feature, Profile)
    u, v = feature.start
    return replace(feature, start=(w - u, v), pieces=tuple(_mirrored_piece(piece, w) for piece in feature.pieces))


def _mirrored_piece(piece: Piece, w: float) -> Piece:
    centre = None if piece.centre is None else (w - piece.centre[0], piece.centre[1])
    turn = {"left": "right", "right": "left", None: None}[piece.turn]
    return replace(piece, end=(w - piece.end[0], piece.end[1]), centre=centre, turn=turn)  # type: ignore[arg-type]


def _turned(span: Span, w: float) -> Span:
    low, high = span
    return (None if high is None else w - high, None if low is None else w - low)
