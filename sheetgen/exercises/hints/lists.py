"""Pieces and other words in a row, and how many there are of them, as sentences of hints have them."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence

from sheetgen.exercises.pieces import Piece
from sheetgen.templating import Wording
from sheetgen.templating.hints import MOST_COUNTED

MOST_NOUNS = 8
"""Of what a sentence counts: no part of the bank has as many, and nobody would read on."""


def listed(words: Sequence[str], wording: Wording) -> str:
    """Words in a row, as a sentence has them: a, b and c."""
    say, row = wording.render, words[0] if words else ""
    for number_, word in enumerate(words[1:], 2):
        row = say("hints.and" if number_ == len(words) else "hints.comma", one=row, other=word)
    return row


def counted(pieces: Iterable[Piece], wording: Wording) -> list[str]:
    """The pieces by their nouns, each with its number: a step, two slots."""
    counts: dict[str, int] = defaultdict(int)
    for piece in pieces:
        counts[piece.noun] += piece.count
    return [counted_noun(noun, count, wording) for noun, count in list(counts.items())[:MOST_NOUNS]]


def counted_noun(noun: str, count: int, wording: Wording) -> str:
    """So many of a noun.

    >>> from sheetgen.templating import load_wording
    >>> counted_noun("slot", 2, load_wording()), counted_noun("step", 1, load_wording())
    ('two slots', 'a step')
    """
    say = wording.render
    if count == 1:
        return say(f"pieces.{noun}", form="one")
    return say("hints.counted", count=counted_word(count, wording), what=say(f"pieces.{noun}", form="several"))


def counted_word(count: int, wording: Wording) -> str:
    """A number in words, up to a bound."""
    return wording.render(f"hints.count_{count}") if 2 <= count <= MOST_COUNTED else str(count)
