"""The problem bank: families of parts in YAML, and the variants drawn from them. Reading a file needs nothing of the drawing.

Nothing here imports pydantic or the YAML reader until a file is read, so that starting stays quick.
"""

from sheetgen.bank.family import MOST_SEED, Attempt, Family, Identity, Variant
from sheetgen.bank.faults import BankError, UnknownFamilyError
from sheetgen.bank.forms import Form, forms_of
from sheetgen.bank.load import (
    FAMILIES_LISTED,
    FAMILY_NAME,
    NAME_WANTED,
    Bank,
    bank_of,
    load_bank,
    load_banks,
    load_family,
    load_text,
)
from sheetgen.bank.outlines import Outline, digest_of, outlined, outlines
from sheetgen.faults import Fault

__all__ = [
    "FAMILIES_LISTED", "FAMILY_NAME", "MOST_SEED", "NAME_WANTED", "Attempt", "Bank", "BankError", "Family", "Fault", "Form",
    "Identity", "Outline", "UnknownFamilyError", "Variant", "bank_of", "digest_of", "forms_of", "load_bank", "load_banks",
    "load_family", "load_text", "outlined", "outlines",
]
