"""Tables: records of arrays with a row for each of several things, and what can be done with any of them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, fields
from typing import Any, NamedTuple, Self, TypeVar

import numpy as np

from sheetgen.geometry import Array, IntArray, Mask


class Elements(NamedTuple):
    """Elements of dimensions (ISO 129-1: dimension line, extension line, figures): ``shapes`` (k, …) and the row (k,) of the
    ``offer`` whose each is. An offer may have none or several."""

    shapes: Array
    offer: IntArray

    def of(self, which: Mask) -> Elements:
        """Those of some offers; ``which`` (n,): True for these."""
        return self.some(np.flatnonzero(which[self.offer]))

    def some(self, rows: IntArray) -> Elements:
        """Some of them, in the order asked for."""
        return Elements(self.shapes.take(rows, axis=0), self.offer.take(rows))

    def moved(self, row: IntArray) -> Elements:
        """With the ``row`` (n,) of each offer in another table; elements of offers that are not in it, -1, are left out."""
        if not len(self.offer):
            return self
        offer = row.take(self.offer)
        keep = np.flatnonzero(offer >= 0)
        return Elements(self.shapes.take(keep, axis=0), offer.take(keep))


def merged(*several: Elements) -> Elements:
    """Elements of several sorts that the same offers have, one sort after the other."""
    return Elements(*(np.concatenate(part) for part in zip(*several, strict=True)))


def none_of(*shape: int) -> Elements:
    """No elements; ``shape``: of one."""
    return Elements(np.zeros((0, *shape)), np.zeros(0, dtype=np.int64))


@dataclass(frozen=True, eq=False)
class Table:
    """A record all of whose fields are arrays of as many rows."""

    def __len__(self) -> int:
        return len(getattr(self, fields(self)[0].name))

    def take(self, rows: IntArray) -> Self:
        """Some of the rows, in the order asked for."""
        return type(self)(**{each.name: getattr(self, each.name).take(rows, axis=0) for each in fields(self)})


AnyTable = TypeVar("AnyTable", bound=Table)


def stacked(tables: Sequence[AnyTable]) -> AnyTable:
    """The rows of several tables of one kind, of which there is at least one, in order."""
    columns: dict[str, Any] = {
        each.name: np.concatenate([getattr(table, each.name) for table in tables]) for each in fields(tables[0])}
    return type(tables[0])(**columns)
