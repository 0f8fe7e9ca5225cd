"""A mistake, and what it does to a view."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, fields, replace

from sheetgen.projection import LineKind, Shape, Straight, View
from sheetgen.projection.linework import Linework
from sheetgen.sight import PlacedView, Sight

MISSING, EXTRA, AS_HIDDEN, AS_VISIBLE, NO_CENTRE = "missing", "extra", "as_hidden", "as_visible", "centre"
SIDE, PLACE = "side", "place"
WRONG, LEFT_OUT, TWICE, RADIUS = "wrong", "left_out", "twice", "radius"
"""Sorts of mistakes, as the wording calls them: of lines, of views, of sizes."""


@dataclass(frozen=True, eq=False)
class Mistake:
    """One thing that is wrong: its ``sort``, and the number of the ``view`` it is in; of a line its ``shape`` in the view's own
    axes, and the ``kind`` that it has on the right drawing, or that an extra one is drawn as; of a size the number of its
    ``item``. ``said``: figures, as the wording puts them into its text; ``other``: the number of the view in which a size given
    twice stands rightly."""

    sort: str
    view: int
    shape: Shape | None = None
    kind: LineKind | None = None
    item: int | None = None
    said: dict[str, str] = field(default_factory=dict)
    other: int | None = None


@dataclass(frozen=True, eq=False)
class _Uncentred(View):
    """A view with the centre lines of the ``right`` one, less those that are ``lost``."""

    right: View
    lost: tuple[Shape, ...]

    def centre_lines_at(self, scale: float) -> tuple[Straight, ...]:
        """Centre lines without the lost ones."""
        gone = {_ends(shape) for shape in self.lost}
        return tuple(line for line in self.right.centre_lines_at(scale) if _ends(line) not in gone)


def _ends(shape: Shape) -> tuple[float, ...]:
    return tuple(shape.points()[[0, -1]].round(4).ravel().tolist())


def spoilt(placed: PlacedView, mistakes: Sequence[Mistake]) -> PlacedView:
    """A view with the mistakes of its lines."""
    if not mistakes:
        return placed
    view = placed.view
    lines = {LineKind.VISIBLE: list(view.visible_lines), LineKind.HIDDEN: list(view.hidden_lines)}
    lost = []
    for mistake in mistakes:
        shape, kind = mistake.shape, mistake.kind
        assert shape is not None and kind is not None
        if mistake.sort == NO_CENTRE:
            lost.append(shape)
            continue
        if mistake.sort != EXTRA:
            lines[kind] = [line for line in lines[kind] if line is not shape]
        if mistake.sort in (EXTRA, AS_HIDDEN, AS_VISIBLE):
            lines[{AS_HIDDEN: LineKind.HIDDEN, AS_VISIBLE: LineKind.VISIBLE}.get(mistake.sort, kind)].append(shape)
    own = {each.name: getattr(view, each.name) for each in fields(View)}
    own["linework"] = Linework(tuple(lines[LineKind.VISIBLE]), tuple(lines[LineKind.HIDDEN]))
    return replace(placed, sight=Sight(_Uncentred(**own, right=view, lost=tuple(lost))))
