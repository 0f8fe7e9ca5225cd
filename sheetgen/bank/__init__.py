"""The problem bank: families of parts in YAML, and the variants drawn from them. Reading a file needs nothing of the drawing.

Nothing here imports pydantic or the YAML reader until a file is read, so that starting stays quick.
"""

from sheetgen.bank.family import Attempt, Family, Identity, Variant
from sheetgen.bank.faults import BankError, UnknownFamilyError
from sheetgen.bank.load import Bank, load_bank, load_family, load_text
from sheetgen.faults import Fault

__all__ = [
    "Attempt", "Bank", "BankError", "Family", "Fault", "Identity", "UnknownFamilyError", "Variant",
    "load_bank", "load_family", "load_text",
]
