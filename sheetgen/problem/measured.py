"""What the measures of a family lack, or tell twice, as the teacher can put it right: by the proof, with lines of the file."""

from __future__ import annotations

from collections.abc import Iterator

from sheetgen.bank import Family
from sheetgen.faults import Fault
from sheetgen.measures import Proof


def measure_faults(family: Family, proof: Proof) -> Iterator[Fault]:
    """Sides that nothing fixes, measures that say the same thing, and sizes that are not round."""
    lines = {spec.name: (spec.line, f"features[{spec.number}] {spec.name}") for spec in family.features}
    for loose in proof.loose:
        line, where = lines.get(loose.name.partition(".")[0], (family.measures[0].spec.line, "measures"))
        yield Fault(family.file, line, where, f"nothing fixes {loose.told}", loose.advice, plain=True)
    for same in proof.same:
        places = sorted({measure.spec.line for measure in same.measures})
        if len(places) > 1:
            found = f"lines {', '.join(map(str, places))} say the same thing"
        else:
            found = f"line {places[0]} says what the drawing shows without it"
        wanted = "take it away" if len(places) == 1 else f"take {'one' if same.over == 1 else f'{same.over} of them'} away"
        yield Fault(family.file, places[0], "measures", found, wanted, plain=True)
    if not proof.loose and not proof.holds and not proof.same:
        yield Fault(family.file, family.measures[0].spec.line, "measures",
                    f"sizes that give a shape {proof.error:.3g} mm off when rounded to two decimals", "round sizes")
