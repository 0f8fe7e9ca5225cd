"""Who sits where: seats of rooms given to candidates in the order of the list, and who is whose neighbour."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence

from sheetgen.faults import Fault, Place, choice, shown
from sheetgen.sets.classes import Student
from sheetgen.sets.papers.records import Candidate, Room, Seat

NUMBER = re.compile(r"[A-Za-z0-9][A-Za-z0-9 ./-]{0,19}")
"""A candidate's number: it stands on every sheet and in the names of files."""

_SEAT = re.compile(r"([0-9]{1,3})[-./]([0-9]{1,3})")

AROUND = tuple((row, column) for row in (-1, 0, 1) for column in (-1, 0, 1) if row or column)
"""From a seat to its eight neighbours."""


def neighbours(seat: Seat) -> Iterator[Seat]:
    """The places round a seat, whether or not there are seats.

    >>> [seat.place for seat in neighbours(Seat("Hall", 1, 2))]
    ['0-1', '0-2', '0-3', '1-1', '1-3', '2-1', '2-2', '2-3']
    """
    for row, column in AROUND:
        yield Seat(seat.room, seat.row + row, seat.column + column)


class Seating:
    """Gives seats to candidates one after another: those that they ask for, or else the next that is free. So who comes last
    moves nobody. ``faults``: what was wrong, in the order of the candidates."""

    def __init__(self, rooms: Sequence[Room], file: str, place: Place) -> None:
        self.rooms, self.file, self.place = {room.name: room for room in rooms}, file, place
        self.faults: list[Fault] = []
        self._taken: dict[Seat, str] = {}
        self._next = (seat for room in rooms for seat in room.seats())
        self._numbers: dict[str, int] = {}

    def seated(self, students: Sequence[Student], named: bool) -> tuple[Candidate, ...]:
        """The candidates of a list; of those at fault, none."""
        count = sum(room.count for room in self.rooms.values())
        if len(students) > count:
            self.faults.append(Fault(*self.place, f"{count} seats for {len(students)} candidates", "more rooms, rows or columns"))
            return ()
        return tuple(filter(None, (self._candidate(student, named) for student in students)))

    def _candidate(self, student: Student, named: bool) -> Candidate | None:
        before, number = len(self.faults), student.number or str(student.place)
        if not NUMBER.fullmatch(number):
            self._fault(student, "number", shown(number), "at most 20 letters, digits, hyphens, full stops, strokes and blanks")
        if (line := self._numbers.setdefault(number.casefold(), student.line)) != student.line:
            self._fault(student, "number", f"{shown(number)}, which stands in line {line} already", "a number of its own")
        seat = self._asked(student) if student.seat else next((seat for seat in self._next if seat not in self._taken), None)
        if seat is None or len(self.faults) > before:
            if seat is None and len(self.faults) == before:
                self._fault(student, "seat", "no seat left that is free", "more seats")
            return None
        self._taken[seat] = number
        return Candidate(number, seat, student.place, student.name if named else "", student.line)

    def _asked(self, student: Student) -> Seat | None:
        """The seat that a list names."""
        found = _SEAT.fullmatch(student.seat)
        room = self.rooms.get(student.room) if student.room else (
            next(iter(self.rooms.values())) if len(self.rooms) == 1 else None)
        if room is None:
            what = shown(student.room) if student.room else "a seat without a room"
            self._fault(student, "room", what, choice(student.room, self.rooms))
        elif found is None:
            self._fault(student, "seat", shown(student.seat), "a row and a column, as 3-4")
        else:
            seat = Seat(room.name, int(found[1]), int(found[2]))
            if not (1 <= seat.row <= room.rows and 1 <= seat.column <= room.columns) or (seat.row, seat.column) in room.gaps:
                wanted = f"one of {room.rows} rows and {room.columns} columns, and no gap"
                self._fault(student, "seat", f"{seat.place}, where {room.name or 'the room'} has no seat", wanted)
            elif seat in self._taken:
                self._fault(student, "seat", f"{seat.place}, where candidate {self._taken[seat]} sits", "a seat that is free")
            else:
                return seat
        return None

    def _fault(self, student: Student, field: str, found: str, wanted: str) -> None:
        self.faults.append(Fault(self.file, student.line, field, found, wanted))


def beside(candidates: Sequence[Candidate]) -> Mapping[str, tuple[str, ...]]:
    """Of each candidate, by number, the neighbours that are candidates."""
    by_seat = {candidate.seat: candidate.number for candidate in candidates}
    return {candidate.number: tuple(by_seat[seat] for seat in neighbours(candidate.seat) if seat in by_seat)
            for candidate in candidates}
