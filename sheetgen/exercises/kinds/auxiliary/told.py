"""Which sizes two views can have, and whether these tell the inclined face: a diameter whose circle only the third view shows
stands on neither. Proved from the part's surfaces, as all sizes are."""

from __future__ import annotations

from dataclasses import replace

from sheetgen.exercises.kinds.auxiliary.dressing import Asked
from sheetgen.exercises.kinds.auxiliary.face import InclinedFace
from sheetgen.measures import fixed_surfaces
from sheetgen.placing import items_of, view_offers
from sheetgen.problem import Problem
from sheetgen.refusals import Reason, RefusedError
from sheetgen.sheet import Settings
from sheetgen.sight import PlacedView


def sized_on(problem: Problem, settings: Settings, asked: Asked, face: InclinedFace) -> Problem:
    """The problem with the sizes that can stand on the two views.

    Raises: RefusedError if these do not fix the face and all that bounds it or, where the whole part is asked for, the part.
    """
    views = [PlacedView.alone(problem.sights[name]) for name in asked.views]
    items = items_of(problem.measures, settings.wording)
    offered = set(view_offers(views, items, upright=settings.upright).item.tolist())
    if len(offered) == len(items):
        return problem
    lost = next(item for number, item in enumerate(items) if number not in offered)
    kept = tuple(problem.measures[k] for number, item in enumerate(items) if number in offered for k in item.measures)
    fixed = fixed_surfaces(problem.solid, kept, problem.symmetry)
    needed = range(len(problem.solid.surfaces)) if asked.whole else face.bounds(problem.solid)
    if not fixed.issuperset(needed):
        raise RefusedError([Reason("a size that is needed can stand on neither of the two views", lost.main.words)])
    fewer = replace(problem, measures=kept, proof=None)
    vars(fewer)["sights"] = problem.sights
    return fewer
