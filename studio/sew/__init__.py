"""Sewing: joins measured, allowances, cut lines, notches, grain."""

from studio.sew.allowance import allowances, folded_edges
from studio.sew.cut_line import cut_line, cut_outline_points
from studio.sew.measure import measured, measured_side
from studio.sew.notches import NotchPlace, notch_places
from studio.sew.sew_piece import grainline, sew_piece
from studio.sew.sewn import CutEdge, MeasuredJoin, MeasuredSide, Notch, SewnPiece

__all__ = [
    "CutEdge",
    "MeasuredJoin",
    "MeasuredSide",
    "Notch",
    "NotchPlace",
    "SewnPiece",
    "allowances",
    "cut_line",
    "cut_outline_points",
    "folded_edges",
    "grainline",
    "measured",
    "measured_side",
    "notch_places",
    "sew_piece",
]
