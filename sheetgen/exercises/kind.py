"""A kind of exercise: what is given and what is asked. It makes of a problem its sheets, by role."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Generic, TypeVar

from sheetgen.exercises.help import Help
from sheetgen.exercises.page import page_of
from sheetgen.exercises.roles import Particulars, Role
from sheetgen.ink import Page
from sheetgen.placing import PictorialRead, ViewsRead
from sheetgen.problem import Problem
from sheetgen.sheet import Settings

Shared = TypeVar("Shared")

Pages = tuple[Page, ...]
Sheets = Mapping[Role, Pages]
"""The pages of each role. A question and an answer have one; a construction has as many as it has stages."""


@dataclass(frozen=True)
class Kind(Generic[Shared]):
    """One kind. ``name``: as plans and the command line call it; ``mark``: a letter that stands for it in the codes of its
    exercises, which are kept for years, so never change it (none for the usual kind); ``about``: what is given and what is asked,
    in one line for the list of kinds.

    ``shared``: works out what its sheets have in common (which views, at what scale, their sizes placed), once for all of them;
    ``scale``: at which the answer is drawn, and so asked for, as the title blocks of all its sheets say it; ``pages``: for each
    role what makes its pages of problem, settings, what is shared, and what the set says on them. A blank sheet every kind has by
    itself. ``answer``: the answer's drawing alone, half as large, for the answer key (``key.py``); None for a kind without one.
    ``read``: its drawings as a strict reader sees them; of some draws of a seed that is printed in which he finds least to mark.
    ``help``: what a page for practice helps with; None for a kind without any. ``of_every``: whether every family serves it; of a
    kind that needs what some parts lack, a refusal is no fault of the family; ``serves``: refuses, as ``shared`` does, what
    lacks it, but sooner, without looking for room on the paper (``served.py``; None: ``shared`` is tried). ``by_parts``: whether
    it is marked by the parts of a marking template, views, sizes and so on, or as a whole; ``option``: what of its own options
    came of the settings, as a number from 0 to 6 in its codes, which never changes its meaning; ``told``: the settings that such
    a number stands for, None for one that the kind does not know. ``adds``: what kind and options add to a problem's index of
    difficulty, by judgement.
    """

    name: str
    mark: str
    about: str
    shared: Callable[[Problem, Settings], Shared]
    scale: Callable[[Shared], str]
    pages: Mapping[Role, Callable[[Problem, Settings, Shared, Particulars], Pages]]
    answer: Callable[[Problem, Settings, Shared], Page] | None = None
    read: Callable[[Shared], Sequence[PictorialRead | ViewsRead]] = lambda _: ()
    help: Callable[[Problem, Settings, Shared], Help] | None = None
    of_every: bool = True
    serves: Callable[[Problem, Settings], object] | None = None
    by_parts: bool = False
    adds: Callable[[Settings], float] = lambda _: 0.0
    option: Callable[[Shared], int] = lambda _: 0
    told: Callable[[Settings, int], Settings | None] = lambda settings, option: None if option else settings

    @property
    def roles(self) -> tuple[Role, ...]:
        """The roles it has sheets for."""
        return tuple(role for role in Role if role in self.pages or role is Role.BLANK)

    def gives(self, role: Role) -> bool:
        """Whether it has sheets for a role."""
        return self.answer is not None if role is Role.KEY else role in self.roles

    def sheets(self, problem: Problem, settings: Settings, particulars: Particulars, roles: Iterable[Role]) -> Sheets:
        """Draw the sheets of a problem for ``roles``, which it has; KEY too, if it has an ``answer``.

        Raises: RefusedError if they cannot be drawn right; TemplateError for a title block that cannot hold what it should.
        """
        return self.drawn(self.shared(problem, settings), problem, settings, particulars, roles)

    def drawn(
        self, shared: Shared, problem: Problem, settings: Settings, particulars: Particulars, roles: Iterable[Role]
    ) -> Sheets:
        """The sheets of a problem of which it is worked out already what they have in common. Raises: as ``sheets``."""

        def drawn(role: Role) -> Pages:
            if role is Role.KEY and self.answer:
                return (self.answer(problem, settings, shared),)
            if role is Role.BLANK and role not in self.pages:
                return (page_of(problem, settings, role, self.scale(shared), particulars),)
            return self.pages[role](problem, settings, shared, particulars)

        return {role: drawn(role) for role in roles}
