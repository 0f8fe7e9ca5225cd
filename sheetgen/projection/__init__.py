"""From a solid to views: hidden lines, joined linework, centre lines."""

from sheetgen.projection.areas import Area, areas_of
from sheetgen.projection.centre import HALF_ROUND, OVERSHOOT, clear_centres
from sheetgen.projection.frames import (
    CORNERS,
    ISOMETRIC_CORNER,
    OBLIQUE,
    PICTORIALS,
    PRINCIPAL,
    Frame,
    auxiliary_frame,
    frame_of,
)
from sheetgen.projection.hidden import hidden_stretches
from sheetgen.projection.lines import LineKind, is_ellipse, lines_of, partly_hidden
from sheetgen.projection.linework import Linework
from sheetgen.projection.outlines import Outline, outlines_of
from sheetgen.projection.sections import Section, goes_on, section_of
from sheetgen.projection.shapes import Arc, Free, Shape, Straight
from sheetgen.projection.traces import seen_points, seen_segments, symmetry_trace
from sheetgen.projection.view import View, view_in, view_of

__all__ = [
    "CORNERS", "HALF_ROUND", "ISOMETRIC_CORNER", "OBLIQUE", "OVERSHOOT", "PICTORIALS", "PRINCIPAL", "Arc", "Area", "Frame",
    "Free", "LineKind", "Linework", "Outline", "Section", "Shape", "Straight", "View", "areas_of", "auxiliary_frame",
    "clear_centres", "frame_of", "goes_on", "hidden_stretches", "is_ellipse", "lines_of", "outlines_of", "partly_hidden",
    "section_of", "seen_points", "seen_segments", "symmetry_trace", "view_in", "view_of",
]
