"""The page of a pack and the scripts beside it: HTML, data as scripts, our own plain scripts and style. Nothing comes from
elsewhere.

Pages that are opened from a folder cannot fetch files but can load scripts; so each piece of data is a script that hands it over.
In the single file the same pieces are inert text within the page.
"""

from __future__ import annotations

import json
from base64 import b64encode
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from hashlib import sha256
from pathlib import Path
from typing import TYPE_CHECKING, Any

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup

from sheetgen.exercises import Role
from sheetgen.ink import NIBS, Face, Pen, letters_of, packed, packed_glyph
from sheetgen.ink.glyphs import capitals_of, units_of
from sheetgen.sets.packs.solids import words_of
from sheetgen.sets.shelf import Kept
from sheetgen.sets.together import safe_name

if TYPE_CHECKING:
    from sheetgen.sets.packs.making import Pack

HERE = Path(__file__).parent / "page"

SCRIPTS = ("data", "made", "marks", "keep", "pictures", "check", "answer", "steps", "problem", "list", "start")
"""Our scripts, in the order in which they need each other; the page has them as one."""

VIEWER, LICENCE = "viewer", "three-licence.txt"

SMALL_TOGETHER = 40
"""Small pictures that are loaded together: about as many as a large screen shows, in some 15 kB."""

Piece = dict[str, Any] | list[Any]


@dataclass(frozen=True, slots=True)
class Book:
    """One PDF file: the sheets of a role of the exercises of a rung, by their numbers."""

    role: Role
    rung: int
    numbers: tuple[int, ...]

    @property
    def file(self) -> str:
        """What it is called."""
        return f"{books_called(self.role)}-rung-{self.rung}.pdf"


def books_called(role: Role) -> str:
    """The first word of the name of a role's files."""
    return {"question": "questions", "answer": "answers"}.get(role.value, role.value)


def plain(piece: Piece) -> str:
    """Data as JSON that neither a page nor a script takes for the end of itself.

    >>> plain(["</script>\\u2028&"])
    '["\\\\u003c/script\\\\u003e\\\\u2028\\\\u0026"]'
    """
    text = json.dumps(piece, separators=(",", ":"), ensure_ascii=True, allow_nan=False)
    return text.replace("<", "\\u003c").replace(">", "\\u003e").replace("&", "\\u0026")


def hidden(value: float, place: int) -> int:
    """A length to be measured, so that it does not show at a glance; ``check.js`` undoes it. It is no secret."""
    return (round(value * 100) + 101) * 3 + 7919 * (place + 1)


class Site:
    """What a ``pack`` has besides its PDF files."""

    def __init__(self, pack: Pack) -> None:
        self.pack, self.settings = pack, pack.settings
        self.say = pack.settings.wording.render

    @property
    def names(self) -> list[str]:
        """Of the files that there will be."""
        if self.pack.single:
            return ["index.html", "pack.json"]
        count = len(self.pack.jobs)
        small = -(-count // SMALL_TOGETHER)
        return ["index.html", "page.css", "page.js", "pack.js", "sheet.js", *(f"small-{n}.js" for n in range(1, small + 1)),
                *(f"problem-{n}.js" for n in range(1, count + 1)), *(f"solid-{n}.js" for n in range(1, count + 1)),
                f"{VIEWER}.js", LICENCE, "pack.json"]

    def files(self, kept: Mapping[int, Kept]) -> Iterator[tuple[str, bytes]]:
        """The files by name."""
        if self.pack.single:
            yield "index.html", self._html(kept, dict(self._pieces(kept))).encode()
        else:
            yield "index.html", self._html(kept, {}).encode()
            yield "page.css", self.style.encode()
            yield "page.js", self.script.encode()
            for name, piece in self._pieces(kept):
                yield f"{name}.js", f'sheetgenPack("{name}",{plain(piece)});\n'.encode()
            yield f"{VIEWER}.js", _own(f"{VIEWER}.js").encode()
            yield LICENCE, _own(LICENCE).encode()
        yield "pack.json", (json.dumps(self._record(kept), indent=1, ensure_ascii=True) + "\n").encode()

    def rung_title(self, rung: int) -> str:
        """A rung and what it is about."""
        return self.say("pack.rung_of", rung=rung, what=self.say(f"contact.rung_{rung}"))

    @cached_property
    def script(self) -> str:
        """Our scripts as one."""
        return "".join(_own(f"{name}.js") for name in SCRIPTS)

    @cached_property
    def style(self) -> str:
        """Our style, with the paper of the sheets."""
        paper = self.settings.paper
        return _own("page.css") + f"@page sheet {{ size: {paper.width:g}mm {paper.height:g}mm; margin: 0; }}\n"

    def _pieces(self, kept: Mapping[int, Kept]) -> Iterator[tuple[str, Piece]]:
        """The data by name, in the order of ``names``."""
        yield "pack", self._pack(kept)
        yield "sheet", self._sheet(kept)
        numbers = sorted(kept)
        for chunk, first in enumerate(range(0, len(numbers), SMALL_TOGETHER), 1):
            yield f"small-{chunk}", [kept[number].told["pictures"]["small"] for number in numbers[first:first + SMALL_TOGETHER]]
        for number in numbers:
            yield f"problem-{number}", self._problem(kept[number])
        for number in numbers:
            yield f"solid-{number}", dict(kept[number].told["solid"])

    def _pack(self, kept: Mapping[int, Kept]) -> Piece:
        """What the page needs at once."""
        topics = sorted({topic for one in kept.values() for topic in one.topics})
        named = list(dict.fromkeys(job.kind for job in self.pack.jobs))
        places = {(book.role, number): [at, page] for at, book in enumerate(self.pack.books)
                  for number, page in self.pack.pages_of(book, kept).items()}
        return {
            "mark": self.pack.run.mark, "title": self.pack.title, "file": safe_name(self.pack.title).lower(),
            "texts": self.texts(), "topics": topics, "kinds": [self._kind(kind) for kind in named],
            "rungs": [{"number": rung, "title": self.rung_title(rung)} for rung in sorted(set(self.pack.plan.rungs))],
            "books": [{"file": book.file, "title": self._book_title(book)} for book in self.pack.books if not self.pack.single],
            "small": SMALL_TOGETHER, "pens": _pens(), "faces": [],
            "viewer": {"angle": self.settings.projection, "side": self.settings.side,
                       "texts": words_of(self.settings.wording, self.settings.projection)},
            "problems": [{
                "number": number, "title": one.title, "code": one.code, "topics": [topics.index(topic) for topic in one.topics],
                "rung": one.told["rung"], "kind": named.index(self.pack.jobs[number - 1].kind),
                "lengths": len(one.told["lengths"]),
                "pages": {role.value: places[role, number] for role in one.counts},
            } for number, one in sorted(kept.items())],
        }

    def _sheet(self, kept: Mapping[int, Kept]) -> Piece:
        """What the pictures of all problems need: the sheet that they stand on, letters and pens."""
        stationery = self.settings.stationery
        found: dict[Face, set[str]] = {face: set() for face in Face}
        for face, signs in letters_of(stationery).items():
            found[face].update(signs)
        for one in kept.values():
            for face, signs in one.told["pictures"]["letters"].items():
                found[Face(face)].update(signs)
        letters = [{"units": units_of(face), "capitals": capitals_of(face),
                    "signs": {sign: packed_glyph(sign, face) for sign in sorted(found[face])}} for face in Face]
        paper = self.settings.paper
        return {"width": paper.width, "height": paper.height, "sheet": packed(stationery), "pens": _pens(), "letters": letters}

    def _problem(self, one: Kept) -> Piece:
        """What the page of one problem needs."""
        pictures = one.told["pictures"]
        return {
            **{key: one.told[key] for key in ("description", "task", "hints")}, "solid": bool(one.told["solid"]),
            "lengths": [[where, hidden(value, place)] for place, (where, value) in enumerate(one.told["lengths"])],
            **{key: pictures[key] for key in ("common", "pages", "blank", "stages", "stages_box")},
        }

    def _html(self, kept: Mapping[int, Kept], pieces: Mapping[str, Piece]) -> str:
        """The page itself; in the single file with all ``pieces`` in it."""
        values, single = self.settings.values, self.pack.single
        viewer = _own(f"{VIEWER}.js") if single else ""
        style, script = (self.style, self.script) if single else ("", "")
        return page_of(
            "index.html", language=self.settings.wording.language, title=self.pack.title, about=self.pack.plan.about,
            course=" · ".join(filter(None, (values.school, values.course, values.teacher))), notice=self.say("notice"),
            mark=self.pack.run.mark, say=lambda key, **more: self.say(f"pack.{key}", **more), policy=self._policy(viewer),
            single=single, paper=self.settings.paper.name, style=_within(style, "style"), script=_within(script, "script"),
            viewer=_within(viewer, "script"),
            pieces={name: Markup(plain(piece)) for name, piece in pieces.items()}, table=self._table())

    def _table(self) -> list[dict[str, Any]]:
        """The PDF files, a row for each rung."""
        books = self.pack.books
        return [{"title": self.rung_title(rung),
                 "books": [{"file": book.file, "title": self._book_title(book)} for book in books if book.rung == rung]}
                for rung in sorted({book.rung for book in books})]

    def _policy(self, viewer: str) -> str:
        """What the page may load: nothing from elsewhere; in the single file no script but those within it."""
        if self.pack.single:
            scripts = " ".join(f"'sha256-{b64encode(sha256(text.encode()).digest()).decode()}'" for text in (self.script, viewer))
            styles = "'unsafe-inline'"
        else:
            scripts, styles = "'self' file:", "'self' file: 'unsafe-inline'"     # file: of pages that are opened from a folder
        return f"default-src 'none'; script-src {scripts}; style-src {styles}; img-src data:; form-action 'none'; base-uri 'none'"

    def texts(self) -> dict[str, str]:
        """The words of the page, with places for values, as its scripts fill them in: %name%."""
        found: dict[str, str] = {}
        for name, phrase in self.settings.wording.phrases.items():
            group, _, key = name.partition(".")
            if group == "pack":
                found[key] = phrase.render({value: f"%{value}%" for value in phrase.names})
        return found

    def _kind(self, kind: str) -> str:
        return self.say(f"pack.kind_{kind}")

    def _book_title(self, book: Book) -> str:
        return self.say(f"pack.{books_called(book.role)}")

    def _record(self, kept: Mapping[int, Kept]) -> dict[str, Any]:
        """What a pack is, for programs: the list of packs reads it."""
        return {
            "sheetgen": "pack", "mark": self.pack.run.mark, "title": self.pack.title, "about": self.pack.plan.about,
            "language": self.settings.wording.language, "problems": len(kept), "rungs": sorted(set(self.pack.plan.rungs)),
            "topics": sorted({topic for one in kept.values() for topic in one.topics}),
            "files": self.pack.names,
        }


def _pens() -> list[list[float]]:
    """Width, ends and corners of each pen, by its number."""
    return [[NIBS[pen].width, int(NIBS[pen].cap), int(NIBS[pen].join)] for pen in Pen]


def _own(name: str) -> str:
    """One of our files of the page."""
    return (HERE / name).read_text(encoding="utf-8")


def page_of(name: str, **values: Any) -> str:
    """A page from its template in ``page``: whatever is put in is text, but for what is Markup."""
    environment = Environment(loader=FileSystemLoader(HERE), autoescape=True, undefined=StrictUndefined, trim_blocks=True,
                              lstrip_blocks=True, keep_trailing_newline=True)
    return environment.get_template(name).render(**values)


def _within(text: str, element: str) -> Markup:
    """A text of our own that stands within an element of the page, which it must not end."""
    if f"</{element}" in text.lower() or "<!--" in text:
        raise ValueError(f"a text of the page's own that would end its <{element}>")
    return Markup(text)
