"""The tree of topics: which topic covers which others. It lies with the templates, because every file of the bank is a family."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path

from sheetgen.faults import FaultError, few, shown
from sheetgen.shared import shipped
from sheetgen.yamlines import Limits, Path_, YamlDocument, read, read_text

LONGEST = 40
"""Letters of a topic."""

FIELDS = "topics: a list of topics, and formerly: old words and what they are now"
WANTED = "a topic, or a topic and the list of those that it covers"


class TopicError(FaultError):
    """A tree of topics that cannot be used; it tells every fault of the file."""


LIMITS = Limits(TopicError, kilobytes=64, deepest=10, most_nodes=2000, words_only=True)


def plain_topic(topic: str) -> str:
    """A topic as topics are compared: without regard to capitals and blanks.

    >>> plain_topic(" Inclined  faces")
    'inclined faces'
    """
    return " ".join(topic.split()).casefold()


def topic_key(topic: str) -> str:
    """The same for topics that are the same; on a command line one hyphen is easier written than quotes round two words.

    >>> topic_key("blind-holes") == topic_key("Blind holes"), topic_key("V-grooves") == topic_key("v grooves")
    (True, True)
    """
    return plain_topic(topic.replace("-", " "))


@dataclass(frozen=True, slots=True)
class TopicTree:
    """``above``: for each topic of the tree the one that covers it straight, "" at the top; ``former``: by the keys of old words,
    what these topics are called now."""

    above: Mapping[str, str]
    former: Mapping[str, str] = field(default_factory=dict)

    def __contains__(self, topic: str) -> bool:
        return self.now(topic) in self.above

    def now(self, topic: str) -> str:
        """The topic, plain, by the word that it has now.

        >>> TopicTree({"rounded corners": ""}, {"round corners": "rounded corners"}).now("Round-corners")
        'rounded corners'
        """
        return self.former.get(topic_key(topic), plain_topic(topic))

    def key(self, topic: str) -> str:
        """The same for topics that are the same, by old words or new."""
        return topic_key(self.now(topic))

    def over(self, topic: str) -> Iterator[str]:
        """The topic itself, then what covers it, the nearest first.

        >>> list(TopicTree({"holes": "", "blind holes": "holes"}).over("Blind holes"))
        ['blind holes', 'holes']
        """
        step = self.now(topic)
        while step:
            yield step
            step = self.above.get(step, "")

    def covers(self, wanted: Collection[str], topics: Collection[str]) -> bool:
        """Whether any of ``topics`` is one of the ``wanted`` ones, or is covered by one."""
        asked = set(map(self.key, wanted))
        return any(self.key(step) in asked for topic in topics for step in self.over(topic))

    def wanted_for(self, topic: str) -> str:
        """What would be right in place of a topic that the tree has not."""
        return few(plain_topic(topic), self.above, "the topics stand in templates/topics.yaml")


@cache
def topic_tree() -> TopicTree:
    """The tree that comes with sheetgen. Raises: TopicError."""
    return load_topics(shipped("templates") / "topics.yaml", "templates/topics.yaml")


def load_topics(path: Path, file: str) -> TopicTree:
    """Read a tree of topics. Raises: TopicError with every fault: what is no topic, and what stands in two places."""
    document = read(read_text(path, file, LIMITS), file, LIMITS)
    above: dict[str, str] = {}
    data: object = document.data
    fields = data if isinstance(data, dict) else {"topics": data}
    if not fields.keys() <= {"topics", "formerly"}:
        document.fault(document.line(()), "", shown(data), FIELDS)
    _grow(document, fields.get("topics"), ("topics",) if fields is data else (), "", above)
    former = _former(document, fields.get("formerly", {}), above)
    if document.faults:
        raise TopicError(sorted(document.faults, key=lambda fault: fault.line))
    return TopicTree(above, former)


def _former(document: YamlDocument, said: object, above: Mapping[str, str]) -> dict[str, str]:
    """By the keys of old words, the topics that they are now."""
    if not isinstance(said, dict):
        document.fault(document.line(("formerly",)), "formerly", shown(said), "old words and what they are now, `old: new`")
        return {}
    for old, new in said.items():
        if not isinstance(new, str) or plain_topic(new) not in above or plain_topic(old) in above:
            document.fault(document.line(("formerly", old)), f"formerly.{old}", shown(new),
                           "an old word that is no topic now, and a topic")
    return {topic_key(old): plain_topic(new) for old, new in said.items() if isinstance(new, str)}


def _grow(document: YamlDocument, items: object, path: Path_, over: str, above: dict[str, str]) -> None:
    """Put the topics of a list into the tree, under the topic ``over``."""
    if not isinstance(items, list) or not items:
        document.fault(document.line(path), over, shown(items), "a list of topics")
        return
    for number, item in enumerate(items):
        at = (*path, number)
        name, below = next(iter(item.items())) if isinstance(item, dict) and len(item) == 1 else (item, None)
        if not isinstance(name, str) or not 0 < len(name) <= LONGEST:
            document.fault(document.line(at), over, shown(item), WANTED)
            continue
        topic = plain_topic(name)
        if topic in above:
            document.fault(document.line(at), topic, "a topic that stands in two places", "one place for each")
            continue
        above[topic] = over
        if below is not None:
            _grow(document, below, (*at, name), topic, above)
