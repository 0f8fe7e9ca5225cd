"""Vetting: a family is sampled widely and looked at from every side, before a class sees it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from concurrent.futures import Executor
from dataclasses import replace
from pathlib import Path
from statistics import median

from sheetgen.bank import BankError, Family
from sheetgen.bank.counting import attempts_of, kept_and_variants
from sheetgen.exercises import kinds, look_at
from sheetgen.faults import Fault
from sheetgen.problem.difficulty import Difficulty, median_rung
from sheetgen.refusals import Reason
from sheetgen.sets import results
from sheetgen.sheet import Style
from sheetgen.sight.parallels import LEAST_LINES
from sheetgen.sight.walls import LEAST_FACE
from sheetgen.templating import TemplateError
from sheetgen.units import CHORD_ERROR
from sheetgen.vetting.alternatives import TakenTally, never_taken
from sheetgen.vetting.choices import choice_faults, rule_shares, unknown_topics
from sheetgen.vetting.report import MOST_REFUSED, Least, Report
from sheetgen.vetting.variants import VIEWS, Looked, looked_at, page_refusal

SEEDS = 40
"""Variants looked at, unless more are asked for."""

SHEETS = 12
"""Variants of which both sheets are drawn, each in another style; drawing takes ten times as long as looking."""

FIRST_SEED = 5000
"""Away from the low seeds, which authors have looked at."""

IDLE_LOOKED = 3
"""Variants in which every feature is left out in turn, to see whether it is needed; of few variants an eighth."""

HOPELESS = 8
"""If so many variants have no solid, the others are not looked at: one fault is told by one of them."""

MOST_LOOKED = 60_000
"""Facets that are looked at of a family that has faults already; 40 variants of most families have fewer."""

FEW = 3
"""Up to so many families are vetted in this process, because another one takes a second to start."""

LIMITS = {"wall": LEAST_FACE, "face": LEAST_FACE, "lines": LEAST_LINES}


def vet(family: Family, seeds: int = SEEDS, sheets: int = SHEETS) -> Report:
    """Vet one family: look at ``seeds`` variants and draw ``sheets`` of them."""
    attempts = attempts_of(family)
    kept, variants = kept_and_variants(family, attempts)
    rules = rule_shares(family, attempts)
    faults, notes = choice_faults(family, kept, variants, rules)
    tally = _Tally(family)
    for number in range(seeds if kept else 0):
        if (number >= HOPELESS and not tally.solids) or (tally.facets > MOST_LOOKED and tally.faulty):
            break
        tally.look(FIRST_SEED + number, idle=number < min(IDLE_LOOKED, -(-seeds // 8)), drawn=number < sheets, style=number)
    faults += tally.faults()
    alternatives = tally.alternatives.found()
    notes += unknown_topics(family)
    computed, index = median_rung(tally.difficulties) if tally.difficulties else (None, 0.0)
    if computed not in (None, family.rung):
        faults.append(Fault(family.file, 0, "rung", f"{family.rung}, and a difficulty of {index:g}, which is rung {computed}",
                            f"{computed}, or a part that is {'harder' if family.rung > (computed or 0) else 'easier'} to draw"))
    return Report(
        family.name, family.file, family.title, family.rung, computed, index, kept, variants, rules, tally.least, tally.views(),
        tally.solids, tally.sheets, tally.refused, tuple(tally.reasons.most_common()),
        alternatives, (*faults, *_view_faults(family, tally)), (*family.remarks, *notes, *never_taken(family, alternatives)))


class _Tally:
    """What was found in the variants of a family so far."""

    def __init__(self, family: Family) -> None:
        self.family = family
        self.solids = self.sheets = self.facets = 0
        self.found: dict[Fault, list[str]] = {}
        self.least: dict[str, Least] = {}
        self.added: list[tuple[int, ...]] = []
        self.reasons: Counter[str] = Counter()
        self.unread = self.undrawn = 0
        self.difficulties: list[Difficulty] = []
        self.alternatives = TakenTally()

    def look(self, seed: int, idle: bool, drawn: bool, style: int) -> None:
        """Look at the variant of one seed, and draw it if ``drawn``."""
        try:
            variant = self.family.sample(seed)
        except BankError as error:
            self._note(error.faults, f"{self.family.name}-{seed}")
            return
        looked = looked_at(variant, idle)
        self._note(looked.faults, str(variant.identity))
        if looked.problem is None:
            return
        self.solids += 1
        self.facets += len(looked.problem.solid.triangles)
        self.alternatives.count(looked.problem)
        self._figures(looked)
        self.unread += bool(looked.refused)
        reasons = looked.refused
        if drawn and not reasons:
            self.sheets += 1
            reasons = self._drawn(looked, style)
            self.undrawn += bool(reasons)
        self.reasons.update({reason.what for reason in reasons})

    def _drawn(self, looked: Looked, style: int) -> tuple[Reason, ...]:
        """Why the sheets of a variant cannot be drawn. A title or topic too long for a title block is a fault, not a refusal."""
        assert looked.problem is not None
        try:
            return page_refusal(looked.problem, style)
        except TemplateError as error:
            found = "; ".join(f"{Path(fault.file).stem}: {fault.found}" for fault in error.faults)
            self._note([Fault(self.family.file, 0, "", f"what a title block cannot hold: {found}", "a shorter title or topic")],
                       str(looked.problem.identity))
            return ()

    def _figures(self, looked: Looked) -> None:
        for what, least in looked.least:
            if what not in self.least or least.value < self.least[what].value:
                self.least[what] = least
        self.added.append(looked.adds)
        self.difficulties += [looked.difficulty] if looked.difficulty else []

    def _note(self, faults: Sequence[Fault], code: str) -> None:
        for fault in faults:
            self.found.setdefault(replace(fault, sizes=""), []).append(code)

    @property
    def faulty(self) -> bool:
        """Whether something was found that must be put right."""
        return bool(self.found) or bool(self.unread)

    @property
    def refused(self) -> float:
        """The share of variants refused: by their pictorial, and of the others by their sheets."""
        return self.unread / max(1, self.solids) + self.undrawn / max(1, self.sheets)

    def views(self) -> dict[str, float]:
        """For each view, the median number of lines that only it shows."""
        return {name: float(median(column)) for name, column in zip(VIEWS, zip(*self.added, strict=True), strict=False)}

    def faults(self) -> list[Fault]:
        """Every fault of the variants, told once, with the number of variants that have it."""
        file, found = self.family.file, []
        for fault, codes in sorted(self.found.items()):
            variants = f"{_some(len(codes))}, such as {codes[0]}"
            found.append(replace(fault, sizes=variants) if fault.plain else replace(fault, found=f"{fault.found} ({variants})"))
        for what, least in self.least.items():
            if least.value < LIMITS[what] - 2 * CHORD_ERROR:
                name = {"wall": "a wall", "face": "a face", "lines": "parallel lines"}[what]
                how = f"{name} {least.value:g} mm thick" if what == "wall" else f"{name} {least.value:g} mm " + (
                    "wide" if what == "face" else "apart on paper")
                found.append(Fault(file, 0, "rules", f"{how}: {least.words} ({least.code})",
                                   f"at least {LIMITS[what]:g} mm; a rule that keeps it"))
        found += self._refusals("pictorials that cannot be read", self.unread, self.solids)
        found += self._refusals("sheets that cannot be drawn", self.undrawn, self.sheets)
        return found

    def _refusals(self, what: str, count: int, of: int) -> Iterator[Fault]:
        if count > max(1, MOST_REFUSED * of):
            worst = "; ".join(f"{reason} ({times})" for reason, times in self.reasons.most_common(2))
            yield Fault(self.family.file, 0, "", f"{count} of {of} {what}: {worst}",
                        f"at most {100 * MOST_REFUSED:.0f} %; rules that keep these sizes away")


def _some(count: int) -> str:
    return f"{count} variant{'s' if count > 1 else ''}"


def _view_faults(family: Family, tally: _Tally) -> list[Fault]:
    """Views that add nothing: a student who left them out would have drawn the whole part."""
    return [Fault(family.file, 0, "features", f"a {'side' if name == 'left' else name} view that shows nothing of its own",
                  "something that only this view shows: a feature that runs across it, or stops short")
            for name, count in tally.views().items() if not count]


def vet_all(
    families: Sequence[Family | BankError], seeds: int = SEEDS, sheets: int = SHEETS, executor: Executor | None = None
) -> Iterator[Report]:
    """Vet families in their order, and find out which kinds they serve, by the workers of ``executor`` if there is one; a file
    that cannot be read is all faults."""
    return results(_report, (seeds, sheets), families, executor, ahead=len(families))


def _report(counts: tuple[int, int], family: Family | BankError) -> Report:
    if isinstance(family, BankError):
        file = family.faults[0].file
        return Report(Path(file).stem, file, faults=family.faults)
    report = vet(family, *counts)
    return replace(report, served=look_at((Style(), tuple(kinds())), family)) if report.clean else report
