"""The key of papers: 256 random bits in a file of the examiner's, and what is drawn from it.

Everything that is not to be foreseen comes from HMAC-SHA-256 (FIPS 198-1) with the key, each for a purpose of its own, so that
nothing that one purpose shows tells anything of another. A key is never printed: it has no text but that of its file.
"""

from __future__ import annotations

import hmac
import os
import re
import secrets
import stat
import sys
from hashlib import sha256
from pathlib import Path

from sheetgen.faults import Fault, FaultError, visible_text
from sheetgen.filebytes import bytes_of

BITS = 256
PRIVATE = 0o600
"""The mode of a key's file: its owner reads and writes, nobody else."""

_DOMAIN = b"sheetgen papers 1"
"""Keeps what is drawn here apart from whatever else may ever be drawn from a key. It never changes: papers last for years."""

_LINE = re.compile(r"key ([0-9a-f]{64}) ([0-9a-f]{8})")

HEAD = """\
# A key of examination papers. Who has this file can tell every sheet of them before it is seen: keep it to yourself.
# Who has lost it cannot make these papers again, nor an answer from a code. Keep a second copy in a safe place.
# It belongs to one paper or to many; sheetgen paper PLAN.yaml --key THIS-FILE
"""


LOST = ("the key that the paper was drawn from; if it is lost, nothing brings it back, and a new paper needs a new one: "
        "sheetgen new key")
"""What is to be given where there is no such file."""


class KeyFileError(FaultError):
    """A key's file that cannot be used, or cannot be made."""


class Key:
    """A key. ``remark``: what had better be changed with its file; None if nothing."""

    __slots__ = ("_bits", "remark")

    def __init__(self, bits: bytes, remark: Fault | None = None) -> None:
        if len(bits) * 8 != BITS:
            raise ValueError(f"a key of {len(bits) * 8} bits is none")
        self._bits, self.remark = bits, remark

    def __repr__(self) -> str:
        return "Key(not shown)"

    def __reduce__(self) -> str | tuple[object, ...]:
        raise TypeError("a key goes to no other process")

    def digest(self, purpose: str, *parts: str | int | bytes) -> bytes:
        """32 bytes that only the key gives, for a ``purpose`` and the ``parts`` that it is about."""
        told = b"".join(_framed(part) for part in (purpose, *parts))
        return hmac.new(self._bits, _framed(_DOMAIN) + told, sha256).digest()

    def below(self, count: int, purpose: str, *parts: str | int | bytes) -> int:
        """A number from 0 to ``count`` - 1; all are as likely to 1 part in 2 to the 200th if ``count`` is below 2 to the 56th."""
        return int.from_bytes(self.digest(purpose, *parts), "big") % count

    def seals(self, seal: str, purpose: str, *parts: str | int | bytes) -> bool:
        """Whether a ``seal``, in hexadecimal digits, is the digest."""
        return hmac.compare_digest(seal.encode("utf-8", "replace"), self.digest(purpose, *parts).hex().encode())


def new_key(path: Path) -> None:
    """Write a new key to a file that is not there yet. Raises: KeyFileError."""
    bits = secrets.token_bytes(BITS // 8)
    text = f"{HEAD}key {bits.hex()} {_check(bits)}\n".encode()
    try:
        handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0), PRIVATE)
    except FileExistsError:
        raise _wrong(path, "something of that name already, which stays as it is: a key that is overwritten is lost",
                     "another name") from None
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or "a path that cannot be used"
        raise _wrong(path, str(reason), "a file in a folder that is there and yours") from None
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(text)
            file.flush()
            os.fsync(file.fileno())
    except OSError as error:
        path.unlink(missing_ok=True)                   # half a key is worse than none
        raise _wrong(path, str(error.strerror), "a disk with room") from None


def load_key(path: Path) -> Key:
    """Read a key. Raises: KeyFileError for a file that is missing, or is no whole key."""
    shown = visible_text(path.as_posix(), quote=False)
    raw = bytes_of(path, shown, 4, KeyFileError, LOST, "a key's file")
    lines = [line.strip() for line in raw.decode("ascii", "replace").splitlines()]
    said = [line for line in lines if line and not line.startswith("#")]
    found = _LINE.fullmatch(said[0]) if len(said) == 1 else None
    if found is None:
        raise _wrong(path, "no whole key", "a file that `sheetgen new key` wrote, as it wrote it")
    bits = bytes.fromhex(found[1])
    if found[2] != _check(bits):
        raise _wrong(path, "a key with a wrong digit", "the file as `sheetgen new key` wrote it, or its copy")
    return Key(bits, _seen_by_others(path))


def _seen_by_others(path: Path) -> Fault | None:
    """What to do if others can read the file, or if the system does not tell who can."""
    shown = visible_text(path.as_posix(), quote=False)
    if sys.platform == "win32":
        return None                                    # told when the key is made: there are no modes to look at
    mode = stat.S_IMODE(path.stat().st_mode)
    if not mode & 0o077:
        return None
    return Fault(shown, 0, "", f"a key that others can read (mode {mode:03o})", f"chmod 600 {shown}")


def _check(bits: bytes) -> str:
    """Digits by which a key that was copied wrongly is found out."""
    return sha256(b"check " + bits).hexdigest()[:8]


def _framed(part: str | int | bytes) -> bytes:
    """A part so that no two lists of parts come to the same bytes."""
    kind, said = (b"b", part) if isinstance(part, bytes) else (
        (b"i", str(part).encode()) if isinstance(part, int) else (b"s", part.encode()))
    return b"%s%d:%s" % (kind, len(said), said)


def _wrong(path: Path, found: str, wanted: str) -> KeyFileError:
    return KeyFileError([Fault(visible_text(path.as_posix(), quote=False), 0, "", found, wanted)])
