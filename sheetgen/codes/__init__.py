"""Codes: what a sheet carries so that its answer can be made again, of practice sheets from the code alone (docs/codes.md)."""

from sheetgen.codes.faults import CodeError
from sheetgen.codes.record import MOST_CODED_SEED, OTHER_SET, SETS, Code, family_number, scanned, sizes_number
from sheetgen.codes.sealed import sealed_code, sealed_read
from sheetgen.codes.signs import SIGNS, WIDEST

__all__ = [
    "MOST_CODED_SEED", "OTHER_SET", "SETS", "SIGNS", "WIDEST", "Code", "CodeError", "family_number", "scanned", "sealed_code",
    "sealed_read", "sizes_number",
]
