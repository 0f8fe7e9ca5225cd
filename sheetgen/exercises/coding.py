"""The code of an exercise: problem, look and kind as a practice code, and back again. The orders below are printed on sheets that
are kept for years: what is new comes at the end."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import prod

from sheetgen.bank import Identity
from sheetgen.codes import MOST_CODED_SEED, OTHER_SET, SETS, WIDEST, Code, family_number, sizes_number
from sheetgen.problem import Problem
from sheetgen.sheet import ARROWS, FIGURES, PROJECTIONS, SIDES, Settings, Style

DRAWS = 20
"""Variants of one seed that are tried before the seed is given up."""

MARKS = " ABCDEFGHIJKLMNOPQRSTUVWXYZ"
"""Of kinds, the usual one's first; their places stand for them."""

PAPERS = ("A3", "A4", "A2", "11x17")
"""As codes number them."""


def code_of(problem: Problem, settings: Settings, mark: str, option: int = 0) -> str:
    """What is printed where a set gives no code: a practice code, or one in words for a seed too large for that. ``mark``: of the
    kind; ``option``: of its options."""
    identity = problem.identity
    if identity.seed > MOST_CODED_SEED:
        return in_words(identity, mark)
    return str(Code(
        family=family_number(identity.family), sizes=sizes_of(problem), seed=identity.seed, draw=identity.draw,
        kind=MARKS.index(mark or " "), projection=PROJECTIONS.index(settings.projection), side=SIDES.index(settings.side),
        paper=PAPERS.index(settings.paper.name), figures=int(settings.upright), arrows=int(settings.each_arrow),
        measures=set_number(problem.ranks, [len(ways) for ways in problem.alternatives]),
        later=option,
    ))


def in_words(identity: Identity, mark: str) -> str:
    """The problem's identity, with the mark of the kind.

    >>> in_words(Identity("stepped-block", 20_000_000, 2), "T"), in_words(Identity("stepped-block", 20_000_000), "")
    ('stepped-block-20000000.2-T', 'stepped-block-20000000')
    """
    return f"{identity}-{mark}" if mark else str(identity)


def possible_codes(family: str, seed: int, mark: str) -> Iterator[str]:
    """What may be printed for a seed, as far as room is needed for it, before it is known which draw it comes to."""
    if seed <= MOST_CODED_SEED:
        yield WIDEST
    else:
        yield from (in_words(Identity(family, seed, draw), mark) for draw in range(DRAWS))


def style_of(code: Code, **more: object) -> Style:
    """The look that a code tells; ``more``: what it does not, title block and wording."""
    look = {"projection": PROJECTIONS[code.projection], "side": SIDES[code.side], "paper": PAPERS[code.paper],
            "figures": FIGURES[code.figures], "arrows": ARROWS[code.arrows]}
    return Style(**{**look, **more})          # type: ignore[arg-type]


def sizes_of(problem: Problem) -> int:
    """Digits of a digest of what would be another drawing if it were other: the sizes, and what is printed of them."""
    return sizes_number(problem.sizes, (f"{measure.kind} {measure.text}" for measure in problem.measures))


def set_number(ranks: Sequence[int], counts: Sequence[int]) -> int:
    """A number for which of their alternatives the measures are, of so many each; 0: the first of all.

    >>> set_number((0, 0), (1, 3)), set_number((1, 0, 2), (2, 1, 3)), set_number((9, 9), (10, 10)) == OTHER_SET
    (0, 5, True)
    """
    number = 0
    for rank, count in zip(ranks, counts, strict=True):
        number = number * count + rank
    return min(number, OTHER_SET)


def ranks_of(number: int, counts: Sequence[int]) -> tuple[int, ...] | None:
    """The ranks that ``set_number`` gave a number for; None if it is OTHER_SET, or none of those that there are.

    >>> ranks_of(5, (2, 1, 3)), ranks_of(6, (2, 1, 3))
    ((1, 0, 2), None)
    """
    if number >= min(SETS, prod(counts)):
        return None
    ranks: list[int] = []
    for count in reversed(counts):
        number, rank = divmod(number, count)
        ranks.insert(0, rank)
    return tuple(ranks)
