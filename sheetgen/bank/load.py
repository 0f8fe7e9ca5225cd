"""From files to families, and the bank: all families of a folder, each read when it is asked for."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path

from sheetgen.bank.family import Family
from sheetgen.bank.faults import BankError, UnknownFamilyError
from sheetgen.faults import Fault, few, shown, visible_text
from sheetgen.shared import shipped

FAMILY_NAME = re.compile(r"[a-z][a-z0-9-]{1,39}")
NAME_WANTED = "a file name of 2 to 40 small letters a-z, digits and -, beginning with a letter, ending in .yaml or .yml"
FAMILIES_LISTED = "`sheetgen bank list` shows all families"
MOST_FAMILIES = 2000
SHIPPED = "problem_bank"
"""The folder of the families that come with sheetgen, and what messages call it."""


def load_family(path: str | Path, shown_as: str | None = None) -> Family:
    """Read one family file; ``shown_as`` is what messages call it.

    Raises: BankError with every fault of the file.
    """
    from sheetgen.bank.check import family_of
    from sheetgen.bank.reader import LIMITS
    from sheetgen.filekinds import read_kind
    from sheetgen.yamlines import is_yaml

    path = Path(path)
    file = shown_as or _place(path)
    if not is_yaml(path.name):
        raise BankError([Fault(file, 0, "", shown(path.name), NAME_WANTED)])
    document = read_kind(path, file, "family", LIMITS)
    if not FAMILY_NAME.fullmatch(path.stem):
        raise BankError([Fault(file, 0, "", shown(path.name), NAME_WANTED)])
    return family_of(document, path)


def load_text(text: str, name: str = "family") -> Family:
    """Read a family from text, as an editor holds it. Raises: BankError."""
    from sheetgen.bank.check import family_of
    from sheetgen.bank.reader import LIMITS, read
    from sheetgen.filekinds import check_kind

    document = read(text, f"{name}.yaml")
    check_kind(document, "family", LIMITS)
    return family_of(document, Path(f"{name}.yaml"))


def load_bank(path: str | Path | None = None) -> Bank:
    """The bank in a folder (or one file); without a path, the one that comes with sheetgen.

    Raises: BankError if there is no such folder, or nothing in it.
    """
    if path is None:
        folder = shipped(SHIPPED)
        files = _files(folder)
        return Bank(files, {name: f"{SHIPPED}/{file.name}" for name, file in files.items()}, dict.fromkeys(files, SHIPPED))
    path = Path(path)
    return bank_of({path.stem: path} if path.is_file() else _files(path))


def load_banks(own: Sequence[Path] = (), only: Sequence[Path] = ()) -> Bank:
    """The bank that comes with sheetgen, or the places ``only`` in its stead, with those of one's ``own`` beside it; a place is a
    folder or one file.

    Raises: BankError for a place without families, and for a name in two places.
    """
    first, *others = [load_bank(place) for place in (*(only or (None,)), *own)]
    for bank in others:
        first = first.joined(bank)
    return first


def bank_of(files: Mapping[str, Path]) -> Bank:
    """The bank of some files, by the names of their families."""
    return Bank(files, {name: _place(file) for name, file in files.items()},
                {name: _place(file.parent) for name, file in files.items()})


def _place(path: Path) -> str:
    """A path as messages give it, whole, so that an editor can open it."""
    return visible_text(path.as_posix(), quote=False)


def _same(one: Path, other: Path) -> bool:
    return one.resolve() == other.resolve()


def _files(folder: Path) -> dict[str, Path]:
    """The family files of a folder by name, sorted; no sub-folders, and no link that leads out of it."""
    file = _place(folder)
    try:
        found = sorted(entry for entry in folder.iterdir() if entry.suffix.lower() in (".yaml", ".yml"))
        home = folder.resolve()
        found = [entry for entry in found if entry.is_file() and entry.resolve().parent == home]
    except (OSError, ValueError):
        raise BankError([Fault(file, 0, "", "no such folder", "a folder of family files, or one family file")]) from None
    if not found:
        raise BankError([Fault(file, 0, "", "a folder without families", "at least one .yaml file")])
    if len(found) > MOST_FAMILIES:
        raise BankError([Fault(file, 0, "", f"{len(found)} families", f"at most {MOST_FAMILIES} in a folder")])
    by_name = {entry.stem: entry for entry in reversed(found)}
    twice = [Fault(_place(entry), 0, "", f"a second family called {entry.stem}, beside {by_name[entry.stem].name}",
                   "another file name for one of the two") for entry in found if by_name[entry.stem] != entry]
    if twice:
        raise BankError(twice)
    return by_name


class Bank(Mapping[str, Family]):
    """Families by name, in the order of their names. A file is read when its family is first asked for."""

    def __init__(self, files: Mapping[str, Path], shown_as: Mapping[str, str], homes: Mapping[str, str]) -> None:
        self._files = {name: files[name] for name in sorted(files)}
        self._shown, self._homes = dict(shown_as), dict(homes)
        self._read: dict[str, Family] = {}

    def joined(self, other: Bank) -> Bank:
        """This bank and another as one; a file that both have is one family.

        Raises: BankError for every name that is in two places, naming both files.
        """
        faults = [Fault(other._shown[name], 0, "", f"a second family called {name}, beside {self._shown[name]}",
                        "another file name for one of the two")
                  for name, file in other._files.items() if name in self._files and not _same(file, self._files[name])]
        if faults:
            raise BankError(faults)
        both = Bank({**other._files, **self._files}, {**other._shown, **self._shown}, {**other._homes, **self._homes})
        both._read = {**other._read, **self._read}
        return both

    def path(self, name: str) -> Path:
        """The file of a family it has."""
        return self._files[name]

    def shown(self, name: str) -> str:
        """The file of a family it has, as messages call it."""
        return self._shown[name]

    def home(self, name: str) -> str:
        """The folder that a family it has comes from, as messages call it."""
        return self._homes[name]

    def __getitem__(self, name: str) -> Family:
        """The family of that name. Raises: UnknownFamilyError naming the nearest; BankError if its file has faults."""
        if name not in self._files:
            wanted = few(name, self._files, FAMILIES_LISTED) if isinstance(name, str) else "a name"
            raise UnknownFamilyError([Fault("the bank", 0, "", f"no family {shown(name)}", wanted)])
        if name not in self._read:
            self._read[name] = load_family(self._files[name], self._shown[name])
        return self._read[name]

    def __iter__(self) -> Iterator[str]:
        return iter(self._files)

    def __len__(self) -> int:
        return len(self._files)

    def __contains__(self, name: object) -> bool:
        return name in self._files

    def __repr__(self) -> str:
        return f"Bank({', '.join(self._files)})"

    def check(self) -> None:
        """Read every file. Raises: BankError with all faults of all files."""
        faults: list[Fault] = []
        for name in self:
            try:
                self[name]
            except BankError as error:
                faults += error.faults
        if faults:
            raise BankError(faults)
