"""What the frozen writer needs of the tolerances."""

PAPER_DIGITS = 4
