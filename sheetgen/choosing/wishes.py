"""Choosing families by topic and by rung: a wish in, problems out, the same for everybody who has the same bank."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from hashlib import sha256
from typing import Protocol

from sheetgen.choosing.topics import topic_tree
from sheetgen.faults import Fault, FaultError, Place, few, shown

RUNGS = (1, 2, 3, 4, 5)
"""How hard a family can be, the easiest first."""


TOPICS_LISTED = "`sheetgen bank list` shows the topics of all families"
"""Where a message sends who looks for a topic."""


class ChoiceError(FaultError):
    """A topic or a rung that no family has."""


class Rated(Protocol):
    """What is to be known of a family to choose it: a family, or its outline."""

    @property
    def name(self) -> str:
        """What it is called."""

    @property
    def topics(self) -> tuple[str, ...]:
        """What it teaches."""

    @property
    def rung(self) -> int:
        """How hard it is."""


@dataclass(frozen=True, slots=True)
class Entry:
    """One problem of a plan; ``place``: the line that asks for it, and ``kind``: that of exercise which this line names ("": the
    plan's), neither of which makes it another problem."""

    family: str
    seed: int
    place: Place | None = field(default=None, compare=False)
    kind: str = field(default="", compare=False)


@dataclass(frozen=True, slots=True)
class Wish:
    """Some problems of whatever families fit: any of ``topics`` and any of ``rungs`` (empty: all), or of one ``family``;
    ``among``: the names of those that may be taken, None: all."""

    topics: tuple[str, ...] = ()
    rungs: tuple[int, ...] = ()
    count: int = 1
    first_seed: int = 1
    family: str = ""
    among: frozenset[str] | None = None

    @property
    def words(self) -> str:
        """As a message says it.

        >>> Wish(("holes",), (1, 2)).words
        'topic holes, rung 1 or 2'
        """
        said = [f"family {self.family}"] if self.family else []
        said += [f"topic {' or '.join(self.topics)}"] if self.topics else []
        return ", ".join([*said, f"rung {' or '.join(map(str, self.rungs))}"] if self.rungs else said)

    def fits(self, family: Rated) -> bool:
        """Whether a family is one of those wished for."""
        if self.among is not None and family.name not in self.among:
            return False
        return family.name == self.family if self.family else fits(family, self.topics, self.rungs)


def topics_of(families: Iterable[Rated]) -> list[str]:
    """All topics of some families and those that cover them, each once, in alphabetical order."""
    return sorted({step for family in families for topic in family.topics for step in topic_tree().over(topic)})


def fits(family: Rated, topics: Collection[str], rungs: Collection[int]) -> bool:
    """True if the family has any of the topics, or one that they cover, and stands on any of the rungs; none given means all will
    do."""
    return (not topics or topic_tree().covers(topics, family.topics)) and (not rungs or family.rung in rungs)


def unknown_topics(topics: Iterable[str], known: Iterable[str]) -> list[str]:
    """Those of some topics that are none of the ``known`` ones."""
    key = topic_tree().key
    keys = set(map(key, known))
    return [topic for topic in topics if key(topic) not in keys]


def narrowed(families: Iterable[Rated], topics: Sequence[str], rungs: Sequence[int]) -> list[str]:
    """The names of the families that fit. Raises: ChoiceError for a topic that none has, or if none fits."""
    families = list(families)
    known = topics_of(families)
    faults = [Fault("the bank", 0, "topic", shown(topic), few(topic, known, TOPICS_LISTED))
              for topic in unknown_topics(topics, known)]
    found = [family.name for family in families if fits(family, topics, rungs)]
    if families and not faults and not found:
        what = Wish(tuple(topics), tuple(rungs)).words
        faults = [Fault("the bank", 0, "", f"no family with {what}", "a topic and a rung that go together")]
    if faults:
        raise ChoiceError(faults)
    return found


def ring(families: Iterable[Rated], term: str = "") -> tuple[str, ...]:
    """The order in which families take turns, by name; then they begin anew.

    The families of each rung stand evenly spread over the whole ring, so that any stretch of it has its share of easy and of hard
    ones. Which comes first within a rung is drawn by lot from its name and the ``term``: by the alphabet, families that are
    named alike, and are alike, would come together.
    """
    by_rung: dict[int, list[str]] = {}
    for family in sorted(families, key=lambda family: (_lot(term, family.name), family.name)):
        by_rung.setdefault(family.rung, []).append(family.name)
    places = [((number + 0.5) / len(names), rung, name) for rung, names in by_rung.items() for number, name in enumerate(names)]
    return tuple(name for _, _, name in sorted(places))


def chosen(wish: Wish, families: Mapping[str, Rated], taken: Collection[Entry] = ()) -> tuple[Entry, ...]:
    """The problems that a wish comes to, the easiest first, none of them ``taken`` already; none if no family fits.

    The families that fit take turns in their ring, each with the next seed. A sheet that asks for ``first_seed`` begins where one
    of so many problems less one has ended, so that a plan that goes on with its next seed goes on in the ring. Families that
    other lines of the sheet have taken already wait until the others have had their turn.
    """
    names = ring(family for family in families.values() if wish.fits(family))
    start = (wish.first_seed - 1) % len(names) if names else 0
    turns = names[start:] + names[:start]
    times = Counter(entry.family for entry in taken)
    found: list[Entry] = []
    seed = wish.first_seed
    while turns and len(found) < wish.count:
        entry = Entry(min(turns, key=lambda name: times[name]), seed)        # of those with the fewest, the first
        if entry not in taken:
            times[entry.family] += 1
            found.append(entry)
        seed += 1
    return easiest_first(found, families)


def easiest_first(entries: Iterable[Entry], families: Mapping[str, Rated]) -> tuple[Entry, ...]:
    """Problems so that rungs rise; those of one rung keep their order."""
    return tuple(sorted(entries, key=lambda entry: families[entry.family].rung))


def _lot(term: str, family: str) -> bytes:
    return sha256(f"{term}/{family}".encode()).digest()
