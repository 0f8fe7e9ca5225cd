"""Which of the three views is asked for: one that the two others make certain."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import shapely

from sheetgen.certainty import Certainty, certainty
from sheetgen.exercises.drawing import Dressing
from sheetgen.exercises.given.assumed import side_of
from sheetgen.problem import Problem
from sheetgen.refusals import Reason, RefusedError
from sheetgen.sheet import Settings
from sheetgen.sight import PlacedView

MOST_ANSWERS = 12
"""Answers that a marker can keep apart (common practice, no source): a question with more is not asked."""

AROUND = 3.0
"""mm round the place of the view that is asked for which no size may enter."""


@dataclass(frozen=True, eq=False)
class Asked(Dressing):
    """The ``view`` that is asked for; ``given``: the two others; ``found``: which answers these have. Its place stays free of
    sizes, and it has none: each stands on a view that is given."""

    view: str
    given: tuple[str, str]
    found: Certainty

    @property
    def views(self) -> tuple[str, ...]:
        """All three, those that are given first."""
        return (*self.given, self.view)

    def sized(self, view: str) -> bool:
        """Only what is given has sizes."""
        return view != self.view

    def blocked(self, views: Sequence[PlacedView]) -> list[shapely.Polygon]:
        """The place left free."""
        return [shapely.box(*view.box).buffer(AROUND, join_style="mitre") for view in views if view.view.name == self.view]


def views_to_ask(problem: Problem, settings: Settings) -> Iterator[Asked | RefusedError]:
    """The views that may be asked for, that which the seed chooses first; of those that are not certain, or that nothing can be
    proved of, why."""
    side = side_of(settings)
    three = ("front", "top", side)
    if settings.missing:
        order: tuple[str, ...] = (side if settings.missing == "side" else settings.missing,)
    else:
        first = problem.identity.seed % 3
        order = (*three[first:], *three[:first])
    for view in order:
        try:
            yield _asked(problem, settings, view, three, side)
        except RefusedError as error:
            yield error


def _asked(problem: Problem, settings: Settings, view: str, three: tuple[str, ...], side: str) -> Asked:
    most = MOST_ANSWERS if settings.any_answer else 1
    found = certainty(problem.solid, "third-view", missing=view, limit=most + 1, side=side, symmetry=problem.symmetry)
    if found.count > 1 and not settings.any_answer:
        raise RefusedError([Reason("the third view is not certain",
                                   f"more than one {_plain(view)} view agrees with the two others")])
    if not found.complete:
        raise RefusedError([Reason("the third view is far from certain",
                                   f"more than {most} {_plain(view)} views agree with the two others")])
    one, other = (name for name in three if name != view)
    return Asked({}, view, (one, other), found)


def _plain(view: str) -> str:
    return "side" if view in ("left", "right") else view
