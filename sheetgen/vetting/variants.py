"""What single variants of a family have wrong: solid, measures, features, pictorial, pages."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cache
from typing import get_args

from sheetgen.bank import BankError, Family, Variant
from sheetgen.exercises import USUAL, kinds, sheets_of
from sheetgen.faults import Fault
from sheetgen.measures import prove
from sheetgen.problem import Problem, measure_faults, problem_of
from sheetgen.problem.difficulty import Difficulty, difficulty
from sheetgen.refusals import Reason, RefusedError
from sheetgen.sheet import Figures, NoRoomError, Projection, Settings, SideView, Style, settings_of
from sheetgen.sheet.layout import layouts, views_asked
from sheetgen.sheet.titleblock_ink import titleblock_box
from sheetgen.sight.parallels import least_lines
from sheetgen.sight.walls import FAR, least_face, least_wall
from sheetgen.solid import Solid, SolidError, build
from sheetgen.units import SAME_POINT
from sheetgen.vetting.alternatives import alternative_faults, as_listed
from sheetgen.vetting.lines import adds
from sheetgen.vetting.report import Least

VIEWS = ("front", "top", "left")

STYLES = tuple(
    Style(projection=projection, side=side, figures=figures, title_block=block)
    for figures, block in zip(get_args(Figures), ("harbour", "quarry"), strict=True)
    for projection in get_args(Projection)
    for side in get_args(SideView)
)
"""Both projection methods, side views and ways of lettering, and either title block."""


@dataclass(frozen=True)
class Looked:
    """One variant looked at. ``problem`` is None if it has no solid or measures, and ``faults`` say why.

    ``least``: the least wall, face and distance of lines; ``adds``: lines that only the front, top, side view shows;
    ``refused``: why its pictorial cannot be read.
    """

    problem: Problem | None
    faults: tuple[Fault, ...] = ()
    least: tuple[tuple[str, Least], ...] = ()
    adds: tuple[int, ...] = ()
    refused: tuple[Reason, ...] = ()
    difficulty: Difficulty | None = None


@cache
def _settings(number: int) -> Settings:
    return settings_of(STYLES[number % len(STYLES)])


def looked_at(variant: Variant, idle: bool) -> Looked:
    """Look at solid, measures, views and pictorial of a variant; with ``idle`` also for features that do nothing, and at all sets
    of measures that could be chosen."""
    try:
        problem = problem_of(variant)
    except BankError as error:
        return Looked(None, error.faults)
    proof = prove(problem.solid, as_listed(problem), problem.symmetry)       # others are chosen only if theirs holds
    faults = [*measure_faults(variant.family, proof), *_lost_features(variant, problem.solid)]
    faults += alternative_faults(variant.family, problem, idle)
    faults += _idle_features(variant, problem.solid) if idle else []
    return Looked(problem, tuple(faults), tuple(_least(variant, problem)), tuple(adds(problem.view(name)) for name in VIEWS),
                  _refusal(problem), difficulty(problem))


def _spec_fault(family: Family, name: str, found: str, wanted: str) -> Fault:
    spec = next(spec for spec in family.features if spec.name == name)
    return Fault(family.file, spec.line, f"features[{spec.number}] {name}", found, wanted)


def _lost_features(variant: Variant, solid: Solid) -> Iterator[Fault]:
    """Features of which no face is left."""
    left = {owner for owners in solid.features for owner in owners}
    for feature in variant.features:
        if feature.name not in left:
            yield _spec_fault(variant.family, feature.name, "a feature of which no face is left", "a feature that shows")


def _idle_features(variant: Variant, solid: Solid) -> Iterator[Fault]:
    """Features without which the part would be the same. One that alone has a face of the part is needed, and not left out to
    see."""
    needed = {name for makers in solid.makers if len(makers) == 1 for name in makers}
    for feature in variant.features:
        if feature.name in needed:
            continue
        others = [other for other in variant.features if other is not feature]
        try:
            rest = build(others)
        except SolidError:
            continue                                    # the others need it
        if abs(rest.volume - solid.volume) < SAME_POINT and (abs(rest.size - solid.size) < SAME_POINT).all():
            found = "a feature without which the part is the same"
            yield _spec_fault(variant.family, feature.name, found, "a feature that is needed")


def _least(variant: Variant, problem: Problem) -> Iterator[tuple[str, Least]]:
    code = str(variant.identity)
    for what, find in (("wall", least_wall), ("face", least_face)):
        value, words = find(problem.solid)
        if value < FAR:
            yield what, Least(round(value, 3), words, code)
    settings = _settings(0)
    block = titleblock_box(settings.block, settings.paper)
    try:
        scale = layouts(settings.paper, problem.solid.size, settings.projection, views_asked(settings.side), block)[0].scale
    except NoRoomError:
        return
    value, words = min(least_lines(problem.view(name), scale) for name in VIEWS)
    if value < FAR * scale:
        yield "lines", Least(round(value, 3), words, code)


def _refusal(problem: Problem) -> tuple[Reason, ...]:
    """Why the pictorial cannot be read; nothing if it can."""
    try:
        assert problem.pictorial
    except RefusedError as error:
        return error.reasons
    return ()


def page_refusal(problem: Problem, number: int) -> tuple[Reason, ...]:
    """Why the sheets of some kind that every family serves cannot be drawn in the ``number``-th style; nothing if they can."""
    for kind in (name for name, kind in kinds().items() if kind.of_every):
        try:
            sheets_of(problem, _settings(number % len(STYLES)), kind=kind)
        except RefusedError as error:
            return tuple(reason if kind == USUAL else replace(reason, what=f"{kind}: {reason.what}") for reason in error.reasons)
    return ()
