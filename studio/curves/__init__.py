"""Curves: points, cubics, chains and outlines; length, meeting, offset, fit. No trade words."""

from studio.curves.affine import Affine
from studio.curves.box import Box
from studio.curves.chain import Chain
from studio.curves.cubic import Cubic
from studio.curves.meet import Meeting, crossings, level_meetings, meetings
from studio.curves.offset import offset_left
from studio.curves.outline import Corner, Edge, Outline, encloses
from studio.curves.point import UP, Point, Vector, turn_between
from studio.curves.spline import through

__all__ = [
    "UP",
    "Affine",
    "Box",
    "Chain",
    "Corner",
    "Cubic",
    "Edge",
    "Meeting",
    "Outline",
    "Point",
    "Vector",
    "crossings",
    "encloses",
    "level_meetings",
    "meetings",
    "offset_left",
    "through",
    "turn_between",
]
