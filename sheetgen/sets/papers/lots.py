"""Lots measured and drawn: what a worker does. Families and seeds in; records and sheets out, the same on every machine.

To measure a variant takes some hundredths of a second, to draw it some tenths. So variants are measured first, and drawn only if
a candidate would get them; whether they can be printed is known when they are drawn, and hangs on nothing else.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from hashlib import sha256

from sheetgen.bank import BankError, Family, Form
from sheetgen.bank.mirror import other_words
from sheetgen.exercises import ASKED, Particulars, Role, kinds
from sheetgen.exercises.marking import Marking
from sheetgen.exercises.marking.pages import MarkingError
from sheetgen.faults import Fault, Place
from sheetgen.problem import problem_of
from sheetgen.problem.difficulty import difficulty
from sheetgen.refusals import RefusedError
from sheetgen.sets.papers.records import LINES, Item, Lot
from sheetgen.sets.run import digest_of
from sheetgen.sets.shelf import Made
from sheetgen.sheet import Settings
from sheetgen.sheet.layout import views_asked


@dataclass(frozen=True, eq=False)
class Slot:
    """One form of one item, with the look of its sheets: all that a worker must know of it beside a seed. ``number``: which of
    the item's, from 0; ``family``: in this ``form``; ``shown``: the family as its sheets call it; ``items``: of the paper;
    ``own``: the settings of its sheets; ``settings``: the same with a title block that lacks what is a candidate's own;
    ``roles``: of the sheets that are drawn; ``marking``: what the item is worth, and by which scheme, None if nobody asks."""

    item: Item
    number: int
    form: Form
    family: Family
    shown: Family
    items: int
    own: Settings
    settings: Settings
    roles: tuple[Role, ...] = ASKED
    marking: Marking | None = None


@dataclass(frozen=True, slots=True)
class Variant:
    """A variant to be measured or drawn: of which slot, its place in the sequence, the seed that the key gives there, and of
    which ``spare`` the sequence is (0: of none)."""

    slot: int
    index: int
    seed: int
    spare: int = 0


def measured(slots: Sequence[Slot], variant: Variant) -> Lot | None:
    """A lot of a variant; None if it makes no problem."""
    slot = slots[variant.slot]
    try:
        sampled = slot.family.sample(variant.seed)
        problem = problem_of(sampled)
        problem.check()
    except (BankError, RefusedError):
        return None
    views = [problem.view(name) for name in views_asked(slot.settings.side)]
    lines = tuple(sum(len(getattr(view, f"{kind}_lines")) for view in views) for kind in LINES)
    mirrored = slot.form.mirrored                      # of both hands what is alike is called alike
    printed = tuple((other_words(measure.words) if mirrored else measure.words, measure.text) for measure in problem.measures)
    block = sha256(f"{slot.family.name}\n{digest_of(sampled.features)}".encode()).digest()[:16]
    index = difficulty(problem).index + kinds()[slot.item.kind].adds(slot.settings)
    return Lot(variant.index, slot.family.name, round(index, 4), lines, printed, block,
               ", ".join(slot.form.differs))


def drawn(slots: Sequence[Slot], variant: Variant) -> Made | None:
    """The sheets of a lot, without what its candidate has of their own, and for how many blemishes a strict reader would send
    them back; None if they cannot be drawn right.

    Raises: TemplateError for a title block that cannot hold what it should; MarkingError for a marking sheet that has no room.
    """
    slot = slots[variant.slot]
    problem = problem_of(slot.shown.sample(variant.seed))
    said = Particulars(sheet=slot.item.number, sheets=slot.items, marking=slot.marking)
    kind = kinds()[slot.item.kind]
    try:
        problem.check()
        shared = kind.shared(problem, slot.settings)
        sheets = kind.drawn(shared, problem, slot.settings, said, slot.roles)
    except RefusedError:
        return None
    except MarkingError as error:
        raise _of_item(slot.item, error) from None
    marked = sum(1 for drawing in kind.read(shared) for _ in drawing.serious())
    return Made("", problem.title, (), sheets, 0, marked)


def _of_item(item: Item, error: MarkingError) -> MarkingError:
    """The same, told of the item and not of the variant."""
    place = item.place or Place("the paper", 0, f"items[{item.number}]")
    return MarkingError([Fault(*place, f"item {item.number}: {fault.found}", fault.wanted) for fault in error.faults])


def masked(family: Family, title: str, topic: str) -> Family:
    """The family as a paper shows it: under the paper's title, and with its item's words where a topic would stand."""
    return replace(family, title=title, topics=(topic,))


def shape_digest(family: Family) -> str:
    """A digest of what decides a family's variants, and not of what it is called."""
    return digest_of(replace(family, title="", topics=(), about="", rung=0))
