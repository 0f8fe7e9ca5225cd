"""Files that a password locks: AES of 256 bits, as ISO 32000-2 (PDF 2.0) has it, 7.6. In: a document; out: bytes.

What is locked is the file that ``write_pdf`` gives, the same bytes for the same document. The locked bytes are others each time,
for what makes a password slow to guess is drawn by chance.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from io import BytesIO
from pathlib import Path
from typing import BinaryIO

from sheetgen.faults import Fault, FaultError, visible_text
from sheetgen.filebytes import bytes_of
from sheetgen.ink.marks import Document
from sheetgen.ink.pdf import write_pdf

SHORTEST, LONGEST = 8, 127
"""Characters of a password: fewer are soon guessed (NIST SP 800-63B, 5.1.1.1 has eight; from memory), and of more a reader takes
only so many (ISO 32000-2, 7.6.4.3.3; from memory)."""

FILE = "a text file whose only line is the password"


class PasswordError(FaultError):
    """A password that would not lock, or that some readers of PDFs would not take."""


@dataclass(frozen=True, slots=True)
class Password:
    """What locks a file; it is never shown."""

    text: str = field(repr=False)


def password_of(text: str, where: str) -> Password:
    """``text`` as a password; messages say ``where`` it was given, and never the text.

    Signs beyond ASCII are refused: which bytes they come to depends on the keyboard and on the reader of the PDF.

    Raises: PasswordError.
    """
    found = ""
    if not SHORTEST <= len(text) <= LONGEST:
        found = f"a password of {len(text)} characters"
    elif not (text.isascii() and text.isprintable()):
        found = "a password with other signs"
    elif text != text.strip():
        found = "a password with a blank at its beginning or end"
    if found:
        wanted = f"{SHORTEST} to {LONGEST} letters without accents, digits, plain signs and blanks between; four words, say"
        raise PasswordError([Fault(where, 0, "", found, wanted)])
    return Password(text)


def password_in(path: Path) -> Password:
    """The password that is the only line of a file. Raises: PasswordError."""
    file = visible_text(path.as_posix(), quote=False)
    raw = bytes_of(path, file, 1, PasswordError, FILE)
    try:
        lines = raw.decode("utf-8-sig").splitlines()
    except UnicodeDecodeError:
        raise PasswordError([Fault(file, 0, "", "a file that is no text", FILE)]) from None
    if len(lines) != 1:
        raise PasswordError([Fault(file, 0, "", f"{len(lines)} lines", FILE)])
    return password_of(lines[0], file)


def writer_of(document: Document, password: Password | None = None) -> Callable[[BinaryIO], None]:
    """What writes ``document`` to a file, locked if there is a ``password``."""
    if password is None:
        return lambda out: write_pdf(document, out)
    return lambda out: _write_locked(document, password, out)


def _write_locked(document: Document, password: Password, out: BinaryIO) -> None:
    """Write ``document`` locked. Unlocked it is nowhere on the disk; memory holds it whole, which takes 37 MB more for 3,000
    pages of 7 kB than to write them."""
    from pypdf import PdfWriter  # imported late: few files are locked

    plain = BytesIO()
    write_pdf(document, plain)
    plain.seek(0)
    writer = PdfWriter(clone_from=plain)
    writer.pdf_header = "%PDF-2.0"
    writer.encrypt(password.text, algorithm="AES-256")
    writer.write_stream(out)
