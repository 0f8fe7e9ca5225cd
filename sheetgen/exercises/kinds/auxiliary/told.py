"""Which sizes two views can have, and whether these tell the inclined face: a diameter whose circle only the third view shows
stands on neither. Where the face hangs on it, it is told in words. Proved from the part's surfaces, as all sizes are."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from sheetgen.exercises.kinds.auxiliary.dressing import Asked
from sheetgen.exercises.kinds.auxiliary.face import InclinedFace
from sheetgen.exercises.pieces import pieces_of
from sheetgen.measures import fixed_surfaces
from sheetgen.placing import Item, items_of, view_offers
from sheetgen.problem import Problem
from sheetgen.refusals import Reason, RefusedError
from sheetgen.sheet import Settings
from sheetgen.sight import PlacedView


@dataclass(frozen=True, eq=False)
class Sized:
    """``problem``: with the sizes that stand on two views; ``besides``: those told in words, ready to be printed; ``every``: no
    size of the part is left out."""

    problem: Problem
    besides: tuple[str, ...]
    every: bool


def sized_on(problem: Problem, settings: Settings, asked: Asked, face: InclinedFace) -> Sized:
    """The sizes that can stand on the two views, and those that are told besides.

    Raises: RefusedError if these do not fix the face and all that bounds it or, where the whole part is asked for, the part.
    """
    views = [PlacedView.alone(problem.sights[name]) for name in asked.views]
    items = items_of(problem.measures, settings.wording)
    offered = set(view_offers(views, items, upright=settings.upright).item.tolist())
    if len(offered) == len(items):
        return Sized(problem, (), True)
    stand, lost = ([item for number, item in enumerate(items) if (number in offered) is on] for on in (True, False))
    needed = frozenset(range(len(problem.solid.surfaces))) if asked.whole else face.bounds(problem.solid)
    rounds = [item for item in lost if item.kind == "round"]
    ways: tuple[list[Item], ...] = ([], [item for item in rounds if needed.intersection(item.rounds)], rounds)
    told = next((way for way in ways if _fix(problem, [*stand, *way], needed)), None)
    if told is None:
        raise RefusedError([Reason("a size that is needed can stand on neither of the two views", lost[0].main.words)])
    fewer = replace(problem, measures=tuple(problem.measures[k] for item in stand for k in item.measures), proof=None)
    vars(fewer)["sights"] = problem.sights
    return Sized(fewer, tuple(_in_words(problem, settings, item) for item in told), len(told) == len(lost))


def _fix(problem: Problem, items: Sequence[Item], needed: frozenset[int]) -> bool:
    """Whether the sizes of some items fix surfaces."""
    measures = [problem.measures[k] for item in items for k in item.measures]
    return fixed_surfaces(problem.solid, measures, problem.symmetry) >= needed


def _in_words(problem: Problem, settings: Settings, item: Item) -> str:
    """A size with the piece that has it. Raises: RefusedError if the piece cannot be told from others."""
    piece = next((piece for piece in pieces_of(problem) if piece.feature.name == item.main.side.feature), None)
    if piece is None or not piece.known:
        raise RefusedError([Reason("a size that is needed can stand on neither of the two views", item.main.words)])
    what, size = piece.called(settings.wording, several=piece.count > 1), " ".join(item.lines)
    if piece.size and piece.size == size.rpartition(" ")[2]:
        return what                                                     # the Ø24 hole: its name tells it
    return settings.wording.render("auxiliary.sized", what=what, size=size)
