"""What plans of all sorts say of the look of their sheets and of a class list, and which files they may name."""

from __future__ import annotations

import re
from collections.abc import Collection, Sequence
from pathlib import Path

from sheetgen.faults import Place, choice, shown
from sheetgen.sets.plan_file import LookFile
from sheetgen.sheet import TITLE_BLOCK, WORDING, Style
from sheetgen.templating import TitleBlockValues, beside, not_beside, title_block_names, wording_names
from sheetgen.templating.crest import SUFFIXES
from sheetgen.yamlines import SUFFIXES as YAML_SUFFIXES
from sheetgen.yamlines import YamlDocument

IN_BLOCK = {
    "title": "set_title", "school": "school", "course": "course", "teacher": "teacher", "approved_by": "approved_by",
    "class": "group", "date": "date", "status": "status",
}
"""A plan's fields that a title block can show, and as which of its values."""

LIST_NAME, LIST_SUFFIXES = re.compile(r"[A-Za-z0-9][A-Za-z0-9 ._-]{0,79}"), (".csv", ".tsv", ".txt")
"""What class lists are called, in more letters than our own files, because schools export them."""


def list_said(document: YamlDocument, value: object, folder: Path) -> Path | None:
    """The class list that a plan in ``folder`` names, if it names one."""
    path = beside(folder, value, LIST_SUFFIXES, LIST_NAME) if isinstance(value, str) else None
    if value is not None and path is None:
        _not_there(document, "class_list", value, folder, "the name of a .csv file beside the plan", LIST_SUFFIXES)
    return path


def style_said(document: YamlDocument, said: LookFile | None, folder: Path) -> Style | None:
    """The style of a plan; templates and crests of the teacher's own lie in ``folder``. None if the plan has faults, which are
    noted in the document; those of templates are, whatever others there are."""
    data = document.data if isinstance(document.data, dict) else {}
    block = template_said(document, "title_block", data.get("title_block", TITLE_BLOCK), folder, title_block_names())
    wording = template_said(document, "wording", data.get("wording", WORDING), folder, wording_names())
    crest = _crest(document, data["crest"], folder) if data.get("crest", "") != "" else None
    if said is None:
        return None
    texts = {field: text for field, text in said.model_dump(by_alias=True).items() if field in IN_BLOCK and text}
    places = {IN_BLOCK[field]: Place(document.file, document.line((field,)), field) for field in texts}
    if crest:
        places["crest"] = Place(document.file, document.line(("crest",)), "crest")
    return Style(
        title_block=block, wording=wording, projection=said.projection, side=said.side, paper=said.paper, figures=said.figures,
        arrows=said.arrows, values=TitleBlockValues(**{IN_BLOCK[field]: text for field, text in texts.items()}), crest=crest,
        places=places, missing=said.missing, any_answer=said.any_ == "yes", pictorial=said.pictorial == "yes",
        drawn=said.drawn, grid=said.grid == "yes",
        whole=said.whole == "yes",
    )


def template_said(document: YamlDocument, field: str, value: object, folder: Path, known: Sequence[str]) -> str | Path:
    """One of the ``known`` that come with sheetgen, or a file beside the plan; a path to elsewhere is refused."""
    if isinstance(value, str) and value in known:
        return value
    if isinstance(value, str) and (path := beside(folder, value)):
        return path
    _not_there(document, field, value, folder, choice(str(value), known) + ", or the name of a .yaml file beside the plan")
    return known[0]


def _crest(document: YamlDocument, value: object, folder: Path) -> Path | None:
    """The file of a crest beside the plan."""
    path = beside(folder, value, SUFFIXES) if isinstance(value, str) else None
    if path is None:
        _not_there(document, "crest", value, folder, "the name of an .svg or .png file beside the plan", SUFFIXES)
    return path


def _not_there(
    document: YamlDocument, field: str, value: object, folder: Path, wanted: str, suffixes: Collection[str] = YAML_SUFFIXES
) -> None:
    """Note that a file which a plan names does not lie beside it."""
    told = not_beside(folder, value, wanted, suffixes) if isinstance(value, str) else (shown(value), wanted)
    document.fault(document.line((field,)), field, *told)
