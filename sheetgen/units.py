"""Tolerances and lengths with one home: each has a name, a unit and a reason. The lowest layer."""

# The solid, its views, the proof of its measures, and ink.

EXACT = 1e-9
"""mm: a point nearer than this to a surface, a plane or a line lies on it: above the rounding of any chain of operations on
100 mm, and a thousandth of SAME_POINT."""

SAME_COSINE = 1e-9
"""What the cosine of two directions may lack of 1 if they are one: an angle of 4.5e-5, half of TANGENT."""

SAME_SHARE = 1e-9
"""Of a length, an area or a count: shares nearer than this are one, as far as rounding goes."""

SAME_TURN = 1e-9
"""Radians: places of an arc nearer than this are one (a hundredth of a micron on a radius of 10 m)."""

NO_TURN = 1e-12
"""Radians: an arc of an outline whose ends are no farther apart than this, seen from its centre, goes all the way round."""

ALONG_RULING = 1e-7
"""Sine: an edge within a round surface that deviates less from its straight lines runs along one; corners are then EXACT."""

LEAST_SINE = 1e-3
"""Sine of the angle of two surfaces: more nearly tangent ones do not fix a corner between them."""

AGAINST = 1e-3
"""Cosine: faces that look towards each other's back by more than this have no material between them where they touch."""

EDGE_ON = 1e-9
"""Cosine: a facet or plane less turned to the viewer is seen as a line; a cylinder whose axis is less far from the sight, as a
circle."""

RIM = 1e-7
"""mm: nearer to a facet's rim than this is on the rim; facets less wide than this hide nothing."""

BEHIND = 1e-6
"""mm: a segment less far behind a facet lies on it."""

AT_END = 1e-6
"""Of an edge's length: no farther from its end is at it."""

SAME_CARRIER = 1e-5
"""mm, and radians: carriers of lines nearer than this are one line of the view."""

SAME_RUN = 1e-4
"""mm: stretches of one line no farther apart are one; cuts of neighbouring facets end where the facets do."""

SLIVER = 0.02
"""mm: shorter stretches come of the chords that stand for curves, not of the part; the least feature is 100 times longer."""

NO_RANK = 1e-7
"""Relative size of a singular value that counts as nothing: true ones of our shapes lie above 1e-3."""

INDEPENDENT = 1e-6
"""Volume spanned by three unit normals above which their planes meet in one point."""

WHOLE_STEP = 1e-5
"""Of a step of PAPER_DIGITS: a length that exceeds a whole number of steps by less is that number, not rounded up."""

SETTLED = 1e-10
"""mm: a step of Newton's method that moves nothing farther is the last."""

# All stages.

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

FACES_READER = 1e-6
"""Cosine: a face that carries a rim, may be read, or lets a line of sight out is turned that way by more than this."""

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

TOUCHING = 0.05
"""mm on paper: lines nearer than this meet, as far as a reader sees: a tenth of an outline's width; curves stray
by a hundredth."""

PARALLEL = 1e-6
"""Sine of the angle below which two lines on paper are parallel: ten millimetres long, their ends are good to SAME_PLACE."""

UPRIGHT = 1e-4
"""Part of a unit vector: a line on paper that leans less stands upright; places are good to a micron, lines are millimetres
long."""

NO_STEP = 1e-12
"""Of a box's width: a segment that gets no farther across it than this runs along its side."""

NO_SQUARE = 1e-30
"""mm²: keeps a point that is given as a segment from being divided by."""

NO_WIDTH = 1e-3
"""mm in the part: borders of a face that come nearer than this meet."""

SAME_SQUARES = 1e-6
"""mm²: the squares of two half-axes that differ by less belong to a circle."""

# What a browser shows of a part.

RECORD_STEP = 0.001
"""mm in the part: lengths of a viewer's record are whole steps; a pixel of a part that fills a large screen is 50 of them."""

VERTEX_STEP = 0.01
"""mm in the part: vertices of a viewer's record are whole steps; a pixel of a part that fills a large screen is 5 of them."""

RECORD_TURN = 1e-6
"""Radians: angles of a viewer's record are whole steps; at a radius of a metre, one is RECORD_STEP."""
