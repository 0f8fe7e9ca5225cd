"""Orthographic-projection exercise sheets from a bank of parametric parts.

The names below are read from ``sheetgen.api`` when they are first asked for, so that the command line starts at once;
views are loaded when there is something to be seen.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from sheetgen.version import __version__

if TYPE_CHECKING:
    from sheetgen.api import (
        Bank,
        BankError,
        Family,
        Fault,
        FaultError,
        Measure,
        RefusedError,
        Solid,
        UnknownFamilyError,
        Variant,
        load_bank,
    )
    from sheetgen.certainty import Certainty
    from sheetgen.projection import View

__all__ = [
    "Bank", "BankError", "Certainty", "Family", "Fault", "FaultError", "Measure", "RefusedError", "Solid", "UnknownFamilyError",
    "Variant", "View", "__version__", "load_bank",
]


def __getattr__(name: str) -> object:
    if name not in __all__:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    if name == "View":
        from sheetgen.projection import View

        return View
    if name == "Certainty":
        from sheetgen.certainty import Certainty

        return Certainty
    from sheetgen import api

    return getattr(api, name)


def __dir__() -> list[str]:
    return sorted({*globals(), *__all__})
