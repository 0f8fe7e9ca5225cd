"""A table that a school exported, as rows of cells. It may come from a stranger: bytes in, text out, within limits."""

from __future__ import annotations

import csv
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import NamedTuple

from sheetgen.faults import Fault, shown
from sheetgen.filebytes import bytes_of
from sheetgen.sets.classes.students import ENCODINGS, ClassListError

MOST_KILOBYTES = 8_000
"""Of a file: 800 bytes for each of the most students."""

MOST_CELLS = 200
"""Of a row; exports of everything have a hundred."""

DELIMITERS = (",", ";", "\t")
"""Between cells; a semicolon where the comma stands in numbers."""

TOLD = 20
"""Faults of a file that are told."""

NOTE = "# "
"""Begins a line before the headings that is for who reads the file; a heading may be # alone."""

UTF_16 = (b"\xff\xfe", b"\xfe\xff")
"""How a file in two-byte letters begins."""


class Row(NamedTuple):
    """A row that has anything in it; ``line``: of the file, where it begins."""

    line: int
    cells: tuple[str, ...]


def text_of(path: Path, file: str, encoding: str) -> str:
    """The text of a list. Raises: ClassListError if it is missing, too big, or not in that encoding."""
    raw = bytes_of(path, file, MOST_KILOBYTES, ClassListError, "a class list, a .csv file", "a list of students")
    if raw.startswith(UTF_16):
        raise ClassListError([Fault(file, 1, "", "a file in UTF-16", "a file saved as CSV UTF-8")])
    return _decoded(raw, file, encoding)


def _decoded(raw: bytes, file: str, encoding: str) -> str:
    try:
        text = raw.decode({"utf-8": "utf-8-sig"}.get(encoding, encoding))
    except UnicodeDecodeError as error:
        line = _line_of(raw[:error.start])
        other = next(name for name in ENCODINGS if name != encoding)
        wanted = f"a file saved as {encoding.upper()}; or say `encoding: {other}` in the plan"
        raise ClassListError([Fault(file, line, "", f"a letter that is not {encoding.upper()}", wanted)]) from None
    if "\0" in text:
        line = _line_of(text[:text.index("\0")].encode())
        raise ClassListError([Fault(file, line, "", "something that is not text", "a class list saved as CSV")])
    return text


def _line_of(before: bytes) -> int:
    return len(before.replace(b"\r\n", b"\n").replace(b"\r", b"\n").split(b"\n"))


def rows_of(text: str, file: str, delimiter: str) -> Iterator[Row]:
    """The rows that have anything in them, without notes before the headings. Raises: ClassListError for quotation marks that are
    not closed, or a huge cell."""
    begun = False
    _, skipped, text = _told_delimiter(text)
    reader = csv.reader(_lines(text), delimiter=delimiter, strict=True)
    while True:
        line = reader.line_num + skipped + 1
        try:
            cells = tuple(" ".join(cell.split()) for cell in next(reader))
        except StopIteration:
            return
        except csv.Error as error:
            raise ClassListError([Fault(file, line, "", *_csv_words(str(error)))]) from None
        if len(cells) > MOST_CELLS:
            raise ClassListError([Fault(file, line, "", f"{len(cells)} cells in a row", f"at most {MOST_CELLS}")])
        begun = begun or (any(cells) and not cells[0].startswith(NOTE))
        if begun and any(cells):
            yield Row(line, cells)


def delimiter_of(text: str, file: str) -> str:
    """The sign between cells: as the file says itself in a line ``sep=;``, else that of which the first row has most."""
    if told := _told_delimiter(text)[0]:
        return told
    return max(DELIMITERS, key=lambda sign: _cells_at_first(text, file, sign))


def _cells_at_first(text: str, file: str, delimiter: str) -> int:
    """How many cells the first row has with that sign between them; none if it cannot be read so."""
    try:
        row = next(rows_of(text, file, delimiter), None)
    except ClassListError:
        return 0
    return len(row.cells) if row else 0


def _told_delimiter(text: str) -> tuple[str, int, str]:
    """What a first line ``sep=;``, which spreadsheets write, says; how many lines it takes; and the rest."""
    head = text[:7].splitlines()
    for sign in DELIMITERS:
        if head and head[0].casefold() == f"sep={sign}":
            rest = text[5:]
            return sign, 1, rest[2:] if rest.startswith("\r\n") else rest[1:]
    return "", 0, text


def _lines(text: str) -> Sequence[str]:
    """Lines by line ends alone, so that they are counted as editors count them."""
    return [f"{line}\n" for line in text.replace("\r\n", "\n").replace("\r", "\n").split("\n")]


def _csv_words(said: str) -> tuple[str, str]:
    """What the CSV reader complains of, as found and wanted."""
    if "end of data" in said:
        return "a quotation mark that is never closed", 'marks in pairs; a mark within a cell is written twice, ""'
    if "expected after" in said:
        return "letters after a closed quotation mark", 'marks round whole cells; a mark within a cell is written twice, ""'
    if "larger than" in said:
        return "a cell of more than 100,000 letters", "a list of students"
    return f"something that is no CSV ({shown(said)})", "a class list saved as CSV"
