"""Blocks of text lines, wrapped to a width. Sheet millimetres."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from sheetgen.ink import Face, Mark, Text, text_width, wrapped

PITCH = 1.6
"""Base lines apart, in heights of capitals (type B lettering: at least 1.4; ISO 3098, from memory)."""


@dataclass(frozen=True)
class TextBlock:
    """Wrapped lines; an empty one is half a line of space."""

    lines: tuple[str, ...]
    height: float
    face: Face

    @property
    def breadth(self) -> float:
        """mm from the top of the first line's capitals to the last base line."""
        rows = sum(1.0 if line else 0.5 for line in self.lines)
        return self.height * (PITCH * (rows - 1) + 1)

    @property
    def width(self) -> float:
        """mm of the longest line."""
        return max((text_width(line, self.height, self.face) for line in self.lines), default=0.0)

    def marks(self, left: float, top: float) -> list[Mark]:
        """The block with the top of its first capitals at ``top``."""
        marks: list[Mark] = []
        y = top - self.height
        for line in self.lines:
            if line:
                marks.append(Text(line, (left, y), self.height, face=self.face))
            y -= self.height * PITCH * (1.0 if line else 0.5)
        return marks


def block_of(texts: Sequence[str], width: float, height: float, face: Face = Face.REGULAR) -> TextBlock:
    """Wrap ``texts``, each beginning a line, to ``width`` mm. Raises: LetteringError for a word too long for a line."""
    lines: list[str] = []
    for text in texts:
        lines += wrapped(text, width, height, face) if text else [""]
    return TextBlock(tuple(lines), height, face)
