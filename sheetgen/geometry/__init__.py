"""Arrays and their types, vectors, segments on paper, intervals: arithmetic that knows nothing of drawings."""

from sheetgen.geometry.arrays import Array, IntArray, Mask

__all__ = ["Array", "IntArray", "Mask"]
