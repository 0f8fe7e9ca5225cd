"""The kinds of exercise, one module each: it gives ``KIND``, and is found by being here."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from importlib import import_module
from pkgutil import iter_modules
from types import MappingProxyType
from typing import Any

from sheetgen.exercises.kind import Kind


@cache
def kinds() -> Mapping[str, Kind[Any]]:
    """All kinds by name, in the order of their names."""
    found = [import_module(f"{__name__}.{module.name}").KIND for module in iter_modules(__path__)]
    return MappingProxyType({kind.name: kind for kind in sorted(found, key=lambda kind: kind.name)})
