"""Vetting of families: what is wrong with a family is found before a class sees it."""

from sheetgen.vetting.report import LEAST_VARIANTS, Least, Report, RuleShare, Taken
from sheetgen.vetting.vet import FEW, SEEDS, SHEETS, vet, vet_all

__all__ = [
    "FEW", "LEAST_VARIANTS",
    "SEEDS",
    "SHEETS",
    "Least",
    "Report",
    "RuleShare",
    "Taken",
    "vet",
    "vet_all",
]
