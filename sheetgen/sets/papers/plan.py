"""A paper plan: an examination's items, rooms and candidates, from a YAML file that may come from a stranger. Text in, record
out."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from pathlib import Path

from sheetgen.bank import Bank
from sheetgen.choosing import Wish, fits
from sheetgen.exercises import USUAL, Role, kinds
from sheetgen.faults import Fault, FaultError, Place, shown, visible_text
from sheetgen.filebytes import bytes_of
from sheetgen.filekinds import check_kind, read_kind
from sheetgen.records import Reader
from sheetgen.sets.classes import ClassListError, Student, load_class_list
from sheetgen.sets.classes.csvtext import MOST_KILOBYTES
from sheetgen.sets.classes.students import ClassWishes
from sheetgen.sets.families import Asked, Beside, PlanFamilies
from sheetgen.sets.look import IN_BLOCK, list_said, style_said, template_said
from sheetgen.sets.papers.plan_file import ITEM_EXAMPLES, BoundsFile, ItemFile, PaperFile, RoomFile
from sheetgen.sets.papers.records import Bounds, Candidate, Item, PaperPlan, Room
from sheetgen.sets.papers.seats import Seating
from sheetgen.sets.plan_banks import with_banks
from sheetgen.templating import beside, load_instructions, marking_names, not_beside
from sheetgen.yamlines import Limits, Path_, YamlDocument, is_yaml, read_text


class PaperError(FaultError):
    """A paper that cannot be made as it is planned; it tells every fault."""


LIMITS = Limits(PaperError, kilobytes=160, deepest=8, most_nodes=8000, words_only=True)


def load_paper(path: Path, bank: Bank, told: Callable[[int], None] = lambda count: None) -> tuple[PaperPlan, Bank]:
    """Read a paper plan, and the bank with the families whose files lie beside it; ``told``: as of ``Beside``.

    Raises: PaperError with every fault of the file and of the list's seats; ClassListError for a list that cannot be read;
    BankError if it wishes for a topic or a rung and a family cannot be read.
    """
    file = visible_text(path.as_posix(), quote=False)
    return paper_of(read_kind(path, file, "paper plan", LIMITS), read_text(path, file, LIMITS), bank, path.parent, told)


def paper_of(
    document: YamlDocument, text: str, bank: Bank, folder: Path, told: Callable[[int], None] = lambda count: None
) -> tuple[PaperPlan, Bank]:
    """The paper that ``document``, read of ``text``, holds. Raises: as ``load_paper``."""
    check_kind(document, "paper plan", LIMITS)
    reader = Reader(document)
    said = reader.model(PaperFile, document.data, ())
    data = document.data if isinstance(document.data, dict) else {}
    style = style_said(document, said, folder)
    asked = Asked.of(USUAL, style, Beside(told=told))
    items = _ItemReader(reader, with_banks(reader, data, bank, folder), folder, asked)
    found, rooms = items.items(_entries(data.get("items"))), _rooms(reader, _entries(data.get("rooms")))
    bounds = reader.model(BoundsFile, data["bounds"], ("bounds",)) if data.get("bounds") is not None else BoundsFile()
    if said is not None and not said.title:
        reader.fault(("title",), "nothing", "the paper's title, which every sheet shows")
    people = _people(reader, said, folder) if said else None
    own = _instructions(reader, said.instructions, folder) if said else ()
    scheme = template_said(document, "scheme", said.scheme, folder, marking_names()) if said and said.scheme is not None else None
    _check_marking(reader, said, found)
    if said is None or style is None or bounds is None or people is None or document.faults:
        raise PaperError(sorted(document.faults, key=lambda fault: fault.line))
    document.remark_cut(lambda path: len(path) == 1 and path[0] in (*IN_BLOCK, "board"))
    students = load_class_list(people).students if people.path else [Student(0, n) for n in range(1, (said.candidates or 0) + 1)]
    candidates = _seated(document, rooms, students, people, said.names == "yes")
    places = {field: Place(document.file, document.line((field,)), field) for field in PaperFile.model_fields}
    listed = bytes_of(people.path, people.file, MOST_KILOBYTES, ClassListError) if people.path else b""
    return PaperPlan(
        said.title, style, found, rooms, candidates, Bounds(bounds.index, bounds.lines, bounds.dimensions),
        said.minutes or _together(found), said.names == "yes", said.board, said.date, own,
        document.file, text, listed, said.books, said.double_sided == "yes", places,
        (*document.remarks, *_alike(document, said)), said.cover == "yes", people.file, said.marking == "yes", scheme,
        said.overlay == "yes", said.marking_order == "items", said.series), items.bank


def _alike(document: YamlDocument, said: PaperFile) -> Iterator[Fault]:
    """A remark where nothing but the title tells a paper from the next one of its key, which would have the same variants."""
    if not said.date and not said.series:
        yield Fault(document.file, document.line(("title",)), "date", "neither a date nor a series",
                    "one of both: else another paper of this title and this key has the same variants")


def _check_marking(reader: Reader, said: PaperFile | None, items: Sequence[Item]) -> None:
    """See that each item's kind has what is asked for those who mark, and that nothing is said of what is not asked for."""
    if said is None:
        return
    asked = [role for role, word in ((Role.MARKING, said.marking), (Role.OVERLAY, said.overlay)) if word == "yes"]
    for role, words in ((Role.MARKING, "no marking sheet"), (Role.OVERLAY, "no overlays")):
        able = [name for name, kind in kinds().items() if role in kind.roles]
        for item in items:
            if role in asked and item.kind not in able:
                reader.fault(("items", item.number - 1, "kind"), f"the kind {item.kind}, which has {words}",
                             f"another kind ({', '.join(able)}), or `{role.value}: no`")
    if said.scheme is not None and Role.MARKING not in asked:
        reader.fault(("scheme",), "a scheme, and no marking sheets", "`marking: yes` too, or no scheme")
    if said.marking_order is not None and not asked:
        reader.fault(("marking_order",), "an order, and nothing for those who mark",
                     "`marking: yes` or `overlay: yes` too, or no order")


def _together(items: Sequence[Item]) -> int:
    """The minutes of all items together; 0 if one of them has none said."""
    return sum(item.minutes for item in items) if all(item.minutes for item in items) else 0


def _instructions(reader: Reader, said: tuple[str, ...], folder: Path) -> tuple[str, ...]:
    """The instructions of the plan, or those of a file beside it. Raises: TemplateError for a file at fault."""
    if len(said) != 1 or not is_yaml(said[0]):
        return said
    if file := beside(folder, said[0]):
        return load_instructions(file)
    wanted = "the name of a .yaml file beside the plan, or a list of texts"
    reader.fault(("instructions",), *not_beside(folder, said[0], wanted))
    return ()


def _people(reader: Reader, said: PaperFile, folder: Path) -> ClassWishes | None:
    """Where the candidates come from; None if that is not said once."""
    if (said.candidates is None) == (said.class_list is None):
        found = "both a number of candidates and a class list" if said.candidates else "no candidates"
        reader.fault(("candidates",), found, "either `candidates: 60` or `class_list: candidates.csv`")
        return None
    path = list_said(reader.document, said.class_list, folder)
    return ClassWishes(path, visible_text(str(said.class_list), quote=False) if path else "", said.encoding, said.columns)


def _seated(
    document: YamlDocument, rooms: Sequence[Room], students: Sequence[Student], people: ClassWishes, named: bool
) -> tuple[Candidate, ...]:
    """The candidates on their seats. Raises: PaperError."""
    place = Place(document.file, document.line(("rooms",)), "rooms")
    seating = Seating(rooms, people.file or document.file, place)
    candidates = seating.seated(students, named)
    if seating.faults:
        raise PaperError(seating.faults)
    return candidates


def _rooms(reader: Reader, entries: Sequence[object]) -> tuple[Room, ...]:
    rooms: dict[str, Room] = {}
    for number, entry in enumerate(entries):
        path: Path_ = ("rooms", number)
        said = reader.model(RoomFile, entry, path)
        if said is None:
            continue
        if said.name in rooms or (not said.name and len(entries) > 1):
            found = f"{shown(said.name)}, which another room is called too" if said.name else "no name"
            reader.fault((*path, "name"), found, "a name of its own for each room")
        gaps = set[tuple[int, int]]()
        for row, column in said.gaps:
            if (row or 1) > said.rows or (column or 1) > said.columns:
                reader.fault((*path, "gaps"), "a gap beyond the last row or column", f"at most {said.rows}-{said.columns}")
            gaps |= {(r, c) for r in ([row] if row else range(1, said.rows + 1))
                     for c in ([column] if column else range(1, said.columns + 1))}
        room = Room(said.name, said.rows, said.columns, frozenset(gaps))
        if room.count == 0:
            reader.fault((*path, "gaps"), "a room without seats", "fewer gaps")
        rooms[said.name] = room
    return tuple(rooms.values())


class _ItemReader:
    """Reads the items of a paper that lies in ``folder``; a family whose file lies beside it joins the ``bank``."""

    def __init__(self, reader: Reader, bank: Bank, folder: Path, asked: Asked) -> None:
        self.reader, self._families = reader, PlanFamilies(reader, bank, folder, asked)

    @property
    def bank(self) -> Bank:
        """With the families whose files have joined."""
        return self._families.bank

    def items(self, entries: Sequence[object]) -> tuple[Item, ...]:
        """The items. Raises: BankError if one wishes for something and a family cannot be read."""
        self._families.join_files(entries, "items")
        found = list(filter(None, (self._item(entry, number) for number, entry in enumerate(entries))))
        if self.reader.document.faults:                                          # told before anything is looked at
            return tuple(found)
        return tuple(map(self._served, found))

    def _served(self, item: Item) -> Item:
        """The item, if it wishes for families only of such as serve its kind."""
        path: Path_ = ("items", item.number - 1)
        if not (item.topics or item.rungs):
            self._families.check_serves(item.families[0], item.kind, (*path, "family"))
            return item
        words = Wish(item.topics, item.rungs).words
        what = words if item.forms == 1 else f"{item.forms} forms, {words}"
        able = self._families.serving(item.families, item.kind, what, path, item.forms)
        return replace(item, families=tuple(name for name in item.families if name in able))

    def _item(self, entry: object, number: int) -> Item | None:
        path: Path_ = ("items", number)
        said = self.reader.model(ItemFile, entry, path)
        if said is None:
            return None
        wished = bool(said.topic or said.rung)
        if wished == (said.family is not None):
            self.reader.fault(path, "both a family and a wish" if wished else "neither family nor topic nor rung", ITEM_EXAMPLES)
            return None
        families = self._fitting(said, path) if wished else (self._families.named(said.family, (*path, "family")),)
        if wished and 0 < len(families) < said.forms:
            self.reader.fault((*path, "forms"), f"{said.forms} forms of {len(families)} families", "no more forms than families")
        place = Place(self.reader.document.file, self.reader.document.line(path), self.reader.place(path))
        return Item(
            number + 1, families, said.marks, said.kind, said.minutes, said.topic, said.rung, said.forms, said.pool, place)

    def _fitting(self, said: ItemFile, path: Path_) -> tuple[str, ...]:
        """The families that are wished for, by name."""
        before = len(self.reader.document.faults)
        self._families.check_topics(said.topic, path)
        known = self._families.outlines.values()
        found = tuple(sorted(outline.name for outline in known if fits(outline, said.topic, said.rung)))
        if not found and len(self.reader.document.faults) == before:
            self.reader.fault(path, "no family with this topic and this rung", "a topic and a rung that go together")
        return found


def _entries(value: object) -> Sequence[object]:
    return value if isinstance(value, list) else []
