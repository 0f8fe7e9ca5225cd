"""``python -m sheetgen``: the command line."""

from sheetgen.cli import main

main(prog_name="sheetgen")
