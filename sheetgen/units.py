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

# Paper, and what a view shows of the part.

EXACT = 1e-9
"""mm: a point nearer than this to a surface, a plane or a line lies on it: above the rounding of any chain of operations on
100 mm, and a thousandth of SAME_POINT."""

SAME_COSINE = 1e-9
"""What the cosine of two directions may lack of 1 if they are one: an angle of 4.5e-5, half of TANGENT."""

EDGE_ON = 1e-9
"""Cosine: a facet or plane less turned to the viewer is seen as a line; a cylinder whose axis is less far from the sight, as a
circle."""

FACES_READER = 1e-6
"""Cosine: a face that carries a rim, or may be read, is turned to the reader by more than this."""

SAME_LEVEL = 1e-4
"""mm in the part: points no farther apart along an axis stand at one level (ends found on facets stray by less)."""

SAME_PLACE = 1e-6
"""mm on paper: places worked out in two ways from the same exact levels are nearer than this (double rounding of a sheet is
about 1e-13, of what is multiplied by a scale and added up some times that)."""

LINE_END = 1e-4
"""mm on paper: a corner of the part no farther from the end of a drawn line is that end: lines are joined from stretches that
stray by so much."""

LINE_TOUCH = 1e-3
"""mm on paper: a line that ends nearer than this to another touches it, and does not cross it."""

SAME_LINE = 0.01
"""mm on paper: extension lines no farther apart are one; ends found on facets stray by less than a tenth of that."""

PARALLEL = 1e-6
"""Sine of the angle below which two lines on paper are parallel: ten millimetres long, their ends are good to SAME_PLACE."""

UPRIGHT = 1e-4
"""Part of a unit vector: a line on paper that leans less stands upright; places are good to a micron, lines are millimetres
long."""

NO_STEP = 1e-12
"""Of a box's width: a segment that gets no farther across it than this runs along its side."""

NO_SQUARE = 1e-30
"""mm²: keeps a point that is given as a segment from being divided by."""
