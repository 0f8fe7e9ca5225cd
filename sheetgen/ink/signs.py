"""Whole numbers as short plain text: six bits a sign, the low five of them the number's, the sixth if it goes on."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

SIGNS = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_"
"""Signs that stand for 0 to 63; none of them means anything in HTML, in a script or in an address."""

_VALUES = {sign: value for value, sign in enumerate(SIGNS)}


def signs_of(numbers: Iterable[int]) -> str:
    """Whole numbers, 0 or more, as text.

    >>> signs_of([0, 31, 32, 1023])
    'AfgB_f'

    Raises: ValueError for a number below 0.
    """
    text: list[str] = []
    for number in numbers:
        if number < 0:
            raise ValueError(f"{number} is below 0")
        while number > 31:
            text.append(SIGNS[32 | number & 31])
            number >>= 5
        text.append(SIGNS[number])
    return "".join(text)


def numbers_of(text: str) -> Iterator[int]:
    """The numbers of ``signs_of``. Raises: ValueError for a text that it did not write."""
    number = shift = 0
    for sign in text:
        value = _VALUES.get(sign)
        if value is None:
            raise ValueError(f"{sign!r} stands for no number")
        number |= (value & 31) << shift
        shift += 5
        if value < 32:
            yield number
            number = shift = 0
    if shift:
        raise ValueError("a text that ends within a number")


def folded(number: int) -> int:
    """A whole number as one that is not below 0: the sign in the last bit, so that small ones stay small.

    >>> [folded(number) for number in (0, -1, 1, -2)]
    [0, 1, 2, 3]
    """
    return -2 * number - 1 if number < 0 else 2 * number


def unfolded(number: int) -> int:
    """What was ``folded``."""
    return -(number + 1) // 2 if number & 1 else number // 2
