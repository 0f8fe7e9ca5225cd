"""Files in one archive, so that they can be sent and copied together: the same files make the same bytes."""

from __future__ import annotations

import shutil
import zipfile
from collections.abc import Sequence
from pathlib import Path
from typing import BinaryIO

MADE = (2000, 1, 1, 0, 0, 0)
"""The date of all files within, as that of our PDF files is: when a pack was made is nobody's to know."""

READABLE = 0o100644 << 16
"""The mode of a plain file, as an archive has it."""

PACKED = frozenset({".pdf"})
"""What is packed in itself already."""


def is_ours(path: Path) -> bool:
    """Whether an archive is one that we have made, and so may be replaced: all its files have our date."""
    try:
        with zipfile.ZipFile(path) as archive:
            files = archive.infolist()
    except (OSError, ValueError, NotImplementedError, zipfile.BadZipFile):
        return False
    return bool(files) and all(info.date_time == MADE for info in files)


def write_archive(out: BinaryIO, folder: str, files: Sequence[tuple[str, Path]]) -> None:
    """Write ``files``, each by the name that it gets and where it lies, into a ZIP archive in which they stand in ``folder``."""
    with zipfile.ZipFile(out, "w") as archive:
        for name, place in files:
            info = zipfile.ZipInfo(f"{folder}/{name}", MADE)
            info.create_system, info.external_attr = 3, READABLE
            info.compress_type = zipfile.ZIP_STORED if place.suffix in PACKED else zipfile.ZIP_DEFLATED
            info.file_size = place.stat().st_size
            with place.open("rb") as source, archive.open(info, "w") as target:
                shutil.copyfileobj(source, target)
