"""Rows kept between calls in the user's cache folder. A cache that is broken, of another shape or cannot be written does no harm:
what it lacks is worked out again, and nobody is told."""

from __future__ import annotations

import json
import os
from contextlib import suppress
from pathlib import Path
from tempfile import mkstemp
from types import TracebackType
from typing import Any

FILE = "families.json"

MOST_ROWS = 5000
"""Kept; of more, those asked for longest ago go."""

MOST_BYTES = 20_000_000
"""A larger file is none of ours."""


class Cache:
    """Rows by key, in one file of ``folder`` (None: kept nowhere). ``with`` it: it is read at the first question, and written at
    the end if there is anything new."""

    def __init__(self, folder: Path | None) -> None:
        self._file = folder / FILE if folder else None
        self._rows: dict[str, Any] | None = None
        self._new = False

    @classmethod
    def of_user(cls) -> Cache:
        """The cache in the place that the user's system has for such things."""
        from platformdirs import user_cache_path

        folder = user_cache_path("sheetgen", appauthor=False)
        return cls(folder if folder.is_absolute() else None)       # without a home there is no such place

    def __enter__(self) -> Cache:
        return self

    def __exit__(self, kind: type[BaseException] | None, value: BaseException | None, trace: TracebackType | None) -> None:
        if self._new and self._file:
            with suppress(OSError):
                self._write(self._file)

    def get(self, key: str) -> dict[str, Any] | None:
        """The row of that key, if there is one."""
        rows = self._read()
        row = rows.get(key)
        if not isinstance(row, dict):
            return None
        rows[key] = rows.pop(key)                                  # asked for last
        return row

    def put(self, key: str, row: dict[str, Any]) -> None:
        """Keep a row."""
        rows = self._read()
        rows.pop(key, None)
        rows[key] = row
        self._new = True

    def _read(self) -> dict[str, Any]:
        if self._rows is None:
            self._rows = {}
            with suppress(OSError, ValueError, RecursionError):    # missing, no JSON, no text, too deep: begun anew
                if self._file and self._file.stat().st_size <= MOST_BYTES:
                    found = json.loads(self._file.read_bytes())
                    self._rows = found if isinstance(found, dict) else {}
        return self._rows

    def _write(self, place: Path) -> None:
        """Write beside the place and move it there whole: another call may be reading."""
        rows = dict(list(self._read().items())[-MOST_ROWS:])
        place.parent.mkdir(parents=True, exist_ok=True)
        handle, temporary = mkstemp(prefix=".", suffix=".part", dir=place.parent)
        try:
            with os.fdopen(handle, "w", encoding="utf-8") as file:
                json.dump(rows, file, ensure_ascii=True)
            Path(temporary).replace(place)
        finally:
            Path(temporary).unlink(missing_ok=True)
