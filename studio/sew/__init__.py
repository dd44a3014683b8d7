"""Sewing: joins measured, allowances, cut lines, notches, grain."""

from studio.sew.allowance import AllowanceRules, allowance_rules
from studio.sew.cut_line import cut_line, cut_outline_points
from studio.sew.measure import measured, measured_side
from studio.sew.notches import NotchPlace, is_notched, notch_places
from studio.sew.sew_piece import grainline, sew_piece
from studio.sew.sewn import CutEdge, MeasuredJoin, MeasuredSide, Notch, SewnPiece
from studio.sew.topstitch import rows_of

__all__ = [
    "AllowanceRules",
    "CutEdge",
    "MeasuredJoin",
    "MeasuredSide",
    "Notch",
    "NotchPlace",
    "SewnPiece",
    "allowance_rules",
    "cut_line",
    "cut_outline_points",
    "grainline",
    "is_notched",
    "measured",
    "measured_side",
    "notch_places",
    "rows_of",
    "sew_piece",
]
