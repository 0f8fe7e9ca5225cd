"""Which families the items of a paper are of: those that are named, or those that the key takes of the ones wished for."""

from __future__ import annotations

from collections.abc import Container, Mapping, Sequence

from sheetgen.bank import Family
from sheetgen.faults import Fault, Place
from sheetgen.sets.papers.decided import family_turn
from sheetgen.sets.papers.equal import Middle, words_of
from sheetgen.sets.papers.forms import MOST_FAMILIES, SAMPLED, Wanted, chosen, family_middle
from sheetgen.sets.papers.lots import Slot, Variant, measured
from sheetgen.sets.papers.plan import PaperError
from sheetgen.sets.papers.records import Item, PaperPlan
from sheetgen.sets.papers.secret import Key
from sheetgen.sheet import Settings


def families_of(
    plan: PaperPlan, families: Mapping[str, Family], key: Key, paper: str, settings: Settings
) -> list[tuple[str, ...]]:
    """The families of every item of a paper, by the names that they have in ``families``. Of those that are wished for the key
    takes one that no item before has, if there is one; for several forms, those that are most alike.

    Raises: PaperError for forms that lie further apart than the bounds.
    """
    found: dict[int, tuple[str, ...]] = {}
    for item in plan.items:
        if item.forms == 1:
            taken = {name for names in found.values() for name in names}
            order = _order(item, key, paper)
            found[item.number] = (next((name for name in order if name not in taken), order[0]),)
    several = [item for item in plan.items if item.forms > 1]
    if several:
        taken = {name for names in found.values() for name in names}
        wanted = [_wanted(item, _order(item, key, paper), taken) for item in several]
        middles = {name: middle for name in dict.fromkeys(name for one in wanted for name in one.families)
                   if (middle := _middle_of(families[name], plan.items[0], settings))}
        found |= zip([item.number for item in several], _forms(several, wanted, middles, plan), strict=True)
    return [found[item.number] for item in plan.items]


def _order(item: Item, key: Key, paper: str) -> Sequence[str]:
    return sorted(item.families, key=lambda name: family_turn(key, paper, item.number, name))


def _wanted(item: Item, order: Sequence[str], taken: Container[str]) -> Wanted:
    """The families that an item with several forms may have: none that is ``taken``, if there are enough others."""
    free = [name for name in order if name not in taken]
    return Wanted(tuple(free if len(free) >= item.forms else order)[:MOST_FAMILIES], item.forms)


def _forms(
    items: Sequence[Item], wanted: Sequence[Wanted], middles: Mapping[str, Middle], plan: PaperPlan
) -> list[tuple[str, ...]]:
    whole = [Wanted(tuple(name for name in one.families if name in middles), one.forms) for one in wanted]
    try:
        found = chosen(whole, middles, plan.bounds)
    except ValueError as error:
        told = f"forms of too few families: {error}"
        raise PaperError([_fault(items[0], plan, told, "a wider wish, or fewer forms")]) from None
    faults = [
        _fault(item, plan, f"item {item.number}, forms of {', '.join(one.families)}: {words_of(quantity)} lie {apart:.3g} "
               "further apart than the bounds let them", f"bounds wider by {apart / 2:.3g}, fewer forms, or a wider wish")
        for item, one in zip(items, found, strict=True) for quantity, apart in one.beyond.items()]
    if faults:
        raise PaperError(faults)
    return [one.families for one in found]


def _middle_of(family: Family, item: Item, settings: Settings) -> Middle | None:
    """What most variants of a family are like, whatever the key; None if it gives no problem."""
    slot = Slot(item, 0, family, family, 1, settings, settings)
    lots = [measured((slot,), Variant(0, number, number)) for number in range(SAMPLED)]
    found = [lot for lot in lots if lot]
    return family_middle(found) if found else None


def _fault(item: Item, plan: PaperPlan, found: str, wanted: str) -> Fault:
    return Fault(*(item.place or Place(plan.file or "the paper", 0, f"items[{item.number}]")), found, wanted)
