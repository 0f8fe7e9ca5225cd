"""One pictorial, and four candidates for one of its views, or for the set of its views, of which one is right."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field

import numpy as np

from sheetgen.exercises.chance import number_of, shuffled
from sheetgen.exercises.differing import Lines, differ, lines_drawn
from sheetgen.exercises.kinds.match.alike import Clearance, keeps_its_look
from sheetgen.exercises.kinds.match.sets import Set, alone, lines_of_set, set_of
from sheetgen.exercises.kinds.match.siblings import BLIND, DROPPED, MIRRORED, MOVED, THROUGH, Sibling
from sheetgen.exercises.kinds.match.spoiling import SORTS, Spoilt, spoilings
from sheetgen.problem import Problem
from sheetgen.refusals import Reason, RefusedError
from sheetgen.sheet import Settings
from sheetgen.sheet.layout import views_asked
from sheetgen.sheet.symbol import Projection
from sheetgen.sight import PlacedView, Sights

OPTIONS = 4

RIGHT, OTHER_SIDE, PLACES = "right", "other_side", "places"

TURNED = (MIRRORED, OTHER_SIDE)
"""What is only turned over: of the wrong candidates one at most, because a glance tells it."""

WHOLE = "whole"
"""Asked for is the set of all views."""

OPPOSITE = {"left": "right", "right": "left", "top": "bottom", "front": "rear"}

LEAST_PICTURE = 25.0
"""mm: of a smaller view nothing is told (common practice, no source)."""


@dataclass(frozen=True, eq=False)
class Option:
    """A candidate: its views as they stand to each other, and what is wrong with it, as the wording calls it, or RIGHT; of a
    sibling's views the ``sibling``; of the right views with something ``spoilt`` what that is."""

    views: Set
    sort: str
    sibling: Sibling | None = None
    spoilt: Spoilt | None = None


@dataclass(eq=False)
class _Choice:
    """The candidates so far, the right one first, and what they show; ``later``: such as are told at a glance."""

    clearance: Clearance
    options: list[Option]
    drawn: list[Lines]
    later: list[Option] = field(default_factory=list)

    @property
    def full(self) -> bool:
        return len(self.options) == OPTIONS

    def takes(self, option: Option, *, near: bool) -> bool:
        """Whether a candidate is taken, because it differs from all that there are and can be drawn; if they are to be ``near``
        the right one, those that are not are put off."""
        if self.full or (option.sort in TURNED and any(other.sort in TURNED for other in self.options)):
            return False
        right = self.options[0].views
        lines = lines_of_set(option.views)
        if not all(differ(lines, other) for other in self.drawn):
            return False
        if near and option.sort != PLACES and not keeps_its_look(option.views, right):
            self.later.append(option)
            return False
        if option.sibling and not (option.sibling.is_sound and self.clearance.keeps(option.views)):
            return False
        self.options.append(option)
        self.drawn.append(lines)
        return True


def options_of(
    problem: Problem, settings: Settings, others: Sequence[Sibling], view: str, scale: float
) -> tuple[Option, ...]:
    """The candidates for a view, or for the set of views if that is WHOLE, in their order, each of which differs from every other
    drawn at ``scale``: near misses first, then such as have another outline or are not symmetrical where the part is.

    Raises: RefusedError if there are too few.
    """
    names = views_asked(settings.side) if view == WHOLE else (view,)
    right = _drawn(problem.sights, names, settings.projection, scale)
    if max(np.ptp(np.array(right[0].box).reshape(2, 2), axis=0)) < LEAST_PICTURE:
        raise RefusedError([Reason("the candidates for a view would be too small")])
    choice = _Choice(Clearance.of(right), [Option(right, RIGHT)], [lines_of_set(right)])
    lines = [shuffled(problem, f"wrong/{view}/{sort}", _of_lines(right, sort)) for sort in SORTS]
    if view == WHOLE:
        lines.append(list(_of_places(problem, names, settings.projection, scale)))
    parts = []
    for sorts in ((MOVED,), (DROPPED,), (BLIND, THROUGH)):
        some = shuffled(problem, f"wrong/{view}/{sorts[0]}", [sibling for sibling in others if sibling.sort in sorts])
        parts.append(_of_parts(problem, some, names, settings.projection, scale))
    turned = _turned(problem, others, names, settings.projection, scale)
    groups = _by_turns(shuffled(problem, f"parts/{view}", parts), shuffled(problem, f"lines/{view}", lines),
                       first=number_of(problem, f"first/{view}", 2))
    _fill(choice, groups)
    _fill(choice, [turned])
    for option in sorted(choice.later, key=lambda option: option.sort in TURNED):
        choice.takes(option, near=False)
    if not choice.full:
        raise RefusedError([Reason("too few candidates for a view that differ so that everybody sees it")])
    place = number_of(problem, f"place/{view}", OPTIONS)
    chosen = choice.options
    return (*chosen[1:1 + place], chosen[0], *chosen[1 + place:])


def _fill(choice: _Choice, groups: Iterable[Iterable[Option]]) -> None:
    """Take from each group in turn the next that will do, until there are enough or no group has any left."""
    ways = [iter(group) for group in groups]
    while ways and not choice.full:
        ways = [way for way in ways if any(choice.takes(option, near=True) for option in way)]


def _by_turns(
    some: Sequence[Iterable[Option]], others: Sequence[Iterable[Option]], *, first: int
) -> Iterator[Iterable[Option]]:
    """Groups of two sorts by turns, so that not all that is wrong is of one sort."""
    both = (some, others) if first else (others, some)
    for k in range(max(map(len, both))):
        yield from (groups[k] for groups in both if k < len(groups))


def _drawn(sights: Sights, names: Sequence[str], projection: Projection, scale: float) -> Set:
    if len(names) == 1:
        return alone(sights[names[0]], scale)
    return set_of({name: sights[name] for name in names}, projection, scale)


def _turned(
    problem: Problem, others: Sequence[Sibling], names: Sequence[str], projection: Projection, scale: float
) -> Iterator[Option]:
    """The part seen from the other side, and its mirror images."""
    if len(names) == 1:
        yield Option(alone(problem.sights[OPPOSITE[names[0]]], scale), OTHER_SIDE)
    mirrored = [sibling for sibling in others if sibling.sort == MIRRORED]
    yield from _of_parts(problem, shuffled(problem, "mirrored", mirrored), names, projection, scale)


def _of_parts(
    problem: Problem, others: Iterable[Sibling], names: Sequence[str], projection: Projection, scale: float
) -> Iterator[Option]:
    """The views of siblings. What nothing on the sheet contradicts is not wrong."""
    pictorial = problem.pictorial
    told = any(note.key.startswith("through_") for note in problem.notes)
    seen = lines_drawn(PlacedView(pictorial, 1.0, np.zeros(2)), hidden=False)
    for sibling in others:
        if not (sibling.noted or (told and sibling.sort == BLIND)):
            looks = lines_drawn(PlacedView(sibling.looks(pictorial), 1.0, np.zeros(2)), hidden=False)
            if not differ(looks, seen):
                continue
        yield Option(_drawn(sibling.sights, names, projection, scale), sibling.sort, sibling)


def _of_lines(right: Set, sort: str) -> Iterator[Option]:
    """The right views with lines left out, dashed, or drawn full in one of them."""
    for k, view in enumerate(right):
        for found in spoilings(view, sort):
            yield Option((*right[:k], found.view, *right[k + 1:]), sort, spoilt=found)


def _of_places(problem: Problem, names: Sequence[str], projection: Projection, scale: float) -> Iterator[Option]:
    """The right views in the places of the other angle of projection: unless, read in the angle that is stated, they are the
    right views again."""
    other: Projection = "third" if projection == "first" else "first"
    if any(differ(*(lines_drawn(PlacedView(problem.sights[side], scale, np.zeros(2))) for side in (name, OPPOSITE[name])))
           for name in names if name != "front"):
        yield Option(_drawn(problem.sights, names, other, scale), PLACES)
