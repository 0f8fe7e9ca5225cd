"""One pictorial, and four candidates for one of its views, or for the set of its views, of which one is right."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from sheetgen.exercises.chance import number_of, shuffled
from sheetgen.exercises.differing import Lines, differ, lines_drawn
from sheetgen.exercises.kinds.match.sets import Set, alone, lines_of_set, set_of
from sheetgen.exercises.kinds.match.siblings import BLIND, DROPPED, MIRRORED, MOVED, Sibling
from sheetgen.exercises.kinds.mistakes.mistake import AS_HIDDEN, AS_VISIBLE, MISSING, spoilt
from sheetgen.exercises.kinds.mistakes.of_lines import Spoiling
from sheetgen.problem import Problem
from sheetgen.refusals import Reason, RefusedError
from sheetgen.sheet import Settings
from sheetgen.sheet.layout import views_asked
from sheetgen.sheet.symbol import Projection
from sheetgen.sight import PlacedView, Sights
from sheetgen.solid import faces_of

OPTIONS = 4

RIGHT, OTHER_SIDE, PLACES = "right", "other_side", "places"

WHOLE = "whole"
"""Asked for is the set of all views."""

OPPOSITE = {"left": "right", "right": "left", "top": "bottom", "front": "rear"}

LEAST_PICTURE = 25.0
"""mm: of a smaller view nothing is told (common practice, no source)."""


@dataclass(frozen=True, eq=False)
class Option:
    """A candidate: its views as they stand to each other, and what is wrong with it, as the wording calls it, or RIGHT."""

    views: Set
    sort: str


def options_of(
    problem: Problem, settings: Settings, others: Sequence[Sibling], view: str, scale: float
) -> tuple[Option, ...]:
    """The candidates for a view, or for the set of views if that is WHOLE, in their order, each of which differs from every other
    drawn at ``scale``.

    Raises: RefusedError if there are too few.
    """
    names = views_asked(settings.side) if view == WHOLE else (view,)
    right = _drawn(problem.sights, names, settings.projection, scale)
    if max(np.ptp(np.array(right[0].box).reshape(2, 2), axis=0)) < LEAST_PICTURE:
        raise RefusedError([Reason("the candidates for a view would be too small")])
    chosen, drawn = [Option(right, RIGHT)], [lines_of_set(right)]
    groups = [*_of_parts(problem, others, names, settings.projection, scale)]
    groups += _of_places(problem, names, settings.projection, scale) if view == WHOLE else _of_lines(problem, right[0])
    ways = [shuffled(problem, f"wrong/{view}/{k}", group) for k, group in enumerate(groups)]
    for group in shuffled(problem, f"groups/{view}", [way for way in ways if way]) * OPTIONS:
        found = next((option for option in group if _another(option, drawn)), None)
        if found is not None:
            chosen.append(found)
            drawn.append(lines_of_set(found.views))
        if len(chosen) == OPTIONS:
            place = number_of(problem, f"place/{view}", OPTIONS)
            return (*chosen[1:1 + place], chosen[0], *chosen[1 + place:])
    raise RefusedError([Reason("too few candidates for a view that differ so that everybody sees it")])


def _drawn(sights: Sights, names: Sequence[str], projection: Projection, scale: float) -> Set:
    if len(names) == 1:
        return alone(sights[names[0]], scale)
    return set_of({name: sights[name] for name in names}, projection, scale)


def _another(option: Option, drawn: Sequence[Lines]) -> bool:
    """Whether a candidate differs from all that there are."""
    lines = lines_of_set(option.views)
    return all(differ(lines, other) for other in drawn)


def _of_parts(
    problem: Problem, others: Sequence[Sibling], names: Sequence[str], projection: Projection, scale: float
) -> Iterator[list[Option]]:
    """By groups: seen from the other side or in a mirror; of parts with a feature elsewhere, left out, or otherwise deep. What
    nothing on the sheet contradicts is none."""
    found: dict[str, list[Option]] = {MIRRORED: [], MOVED: [], DROPPED: []}
    if len(names) == 1:
        found[MIRRORED].append(Option(alone(problem.sights[OPPOSITE[names[0]]], scale), OTHER_SIDE))
    pictorial = problem.pictorial
    told = any(note.key.startswith("through_") for note in problem.notes)
    seen = lines_drawn(PlacedView(pictorial, 1.0, np.zeros(2)), hidden=False)
    for sibling in others:
        if not (sibling.noted or (told and sibling.sort == BLIND)):
            looks = lines_drawn(PlacedView(sibling.looks(pictorial), 1.0, np.zeros(2)), hidden=False)
            if not differ(looks, seen):
                continue
        group = found[DROPPED] if sibling.sort == BLIND else found[sibling.sort]
        group.append(Option(_drawn(sibling.sights, names, projection, scale), sibling.sort))
    yield from found.values()


def _of_lines(problem: Problem, right: PlacedView) -> Iterator[list[Option]]:
    """The right view with a line left out, dashed, or drawn full."""
    spoiling = Spoiling(0, right, faces_of(problem.solid), ())
    for sort in (MISSING, AS_HIDDEN, AS_VISIBLE):
        yield [Option((spoilt(right, [mistake]),), sort) for mistake in spoiling.ways(sort)]


def _of_places(problem: Problem, names: Sequence[str], projection: Projection, scale: float) -> Iterator[list[Option]]:
    """The right views in the places of the other angle of projection: unless, read in the angle that is stated, they are the
    right views again."""
    other: Projection = "third" if projection == "first" else "first"
    if any(differ(*(lines_drawn(PlacedView(problem.sights[side], scale, np.zeros(2))) for side in (name, OPPOSITE[name])))
           for name in names if name != "front"):
        yield [Option(_drawn(problem.sights, names, other, scale), PLACES)]
