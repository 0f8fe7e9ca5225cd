"""What becomes of a family file on its way to paper: read, sampled, built, measured, proved. Run as a program: of many files.

    python -m tests.bank.outcome FILE.yaml ...      prints a JSON list of [told, seconds], and last the megabytes it took
"""

from __future__ import annotations

import json
import sys
import time
from pathlib import Path

from sheetgen.bank import BankError, Family, load_family, load_text
from sheetgen.problem import problem_of
from sheetgen.refusals import RefusedError
from tests.bank.samples import BLOCK
from tests.memory import most_megabytes


def carried_on(family: Family) -> list[str]:
    """What is told of a family that could be read; nothing if it is sound. Any error but the documented ones comes through."""
    try:
        problem_of(family.sample(1)).check()
    except BankError as error:
        assert error.faults
        return str(error).split("\n")
    except RefusedError as error:
        return [f"refused: {error}"]
    return []


def told(path: Path) -> list[str]:
    """What is told of a family file."""
    try:
        family = load_family(path, path.name)
    except BankError as error:
        assert error.faults
        return str(error).split("\n")
    return carried_on(family)


def main(paths: list[str]) -> None:
    """Print what becomes of each file, the processor's seconds that it took, and the most memory that any took."""
    carried_on(load_text(BLOCK))         # what is imported late is not the files' fault
    found = []
    for path in paths:
        begin = time.process_time()
        try:
            lines = told(Path(path))
        except Exception as error:           # whatever it is, the test wants to see it and the other files' outcome too
            lines = [f"{type(error).__name__}: {error}"]
        found.append((lines, time.process_time() - begin))
    print(json.dumps([*found, most_megabytes()]))


if __name__ == "__main__":
    main(sys.argv[1:])
