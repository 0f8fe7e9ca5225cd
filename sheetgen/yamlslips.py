"""What is wrong with text that YAML cannot read, in a teacher's words, at the line where it was done; and text that YAML reads
otherwise than it was meant."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Any, NamedTuple

CLOSING = {"[": "]", "{": "}"}

CUT_OFF = re.compile(r"\s*#\w")
"""What YAML takes for a comment, and was text as likely as not: a comment of who means one has a blank after the #."""


class Slip(NamedTuple):
    """Something that YAML cannot read: ``line`` from 1."""

    line: int
    found: str
    wanted: str


def slip_of(error: Any, lines: Sequence[str], quoted: Any, opened: Any, deepest: int) -> Slip:
    """What a parser's ``error`` comes from in the ``lines`` of a text; ``quoted``: the last text in quotes that was read, and
    ``opened``: the list or the fields that are open, as events, if there are any."""
    mark = error.problem_mark or error.context_mark
    at = mark.line if mark else 0
    problem, context = error.problem or "", error.context or ""
    if "quoted scalar" in context and "end of stream" in problem:
        return _open_quote(lines, error.context_mark)
    if quoted is not None and quoted.start_mark.line < quoted.end_mark.line == at:      # it ended where another was to begin
        return _open_quote(lines, quoted.start_mark)
    if "flow" in context and "did not find expected" in problem:
        if "flow node" not in context:
            return _open_bracket(lines, error.context_mark, at)
        if opened is not None and opened.flow_style:                                   # it ends after a comma or a colon
            return _open_bracket(lines, opened.start_mark, at)
    if problem.startswith("mapping values are not allowed"):
        return Slip(at + 1, "a colon where none can stand", _hint(lines, at))
    if "nesting depth" in problem:
        return Slip(at + 1, f"more than {deepest} levels within each other", _hint(lines, at))
    if "could not find expected ':'" in problem and error.context_mark:
        return Slip(error.context_mark.line + 1, "a line without a colon where a field begins", _hint(lines, at))
    if "did not find expected key" in problem or "did not find expected '-' indicator" in problem:
        return Slip(at + 1, "something that does not go on with what stands before it", _hint(lines, at))
    if "cannot start any token" in problem:
        sign = _from(lines, at, mark.column)[:1]
        return Slip(at + 1, "a tab" if sign == "\t" else f"a text that begins with {sign}",
                    _hint(lines, at) if sign == "\t" else "quotes round it")
    clean = " ".join("".join(sign for sign in problem if sign.isprintable()).split())[:120]
    return Slip(at + 1, f"something that YAML cannot read ({clean or 'it is not YAML'})", _hint(lines, at))


def bare_braces(lines: Sequence[str], mark: Any) -> bool:
    """Whether what begins at a ``mark`` is a {{ value }} that nobody has put in quotes."""
    return mark.column > 0 and _from(lines, mark.line, mark.column - 1).startswith("{{")


def cut_off(lines: Sequence[str], mark: Any) -> str:
    """What stands behind a ``#`` on the line of a text without quotes that ends at ``mark``, the sign too; "" if it is a comment
    like others."""
    rest = _from(lines, mark.line, mark.column)
    return rest.strip() if CUT_OFF.match(rest) else ""


def _from(lines: Sequence[str], line: int, column: int) -> str:
    """The rest of a line, "" if there is none: a file with strange line ends has more lines for the parser than for us."""
    return lines[line][column:] if line < len(lines) else ""


def _open_quote(lines: Sequence[str], mark: Any) -> Slip:
    quote = _from(lines, mark.line, mark.column)[:1]
    twice = " (an apostrophe within is written twice, '')" if quote == "'" else ""
    return Slip(mark.line + 1, f"a quotation mark {quote} that is not closed", f"another {quote} at the end of the text{twice}")


def _open_bracket(lines: Sequence[str], mark: Any, at: int) -> Slip:
    opened = _from(lines, mark.line, mark.column)[:1]
    closing = CLOSING.get(opened, opened)
    if at == mark.line:
        return Slip(at + 1, f"neither a comma nor {closing} after an entry of {opened} {closing}",
                    "a comma between two entries; quotes round text with a colon or a comma in it")
    if not "".join(lines[at:]).strip():
        return Slip(mark.line + 1, f"a bracket {opened} that is not closed", f"{closing} at its end")
    return Slip(mark.line + 1, f"a bracket {opened} that is not closed before line {at + 1}",
                f"{closing} at its end; or a comma between its entries")


def _hint(lines: Sequence[str], at: int) -> str:
    if "\t" in "\n".join(lines[max(0, at - 1):at + 1]):
        return "spaces, not tabs, to indent"
    return "`word: value` lines, evenly indented; quotes round text with a colon or a comma in it"
