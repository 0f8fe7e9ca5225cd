"""The first row of a list: which column holds what, by the usual English words or as the plan says."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from sheetgen.faults import Fault, choice, shown
from sheetgen.sets.classes.students import COLUMNS, ClassListError

HEADINGS: Mapping[str, tuple[str, ...]] = {
    "name": ("name", "full name", "student", "student name", "pupil", "pupil name", "learner", "learner name", "candidate",
             "candidate name", "names"),
    "first_name": ("first name", "first names", "forename", "forenames", "given name", "given names", "first"),
    "last_name": ("last name", "surname", "family name", "last"),
    "number": ("number", "no", "student number", "student no", "student id", "pupil number", "pupil no", "pupil id", "id",
               "id number", "admission number", "admission no", "candidate number", "candidate no", "roll number", "roll no",
               "register number", "register no", "enrolment number", "enrollment number"),
    "group": ("group", "class", "form", "set", "section", "class group", "form group", "tutor group", "reg group",
              "registration group", "teaching group"),
    "seat": ("seat", "seat number", "seat no", "desk", "place"),
    "room": ("room", "exam room", "hall"),
}
"""Words for each column (common practice, no source); compared without regard to capitals, full stops, hyphens and blanks."""

WHAT = {"name": "the name", "first_name": "the first name", "last_name": "the last name", "number": "the number",
        "group": "the group", "seat": "the seat", "room": "the room"}


def key(heading: str) -> str:
    """The same for headings that are the same.

    >>> key("First-Name "), key("No."), key("first_name")
    ('first name', 'no', 'first name')
    """
    return " ".join("".join(sign if sign.isalnum() else " " for sign in heading).casefold().split())


def columns_of(headings: Sequence[str], file: str, line: int, said: Mapping[str, str]) -> dict[str, int]:
    """Which column, counted from 0, holds what; ``said``: headings that a plan names.

    Raises: ClassListError for a heading that the plan names and the list lacks, two columns that may be the same, none for names.
    """
    found: dict[str, int] = {}
    faults: list[Fault] = []
    for what in COLUMNS:
        wanted = {key(said[what])} if what in said else set(HEADINGS[what])
        places = [place for place, heading in enumerate(headings) if key(heading) in wanted]
        if len(places) > 1:
            both = " and ".join(shown(headings[place]) for place in places)
            faults.append(Fault(file, line, what, f"several columns that may be {WHAT[what]}: {both}",
                                f"one; or say which in the plan, `columns: {{{what}: …}}`"))
        elif places:
            found[what] = places[0]
        elif what in said:
            faults.append(Fault(file, line, what, f"no column {shown(said[what])}, which the plan names",
                                choice(said[what], [heading for heading in headings if heading])))
    if not faults and not found.keys() & {"name", "first_name", "last_name"}:
        read = ", ".join(shown(heading) for heading in headings[:6])
        faults.append(Fault(file, line, "", f"no column for names in the first row, {read}",
                            "a row of headings, such as name, number and group; or say them in the plan, `columns: {name: …}`"))
    if faults:
        raise ClassListError(faults)
    return found
