"""Cutting: panels and style lines into pieces."""

from studio.cut.draw import draw_line
from studio.cut.drawn import DrawnLine
from studio.cut.facing import cut_facing, faced
from studio.cut.held import HeldDrag, LinesHeld, held, lines_held, linked, tied_to
from studio.cut.panel_piece import cut_from_panel, splits_of, with_splits
from studio.cut.piece import Mark, Piece
from studio.cut.shape_piece import cut_shape
from studio.cut.split import kept_side
from studio.cut.strip import cut_strip
from studio.cut.waistband import cut_waistband

__all__ = [
    "DrawnLine",
    "HeldDrag",
    "LinesHeld",
    "Mark",
    "Piece",
    "cut_facing",
    "cut_from_panel",
    "cut_shape",
    "cut_strip",
    "cut_waistband",
    "draw_line",
    "faced",
    "held",
    "kept_side",
    "lines_held",
    "linked",
    "splits_of",
    "tied_to",
    "with_splits",
]
