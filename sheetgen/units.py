"""Tolerances and lengths with one home: each has a name, a unit and a reason. The lowest layer."""

SAME_POINT = 1e-6
"""mm in the part: ends nearer than this are one corner (double rounding of 100 mm is about 1e-14)."""

SAME_DIRECTION = 1e-9
"""Sine of the angle below which two unit vectors, known in closed form, are parallel."""

TANGENT = 1e-4
"""Sine of the angle between two surface normals below which the surfaces meet smoothly and no line is drawn."""

CHORD_ERROR = 0.004
"""mm: greatest distance of a facet from the cylinder or cone that it stands for (a fifth of what is checked)."""

PAPER_DIGITS = 4
"""Decimals of a millimetre kept on paper: a tenth of a micron, below any printer, so that bytes do not depend on rounding."""

CORNER = 0.35
"""Radians (20 degrees): a polyline that turns more has a corner; chords of the smallest arcs we draw turn by half of it."""

FLATTENING = 0.01
"""mm on paper: greatest distance of a chord from the curve it stands for, a fiftieth of an outline's width."""
