"""Practice packs: problems to print and to work on in a browser, in a folder that needs no server."""

from sheetgen.sets.packs.making import Pack, draw
from sheetgen.sets.packs.plan import PackPlan, load_pack

__all__ = ["Pack", "PackPlan", "draw", "load_pack"]
