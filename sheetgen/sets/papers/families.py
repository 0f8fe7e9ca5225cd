"""Which families the items of a paper are of, and in which forms: those that are named, or those that the key takes of the ones
wished for."""

from __future__ import annotations

from collections.abc import Container, Iterable, Iterator, Mapping, Sequence

from sheetgen.bank import BankError, Family, Form, forms_of
from sheetgen.faults import Fault, Place
from sheetgen.measures import MeasureError
from sheetgen.measures.symmetry import check_symmetry
from sheetgen.problem import problem_of
from sheetgen.refusals import RefusedError
from sheetgen.sets.papers.decided import family_turn
from sheetgen.sets.papers.equal import Middle, words_of
from sheetgen.sets.papers.forms import MOST_FORMS, SAMPLED, Wanted, chosen, family_middle
from sheetgen.sets.papers.lots import Slot, Variant, measured
from sheetgen.sets.papers.plan import PaperError
from sheetgen.sets.papers.records import Item, PaperPlan
from sheetgen.sets.papers.secret import Key
from sheetgen.sheet import Settings

IMAGES = 5
"""Variants of which it is seen whether a family is its own mirror image."""


def families_of(
    plan: PaperPlan, families: Mapping[str, Family], key: Key, paper: str, settings: Settings
) -> list[tuple[Form, ...]]:
    """The families of every item of a paper, each in a form. Of those that are wished for the key takes one that no item before
    has, if there is one; for several forms, those that are most alike: of the families that are wished for, or of the options
    and hands of the one that is named.

    Raises: PaperError for forms that lie further apart than the bounds, or of which there are fewer.
    """
    found: dict[int, tuple[Form, ...]] = {}
    for item in plan.items:
        if item.forms == 1:
            order = _order(item, key, paper)
            found[item.number] = (Form(next((name for name in order if name not in _taken(found)), order[0])),)
    several = [item for item in plan.items if item.forms > 1]
    if several:
        taken = _taken(found) | {item.families[0] for item in several if _named(item)}
        there = [_forms_there(item, families, key, paper, taken) for item in several]
        middles = {form: middle for form in dict.fromkeys(form for forms in there for form in forms)
                   if (middle := _middle_of(form.of(families[form.family]), plan.items[0], settings))}
        found |= zip([item.number for item in several], _nearest(several, there, middles, plan), strict=True)
    return [found[item.number] for item in plan.items]


def _taken(found: Mapping[int, Sequence[Form]]) -> set[str]:
    return {form.family for forms in found.values() for form in forms}


def _order(item: Item, key: Key, paper: str) -> Sequence[str]:
    return _in_order(item.families, item, key, paper)


def _in_order(names: Iterable[str], item: Item, key: Key, paper: str) -> Sequence[str]:
    return sorted(names, key=lambda name: family_turn(key, paper, item.number, name))


def _named(item: Item) -> bool:
    """Whether an item names its family; else it wishes for one of several."""
    return len(item.families) == 1


def _forms_there(
    item: Item, families: Mapping[str, Family], key: Key, paper: str, taken: Container[str]
) -> Sequence[Form]:
    """The forms that an item with several may have, in the key's order: of a family that is named its options and hands; of a
    wish families, none that is ``taken``, if there are enough others."""
    if _named(item):
        forms = {str(form): form for form in _different(families[item.families[0]])}
        return [forms[name] for name in _in_order(forms, item, key, paper)][:MOST_FORMS]
    order = _order(item, key, paper)
    free = [name for name in order if name not in taken]
    return [Form(name) for name in (free if len(free) >= item.forms else order)[:MOST_FORMS]]


def _different(family: Family) -> Iterator[Form]:
    """The forms of a family, without mirror images of parts that are their own."""
    for form in forms_of(family):
        if not (form.mirrored and _own_image(form.of(family))):
            yield form


def _own_image(family: Family) -> bool:
    """Whether a family's first variants, which may be so without its file's saying it, look the same in a mirror."""
    try:
        for number in range(IMAGES):
            check_symmetry(problem_of(family.sample(number)).solid, 0)
    except (MeasureError, BankError, RefusedError):
        return False
    return True


def _nearest(
    items: Sequence[Item], there: Sequence[Sequence[Form]], middles: Mapping[Form, Middle], plan: PaperPlan
) -> list[tuple[Form, ...]]:
    """Of the forms that there are for each item those that lie nearest each other."""
    for item, forms in zip(items, there, strict=True):
        if _named(item) and (count := sum(form in middles for form in forms)) < item.forms:
            told = f"{item.forms} forms of {item.families[0]}, which has {count}: its options, in both hands"
            raise PaperError([_fault(item, plan, told, f"`forms: {count}`, or a topic or a rung, of which many families are")])
    names = {str(form): form for form in middles}
    wanted = [Wanted(tuple(str(form) for form in forms if form in middles), item.forms)
              for item, forms in zip(items, there, strict=True)]
    try:
        found = chosen(wanted, {name: middles[form] for name, form in names.items()}, plan.bounds)
    except ValueError as error:
        told = f"forms of too few families: {error}"
        raise PaperError([_fault(items[0], plan, told, "a wider wish, or fewer forms")]) from None
    faults = [
        _fault(item, plan, f"item {item.number}, forms of {'; '.join(one.families)}: {words_of(quantity)} lie {apart:.3g} "
               "further apart than the bounds let them",
               f"bounds wider by {apart / 2:.3g}" + (", or fewer forms" if _named(item) else ", fewer forms, or a wider wish"))
        for item, one in zip(items, found, strict=True) for quantity, apart in one.beyond.items()]
    if faults:
        raise PaperError(faults)
    return [tuple(names[name] for name in one.families) for one in found]


def _middle_of(family: Family, item: Item, settings: Settings) -> Middle | None:
    """What most variants of a family are like, whatever the key; None if it gives no problem."""
    slot = Slot(item, 0, Form(family.name), family, family, 1, settings, settings)
    lots = [measured((slot,), Variant(0, number, number)) for number in range(SAMPLED)]
    found = [lot for lot in lots if lot]
    return family_middle(found) if found else None


def _fault(item: Item, plan: PaperPlan, found: str, wanted: str) -> Fault:
    return Fault(*(item.place or Place(plan.file or "the paper", 0, f"items[{item.number}]")), found, wanted)
