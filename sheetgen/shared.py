"""Where the shipped files (problem bank, templates) lie: beside the checkout, or inside the installed package."""

from __future__ import annotations

from pathlib import Path

_PACKAGE = Path(__file__).resolve().parent


def shipped(name: str) -> Path:
    """Return the folder ``problem_bank`` or ``templates``, from a wheel or from a checkout.

    Raises: FileNotFoundError if neither place has it.
    """
    for place in (_PACKAGE / "_shared" / name, _PACKAGE.parent / name):
        if place.is_dir():
            return place
    raise FileNotFoundError(f"the folder {name!r} that belongs to sheetgen is missing beside {_PACKAGE}")
