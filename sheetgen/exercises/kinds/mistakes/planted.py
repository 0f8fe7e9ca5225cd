"""Which mistakes a sheet has: chosen by the problem's seed among those that can be made and told apart, each in another way."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import chain

from sheetgen.exercises.chance import number_of, shuffled
from sheetgen.exercises.differing import differ, lines_drawn
from sheetgen.exercises.drawing import Drawing, Dressing, drawing_of
from sheetgen.exercises.kinds.mistakes import of_sizes
from sheetgen.exercises.kinds.mistakes.mistake import (
    AS_HIDDEN,
    AS_VISIBLE,
    EXTRA,
    LEFT_OUT,
    MISSING,
    NO_CENTRE,
    PLACE,
    RADIUS,
    SIDE,
    TWICE,
    WRONG,
    Mistake,
    spoilt,
)
from sheetgen.exercises.kinds.mistakes.of_lines import Spoiling, confused
from sheetgen.placing import Placement, marks_of
from sheetgen.problem import Problem
from sheetgen.problem.difficulty import difficulty
from sheetgen.refusals import Reason, RefusedError
from sheetgen.sheet import Settings
from sheetgen.sight import PlacedView
from sheetgen.solid import faces_of

COUNTS = (3, 4, 4, 5, 6)
"""Mistakes on a sheet, by the rung of the part (common practice, no source)."""

OF_LINES, OF_SIZES, OF_VIEWS = (MISSING, EXTRA, AS_HIDDEN, AS_VISIBLE, NO_CENTRE), (WRONG, LEFT_OUT, TWICE, RADIUS), (SIDE, PLACE)

MOST_TRIED = 6
"""Ways to give a length twice that are looked at."""


@dataclass(frozen=True, eq=False)
class Astray(Dressing):
    """Views of which one, that is called ``called``, shows the part as it is seen from the other side; or some stand where they
    belong in the other angle of projection."""

    called: str = ""
    misplaced: tuple[str, ...] = ()

    @property
    def astray(self) -> tuple[str, ...]:
        """Those that stand elsewhere."""
        return self.misplaced

    def name(self, view: str, settings: Settings) -> str:
        """The name of a view, which is that of the view that was asked for."""
        return super().name(self.called if self.called and view == OTHER_SIDE[self.called] else view, settings)


OTHER_SIDE = {"left": "right", "right": "left"}


@dataclass(frozen=True, eq=False)
class Planted:
    """A drawing with ``mistakes``, in the order in which they are told; ``base``: the same without those of lines and sizes;
    ``again``: where the size stands that is given twice."""

    drawing: Drawing
    base: Drawing
    mistakes: tuple[Mistake, ...]
    again: Placement | None


def planted(problem: Problem, settings: Settings, drawing: Drawing) -> Planted:
    """Make mistakes in a right ``drawing``, as many as the part is hard. Raises: RefusedError if there are not so many ways."""
    count = COUNTS[difficulty(problem).rung - 1]
    of_views = _of_views(problem, settings, drawing) if number_of(problem, "views", 2) else None
    base, first = of_views or (drawing, [])
    sizes = (count - len(first) + number_of(problem, "sizes", 2)) // 2
    # What is said of a size names its view, which is to be the same on the answer.
    there = [at for at in range(len(base.items)) if base.chosen[at].view == drawing.chosen[at].view]
    found, with_sizes, again = _of_sizes(problem, settings, base, there, sizes)
    not_in = {each.view for each in first if each.sort == SIDE}
    found += _of_lines(problem, with_sizes, drawing, count - len(first) - len(found), not_in)
    mistakes = sorted([*first, *found], key=lambda each: (each.view, each.shape is None))
    if len(mistakes) < count:
        raise RefusedError([Reason("too few mistakes can be told apart on its views", f"{len(mistakes)}, wanted {count}")])
    views = tuple(spoilt(view, [each for each in mistakes if each.view == k and each.shape is not None])
                  for k, view in enumerate(base.views))
    return Planted(replace(with_sizes, views=views), base, tuple(mistakes), again)


def _of_views(problem: Problem, settings: Settings, drawing: Drawing) -> tuple[Drawing, list[Mistake]] | None:
    """The views with one from the wrong side or in the wrong place, drawn anew; None if that cannot be. A side view that is the
    same from both sides is left alone: in the wrong place, it would as well have the wrong name."""
    names = list(drawing.layout.places)
    sides = [name for name in names if name in OTHER_SIDE]
    ways = [(SIDE, names.index(side)) for side in sides if len(sides) == 1]
    ways += [(PLACE, names.index(name)) for name in ("top", *(sides if len(sides) == 1 else ()))]
    for sort, at in shuffled(problem, "of views", ways):
        name, dressing = names[at], Astray({}, misplaced=(names[at],))
        if name in OTHER_SIDE:
            other = problem.sights[OTHER_SIDE[name]]
            seen = PlacedView.cornered(other, drawing.layout.scale, drawing.layout.places[name])
            if not differ(lines_drawn(drawing.views[at]), lines_drawn(seen)):
                continue
            if sort == SIDE:
                dressing = Astray({name: other}, called=name)
        try:
            base = drawing_of(problem, settings, names, dressing)
        except RefusedError:
            continue
        if base.layout.scale == drawing.layout.scale:
            return base, [Mistake(sort, at)]
    return None


def _of_sizes(
    problem: Problem, settings: Settings, drawing: Drawing, numbers: Sequence[int], count: int
) -> tuple[list[Mistake], Drawing, Placement | None]:
    """As many sizes wrong of the items with those ``numbers``, and the drawing with them; no item twice."""
    found, taken, again = list[Mistake](), set[int](), None
    for sort in shuffled(problem, "sorts of sizes", OF_SIZES):
        if len(found) == count:
            break
        items = [at for at in shuffled(problem, f"items/{sort}", numbers) if at not in taken]
        if sort == TWICE:
            made = next(chain.from_iterable(
                of_sizes.twice(problem, settings, drawing, at) for at in items[:MOST_TRIED]), None)
            if made:
                again = made[1]
            mistake = made[0] if made else None
        else:
            way = {WRONG: of_sizes.wrong, RADIUS: of_sizes.radius, LEFT_OUT: of_sizes.left_out}[sort]
            mistake = next(chain.from_iterable(way(drawing, at) for at in items), None)
        if mistake is not None and mistake.item is not None:
            found.append(mistake)
            taken.add(mistake.item)
    return found, _with_sizes(drawing, found, again), again


def _with_sizes(drawing: Drawing, mistakes: Sequence[Mistake], again: Placement | None) -> Drawing:
    """The drawing with wrong sizes; whole items go last, because the others are told by their numbers."""
    lost = []
    for mistake in mistakes:
        at = mistake.item
        assert at is not None
        if mistake.sort in (WRONG, RADIUS):
            drawing = of_sizes.with_figures(drawing, at, mistake.said["wrong"])
        elif mistake.sort == TWICE and again is not None:
            drawing = of_sizes.with_more(drawing, drawing.items[at], again)
        else:
            lost.append(at)
    for at in sorted(lost, reverse=True):
        drawing = of_sizes.without(drawing, at)
    return drawing


def _of_lines(problem: Problem, drawing: Drawing, right: Drawing, count: int, not_in: set[int]) -> list[Mistake]:
    """As many lines wrong, each sort once before any comes again, in views that are not drawn from another side; ``right``: the
    drawing without any mistake, on which the answer shows them."""
    faces = faces_of(problem.solid)
    sizes, there = (marks_of(each.chosen, serving=False) for each in (drawing, right))
    views = {k: Spoiling(k, view, faces, sizes, right.views[k], there)
             for k, view in enumerate(drawing.views) if k not in not_in}
    found = list[Mistake]()
    for sort in [sort for turn in range(2) for sort in shuffled(problem, f"sorts of lines/{turn}", OF_LINES)]:
        if len(found) == count:
            break
        ways = [way for view in views.values() for way in view.ways(sort)]
        # First in a view that is right so far.
        ordered = sorted(shuffled(problem, f"lines/{sort}", ways), key=lambda way: sum(way.view == each.view for each in found))
        fitting = next(_fitting(ordered, found, views), None)
        if fitting:
            found.append(fitting)
    return found


def _fitting(ways: Sequence[Mistake], found: Sequence[Mistake], views: dict[int, Spoiling]) -> Iterator[Mistake]:
    """Those that nobody could take, together with one that is there, for a single mistake."""
    for way in ways:
        beside = [each for each in found if each.view == way.view]
        line = views[way.view].paper(way.shape) if way.shape is not None else None
        assert line is not None
        if {way.sort, *(each.sort for each in beside)} >= {MISSING, EXTRA}:
            continue                                        # a line moved
        if not any(each.shape is way.shape or confused(line, views[each.view].paper(each.shape))
                   for each in beside if each.shape is not None):
            yield way


