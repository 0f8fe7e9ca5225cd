"""What decides the bytes of a set, in two short texts: one that its files carry, one by which work begun is known again."""

from __future__ import annotations

import sys
import zlib
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, fields, is_dataclass, replace
from enum import Enum
from functools import cache
from hashlib import sha256
from importlib.metadata import version
from pathlib import Path
from typing import Any

import numpy as np

from sheetgen.faults import Place
from sheetgen.sets.worksheet import Job
from sheetgen.sheet import Settings

UNPRINTED = frozenset({"file", "line", "lines", "places", "remarks"})
"""Fields that tell where something was said: messages show them, and no sheet."""

LIBRARIES = ("numpy", "manifold3d", "shapely", "reportlab", "pillow", "jinja2", "segno", "highspy")
"""Whose work is in the bytes."""

OWN = frozenset({".py", ".ttf", ".js", ".css", ".html"})
"""What our own files are called whose contents are in the bytes."""

MARK = 12
"""Hexadecimal digits of a mark: enough that no two sets of a school's are alike, few enough to compare by eye."""


@dataclass(frozen=True, slots=True)
class Run:
    """``mark``: of all files of a set, a function of its input and the program's version. ``digest``: of that, of what is wanted
    of it, and of everything that makes it; what was made under the same can be used as it is."""

    mark: str
    digest: str


def run_of(title: str, jobs: Sequence[Job], settings: Settings, version: str, more: object = None) -> Run:
    """The run in which this ``version`` of the program makes ``jobs``; ``more``: whatever else decides the files. Which roles are
    wanted, and what the problems are worth, changes nothing of what students get."""
    families: dict[int, str] = {}

    def of_job(job: Job) -> tuple[object, ...]:
        family = families.get(id(job.family)) or families.setdefault(id(job.family), digest_of(job.family))
        return family, job.seed, job.draws, replace(job.particulars, marking=None), job.kind

    mark = digest_of((version, title, [of_job(job) for job in jobs], settings, more))[:MARK]
    wanted = [(job.roles, job.particulars.marking) for job in jobs]
    return Run(mark, digest_of((mark, wanted, program_parts())))


@cache
def program_parts() -> tuple[str, ...]:
    """What makes the bytes: this program's own files, Python, the libraries."""
    home = Path(__file__).parents[1]
    own = sha256()
    for path in sorted(home.rglob("*.*")):
        if path.suffix in OWN:
            own.update(path.relative_to(home).as_posix().encode() + b"\0" + path.read_bytes())
    return (own.hexdigest(), sys.version, zlib.ZLIB_RUNTIME_VERSION, *(f"{name} {version(name)}" for name in LIBRARIES))


def digest_of(value: object) -> str:
    """A digest of records, collections, texts and numbers: the same for the same, on every machine.

    >>> digest_of({"a": [1, 2.5]}) == digest_of({"a": (1, 2.5)}), digest_of([1, 23]) == digest_of([12, 3])
    (True, False)

    Raises: TypeError for anything of which one cannot be made.
    """
    found = sha256()
    for piece in _pieces(value):
        found.update(f"{len(piece)}:".encode() + piece)
    return found.hexdigest()


def _pieces(value: Any) -> Iterator[bytes]:
    if value is None or (isinstance(value, bool | int | float | str) and not isinstance(value, Enum)):
        yield f"{type(value).__name__} {value!r}".encode()
    elif isinstance(value, Enum):
        yield f"{type(value).__name__}.{value.name}".encode()
    elif isinstance(value, bytes):
        yield b"bytes " + value
    elif isinstance(value, Path | Place):
        yield b"place"                                 # where something lies is not what it says
    elif isinstance(value, np.ndarray):
        yield f"array {value.dtype.str} {value.shape}".encode() + np.ascontiguousarray(value).tobytes()
    elif is_dataclass(value) and not isinstance(value, type):
        names = [one.name for one in fields(value) if one.repr and one.name not in UNPRINTED]
        yield f"record {type(value).__name__} {len(names)}".encode()
        for name in names:
            yield name.encode()
            yield from _pieces(getattr(value, name))
    else:
        yield from _several(value)


def _several(value: Any) -> Iterator[bytes]:
    if isinstance(value, Mapping):
        value = [(key, value[key]) for key in sorted(value, key=repr)]      # readers keep no order in some
    elif isinstance(value, frozenset | set):
        value = sorted(value, key=repr)
    elif not isinstance(value, list | tuple):
        raise TypeError(f"no digest of a {type(value).__name__}")
    yield f"several {len(value)}".encode()
    for part in value:
        yield from _pieces(part)
