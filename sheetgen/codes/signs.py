"""The signs of a code: a number written with two check signs, and read again whole or not at all.

The signs are numbers from 0 to 28. 29 is a prime, so that with the two check signs the sum of all signs, and the sum of each
times its place, are multiples of 29. One wrong sign spoils the first sum; two signs that have changed places spoil the second,
whichever they are, because no two of the 18 places are alike modulo 29. (A Reed-Solomon code of distance 3.)
"""

from __future__ import annotations

from sheetgen.codes.faults import CodeError, wrong_code
from sheetgen.faults import shown

SIGNS = "0123456789ACDEFGHJKMNPRTUVWXY"
"""Of signs that are mistaken for each other only the digit: no B, which looks like 8, no I and L (1), O and Q (0), S (5), Z (2):
common practice, no source."""

TYPED = str.maketrans("BILOQSZ", "8110052")
"""Letters that no code has, and the digits that were meant by them."""

PRIME = len(SIGNS)

GROUP, GROUPS = 6, 3
"""Signs of a group, and groups: 18 signs, 20 with the hyphens between."""

LENGTH = GROUP * GROUPS
CHECKS = 2

CAPACITY = PRIME ** (LENGTH - CHECKS)
"""Numbers that can be written: about 2 to the power of 77.7."""

WIDEST = "-".join(["W" * GROUP] * GROUPS)
"""What takes the most room of all that could be printed."""


def written(number: int) -> str:
    """A number below CAPACITY as signs in groups.

    >>> written(0), written(29)
    ('000000-000000-000000', '000000-000000-0010W2')
    """
    if not 0 <= number < CAPACITY:
        raise ValueError(f"{number} is not from 0 to {CAPACITY - 1}")
    values: list[int] = []
    for _ in range(LENGTH - CHECKS):
        number, value = divmod(number, PRIME)
        values.insert(0, value)
    text = "".join(SIGNS[value] for value in _sealed(values))
    return "-".join(text[start:start + GROUP] for start in range(0, LENGTH, GROUP))


def number_read(text: str) -> int:
    """The number that a typed code holds: small letters, blanks and missing hyphens are understood, and letters that no code has
    as the digits they look like.

    Raises: CodeError for a sign that no code has, too few or too many signs, or check signs that do not fit.

    >>> number_read("ooo000 ooo000 oo1ow2")
    29
    """
    plain = plain_signs(text)
    if odd := next((sign for sign in plain if sign not in SIGNS), None):
        raise wrong_code(f"{shown(odd)} in {shown(text)}", f"a code of digits and capitals, such as {written(29)}")
    if len(plain) != LENGTH:
        raise wrong_code(f"{len(plain)} signs in {shown(text)}", f"{LENGTH} signs, in {GROUPS} groups of {GROUP}")
    values = [SIGNS.index(sign) for sign in plain]
    if any(_sums(values)):
        raise _mistyped(plain, values)
    number = 0
    for value in values[:-CHECKS]:
        number = number * PRIME + value
    return number


def plain_signs(text: str) -> str:
    """A typed code without what is there for reading.

    >>> plain_signs("ab12o-x")
    'A8120X'
    """
    return "".join(sign for sign in text.upper() if not sign.isspace() and sign not in "-‐‑–").translate(TYPED)


def is_sealed(text: str) -> bool:
    """Whether a text is a whole code."""
    try:
        number_read(text)
    except CodeError:
        return False
    return True


def _sealed(values: list[int]) -> list[int]:
    """The values with their check signs."""
    plain, placed = _sums(values)
    last = ((LENGTH - 1) * plain - placed) % PRIME           # both sums, solved for the two last signs
    return [*values, (-plain - last) % PRIME, last]


def _sums(values: list[int]) -> tuple[int, int]:
    """Both sums modulo the prime; places count from 1."""
    return sum(values) % PRIME, sum(place * value for place, value in enumerate(values, 1)) % PRIME


def _mistyped(plain: str, values: list[int]) -> CodeError:
    """Where a single wrong sign must be, if a single one is wrong; signs that have changed places leave no such trace."""
    groups = [plain[start:start + GROUP] for start in range(0, LENGTH, GROUP)]
    whole = f"a mistyped code, {'-'.join(groups)}"
    wrong_by, placed = _sums(values)
    place = placed * pow(wrong_by, -1, PRIME) % PRIME if wrong_by else 0
    if 1 <= place <= LENGTH:
        number = (place - 1) // GROUP
        return wrong_code(whole, f"the signs that are printed; look at group {number + 1}, {groups[number]}, first")
    return wrong_code(whole, "the signs that are printed, in their order")
