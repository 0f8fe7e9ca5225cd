"""Names of the files that a class's sheets go to: plain ones, whatever stands in the list."""

from __future__ import annotations

import re
from collections.abc import Sequence

LONGEST = 40
"""Letters of a name's own part."""


def plain_names(wanted: Sequence[str], instead: str) -> list[str]:
    """For each text a part of a file name that no other has, in small or capital letters, and that is a path to nowhere;
    ``instead``: begins the name where a text has no letter that can stand in one.

    >>> plain_names(["10A", "10 a", "../../x", "Жук", "10a"], "group")
    ['10A', '10-a', 'x', 'group-4', '10a-5']
    """
    names: list[str] = []
    taken: set[str] = set()
    for place, text in enumerate(wanted, 1):
        plain = re.sub(r"[^A-Za-z0-9]+", "-", text).strip("-")[:LONGEST].strip("-") or f"{instead}-{place}"
        while plain.casefold() in taken:
            plain = f"{plain}-{place}"
        taken.add(plain.casefold())
        names.append(plain)
    return names
