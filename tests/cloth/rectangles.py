"""Rectangles as pieces and panels, whose shortfall is known by hand."""

from studio.cloth.bed import bed_of
from studio.cloth.items import Item, Way
from studio.cloth.stance import stance_of
from studio.curves import Chain, Edge, Outline, Point
from studio.cut import Piece
from studio.design.cloth import SalvagedPanel
from studio.sew import Lined, cut_line, grainline, sew_piece
from studio.sew.roof import roofed

NAMES = ("r.hem", "r.side", "r.waist", "r.rise")


def rectangle(wide, high, allowance=12.0, name="r", cut="single", darts=()):
    """A sewn rectangle with its lower left corner at the origin; edges hem, side, waist, rise."""
    corners = [Point(0, 0), Point(wide, 0), Point(wide, high), Point(0, high)]
    edges = [
        Edge.whole(edge, Chain.straight(corners[k], corners[(k + 1) % 4]))
        for k, edge in enumerate(NAMES)
    ]
    piece = Piece(name, Outline.of(edges), darts=darts, cut=cut)
    widths = (allowance,) * 4
    line, _ = cut_line(piece.outline, widths)
    line = roofed(line, piece.outline, widths, (), darts)
    return sew_piece(piece, Lined(widths, *line, grainline(piece.outline, 90.0)))


def panel(wide, high, name="cloth", flaws=()):
    """A rectangle of cloth with its warp up."""
    outline = ((0.0, 0.0), (wide, 0.0), (wide, high), (0.0, high))
    return bed_of(SalvagedPanel(name, "main", outline, ((5.0, 5.0), (5.0, high - 5.0)), flaws))


def item_of(sewn, *beds, turns=(0.0,), tolerance=0.0, copy=0):
    """A copy of a piece that may lie on all of the beds."""
    stance = stance_of(sewn)
    ways = tuple(Way(bed.name, stance, turns, tolerance, (False,)) for bed in beds)
    return Item(sewn.piece.name, copy, ways)
