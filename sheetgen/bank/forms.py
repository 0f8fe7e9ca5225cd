"""Forms of one family: its options chosen (words that a size can be), as it is drawn or in the other hand."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from itertools import product

from sheetgen.bank.family import Family, Variant
from sheetgen.bank.formulas import Value
from sheetgen.bank.mirror import mirrored, mirrored_measure, mirrored_section


@dataclass(frozen=True, slots=True, order=True)
class Form:
    """A form of the family called ``family``: ``options`` by size, in the order of the file, none if they are not chosen;
    ``mirrored``: in the other hand, left and right changed.

    >>> str(Form("hinge-lug", (("kind", "forked"),), True)), str(Form("hinge-lug"))
    ('hinge-lug, kind forked, mirrored', 'hinge-lug')
    """

    family: str
    options: tuple[tuple[str, str], ...] = ()
    mirrored: bool = False

    def __str__(self) -> str:
        return ", ".join([self.family, *self.differs])

    @property
    def differs(self) -> list[str]:
        """What tells it from other forms of its family, in words."""
        return [*(f"{size} {word}" for size, word in self.options), *(["mirrored"] if self.mirrored else [])]

    def of(self, family: Family) -> Family:
        """The family in this form."""
        words = dict(self.options)
        sizes = tuple(replace(spec, options=(words[spec.name],)) if spec.name in words else spec for spec in family.sizes)
        formed = replace(family, sizes=sizes)
        if not self.mirrored:
            return formed
        return OtherHand(**{name: getattr(formed, name) for name in Family.__dataclass_fields__})


@dataclass(frozen=True, slots=True)
class OtherHand(Family):
    """A family whose variants are the mirror images of those that its file gives."""

    def _filled(self, seed: int, draw: int, sizes: Mapping[str, float | str], env: Mapping[str, Value]) -> Variant:
        made = Family._filled(self, seed, draw, sizes, env)
        features = tuple(map(mirrored, made.features))
        measures = tuple(tuple(mirrored_measure(spec, made.features) for spec in specs) for specs in made.measures)
        sections = tuple(mirrored_section(spec, made.features) for spec in made.sections)
        return replace(made, features=features, measures=measures, sections=sections)


def forms_of(family: Family) -> list[Form]:
    """All forms of a family: each choice of its options, in both hands unless it is its own mirror image."""
    words = [[(spec.name, word) for word in spec.options if isinstance(word, str)]
             for spec in family.sizes if spec.kind != "number"]
    hands = (False,) if "x" in family.symmetry else (False, True)
    return [Form(family.name, options, hand) for options in product(*words) for hand in hands]
