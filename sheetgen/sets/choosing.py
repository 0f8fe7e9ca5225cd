"""Choosing families by topic and by rung: a wish in, problems out, the same for everybody who has the same bank."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from sheetgen.bank import Family
from sheetgen.faults import Fault, FaultError, Place, choice, shown

RUNGS = (1, 2, 3, 4, 5)
"""How hard a family can be, the easiest first."""


class ChoiceError(FaultError):
    """A topic or a rung that no family has."""


@dataclass(frozen=True, slots=True)
class Entry:
    """One problem of a plan; ``place``: the line that asks for it, which makes it no other problem."""

    family: str
    seed: int
    place: Place | None = field(default=None, compare=False)


@dataclass(frozen=True, slots=True)
class Wish:
    """Some problems of whatever families fit: any of ``topics`` and any of ``rungs`` (empty: all)."""

    topics: tuple[str, ...] = ()
    rungs: tuple[int, ...] = ()
    count: int = 1
    first_seed: int = 1

    @property
    def words(self) -> str:
        """As a message says it.

        >>> Wish(("holes",), (1, 2)).words
        'topic holes, rung 1 or 2'
        """
        said = [f"topic {' or '.join(self.topics)}"] if self.topics else []
        return ", ".join([*said, f"rung {' or '.join(map(str, self.rungs))}"] if self.rungs else said)


def plain_topic(topic: str) -> str:
    """A topic as topics are compared: without regard to capitals and blanks.

    >>> plain_topic(" Inclined  faces")
    'inclined faces'
    """
    return " ".join(topic.split()).casefold()


def topics_of(families: Iterable[Family]) -> list[str]:
    """All topics of some families, each once, in alphabetical order."""
    return sorted({plain_topic(topic) for family in families for topic in family.topics})


def fits(family: Family, topics: Collection[str], rungs: Collection[int]) -> bool:
    """True if the family has any of the topics and stands on any of the rungs; none given means all will do."""
    wanted = {plain_topic(topic) for topic in topics}
    return (not wanted or not wanted.isdisjoint(map(plain_topic, family.topics))) and (not rungs or family.rung in rungs)


def narrowed(families: Sequence[Family], topics: Sequence[str], rungs: Sequence[int]) -> list[Family]:
    """The families that fit. Raises: ChoiceError for a topic that none has, or if none fits."""
    known = topics_of(families)
    unknown = [topic for topic in topics if plain_topic(topic) not in known]
    faults = [Fault("the bank", 0, "topic", shown(topic), choice(topic, known)) for topic in unknown]
    found = [family for family in families if fits(family, topics, rungs)]
    if families and not faults and not found:
        what = Wish(tuple(topics), tuple(rungs)).words
        faults = [Fault("the bank", 0, "", f"no family with {what}", "a topic and a rung that go together")]
    if faults:
        raise ChoiceError(faults)
    return found


def chosen(wish: Wish, families: Mapping[str, Family], taken: Collection[Entry] = ()) -> tuple[Entry, ...]:
    """The problems that a wish comes to, the easiest first, none of them ``taken`` already; none if no family fits.

    The families that fit stand in a ring, in the order of their names, and the seed k belongs to the k-th. So seeds one after
    another go through all families before one comes again, and a plan that goes on with the next ``first_seed`` goes on in
    the ring.
    """
    ring = [name for name in sorted(families) if fits(families[name], wish.topics, wish.rungs)]
    found: list[Entry] = []
    seed = wish.first_seed
    while ring and len(found) < wish.count:
        entry = Entry(ring[seed % len(ring)], seed)
        if entry not in taken:
            found.append(entry)
        seed += 1
    return tuple(sorted(found, key=lambda entry: families[entry.family].rung))
