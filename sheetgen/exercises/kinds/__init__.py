"""The kinds of exercise, one module each: it gives ``KIND``, and is found by being here."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from hashlib import sha256
from importlib import import_module
from pathlib import Path
from pkgutil import iter_modules
from types import MappingProxyType
from typing import Any

from sheetgen.exercises.kind import Kind


@cache
def _modules() -> Mapping[str, tuple[str, Kind[Any]]]:
    """Of each kind by name its module's name, and the kind."""
    found = [(module.name, import_module(f"{__name__}.{module.name}").KIND) for module in iter_modules(__path__)]
    return MappingProxyType({kind.name: (module, kind) for module, kind in found})


@cache
def kinds() -> Mapping[str, Kind[Any]]:
    """All kinds by name, in the order of their names."""
    return MappingProxyType({name: _modules()[name][1] for name in sorted(_modules())})


@cache
def edition_of_kind(name: str) -> str:
    """A digest of the files that make a kind, so that nothing is kept of it longer than it stays as it is."""
    whole, home = sha256(), Path(__file__).parent
    module = _modules()[name][0]
    for path in sorted([*home.glob(f"{module}.py"), *home.glob(f"{module}/**/*.py")]):
        whole.update(path.relative_to(home).as_posix().encode() + b"\0" + path.read_bytes())
    return whole.hexdigest()
