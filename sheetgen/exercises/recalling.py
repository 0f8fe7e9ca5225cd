"""An exercise recalled by its practice code: the same problem, the same drawing, or a plain word why not."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from functools import partial
from typing import Any

from sheetgen.bank import BankError, Family
from sheetgen.codes import Code, CodeError, family_number
from sheetgen.codes.faults import wrong_code
from sheetgen.exercises.coding import MARKS, ranks_of, sizes_of
from sheetgen.exercises.kind import Kind
from sheetgen.exercises.kinds import kinds
from sheetgen.exercises.making import Exercise
from sheetgen.exercises.roles import Particulars, Role
from sheetgen.faults import Fault
from sheetgen.problem import Problem, problem_of
from sheetgen.refusals import RefusedError
from sheetgen.sheet import Settings

IN_WORDS = re.compile(r"([a-z][a-z0-9-]{1,39})-(\d{1,9})(?:\.(\d+))?(?:-[a-z])?")
"""A code in words, in small letters: family, seed, draw, mark."""


def read_code(text: str, bank: Mapping[str, Family]) -> Code:
    """The code in a typed text. Raises: CodeError, also for one in words if its family is in the ``bank``: then it
    names the command that made it."""
    said = IN_WORDS.fullmatch(text.strip().lower())
    if said and said[1] in bank:
        raise wrong_code(f"{text.strip()!r}, which names family and seed", f"the command that made it: sheetgen sheet {said[1]} "
                         f"--seed {said[2]}, with the look of the question")
    return Code.read(text)


def recalled(
    code: Code, bank: Mapping[str, Family], settings: Settings, roles: Sequence[Role] = (Role.ANSWER,)
) -> Exercise:
    """The exercise of a code, with sheets for ``roles``; ``settings``: its look (``style_of``), with title block and wording of
    the question.

    Raises: CodeError if no family of the ``bank`` is its own, or its sizes are others now, or it cannot be drawn so; BankError
    for a fault of its family; TemplateError for a title block that cannot hold what it should.
    """
    kind = _kind(code)
    told = kind.told(settings, code.later)
    if told is None:
        raise wrong_code(f"{code}, of a way to ask that the kind {kind.name} does not have",
                         "a code that this sheetgen has printed")
    problem = problem_of_code(code, bank)
    particulars = Particulars(code=str(code))
    try:
        problem.check()
        sheets = kind.sheets(problem, told, particulars, roles)
    except RefusedError as error:
        raise wrong_code(f"{code}, which cannot be drawn so: {error}", "title block and wording of its question") from None
    return Exercise(kind.name, problem, particulars, sheets)


def _kind(code: Code) -> Kind[Any]:
    """The kind of exercise that a code is of."""
    mark = MARKS[code.kind].strip()
    kind = next((kind for kind in kinds().values() if kind.mark == mark), None)
    if kind is None:
        raise wrong_code(f"{code}, of a kind of exercise with the mark {mark}", "a code of a kind that this sheetgen has")
    return kind


def problem_of_code(code: Code, bank: Mapping[str, Family]) -> Problem:
    """The problem of a code: of the families that its digits fit (two in a bank of a hundred may share them), the one whose sizes
    agree. Raises: as ``recalled``."""
    fitting, faults = [name for name in bank if family_number(name) == code.family], list[Fault]()
    for name in fitting:
        try:
            found = problem_of(bank[name].sample(code.seed, code.draw), choosing=partial(ranks_of, code.measures))
        except BankError as error:
            faults += error.faults
            continue
        if sizes_of(found) == code.sizes:
            return found
    if faults:
        raise BankError(faults)
    raise _changed(code, fitting) if fitting else _unknown(code, bank)


def _changed(code: Code, fitting: Sequence[str]) -> CodeError:
    names = " or ".join(fitting)
    return wrong_code(f"{code}, whose sizes are no longer those of seed {code.seed} of {names}",
                      "the bank as it was when the question was printed; the answer of today's would be of another block")


def _unknown(code: Code, bank: Mapping[str, Family]) -> CodeError:
    count = f"{len(bank)} famil{'ies' if len(bank) != 1 else 'y'}"
    return wrong_code(f"{code}, rightly typed, of none of the {count} here",
                      "--bank with the folder or the file of its family")
