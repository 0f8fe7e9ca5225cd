"""Choosing families: the tree of topics, and wishes for topics and rungs. It knows families from outside, and draws nothing."""

from sheetgen.choosing.topics import TopicError, TopicTree, load_topics, plain_topic, topic_key, topic_tree
from sheetgen.choosing.wishes import (
    RUNGS,
    TOPICS_LISTED,
    ChoiceError,
    Entry,
    Rated,
    Wish,
    chosen,
    easiest_first,
    fits,
    narrowed,
    ring,
    topics_of,
    unknown_topics,
)

__all__ = [
    "RUNGS", "TOPICS_LISTED", "ChoiceError", "Entry", "Rated", "TopicError", "TopicTree", "Wish", "chosen", "easiest_first",
    "fits", "load_topics", "narrowed", "plain_topic", "ring", "topic_key", "topic_tree", "topics_of", "unknown_topics",
]
