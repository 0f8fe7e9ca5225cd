"""The date that a file says of itself. It is no clock's, because the same sheets are to be the same bytes."""

from __future__ import annotations

import os

from sheetgen.faults import Fault, FaultError, shown

VARIABLE = "SOURCE_DATE_EPOCH"
"""The environment's word for a date that whoever makes files anew wants in them (reproducible-builds.org, version 1.1)."""

LAST_SECOND = 253_402_300_799
"""The end of the year 9999: a PDF's year has four digits (ISO 32000-1, 7.9.4)."""


class DateError(FaultError):
    """A date that cannot be one."""


def check_date() -> None:
    """Raise DateError if the environment asks for a date that there is not. (Without one, files say 1 January 2000.)"""
    text = os.environ.get(VARIABLE, "").strip()
    if text and not (text.isascii() and text.isdigit() and len(text) <= len(str(LAST_SECOND)) and int(text) <= LAST_SECOND):
        wanted = f"whole seconds since the beginning of 1970, at most {LAST_SECOND}; or leave it unset"
        raise DateError([Fault(VARIABLE, 0, "", shown(text), wanted)])
