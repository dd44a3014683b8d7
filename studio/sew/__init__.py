"""Sewing: joins measured, allowances, cut lines, notches, grain."""

from studio.design.step_names import darts_name, rows_name, through_name
from studio.sew.allowance import AllowanceRules, allowance_rules
from studio.sew.cut_line import cut_line, cut_outline_points
from studio.sew.measure import changed_names, measured, measured_side
from studio.sew.notches import (
    CLEAR_OF_ENDS,
    Notched,
    NotchPlace,
    is_clear_of_ends,
    lonely_notches,
    notch_places,
    own_notch_near,
)
from studio.sew.order import SewingOrder, sewing_order
from studio.sew.piece_rules import PieceRules, piece_rules
from studio.sew.ready import Given, Ready, ready
from studio.sew.seam import Brought, Seam, seam_of
from studio.sew.second_line import second_lines
from studio.sew.sew_piece import grainline, sew_piece
from studio.sew.sewn import CutEdge, Lined, MeasuredJoin, MeasuredSide, Notch, SewnPiece
from studio.sew.short import shorted
from studio.sew.steps import Parts
from studio.sew.topstitch import asked_rows, partial_rows, row_ends, rows_of

__all__ = [
    "CLEAR_OF_ENDS",
    "AllowanceRules",
    "Brought",
    "CutEdge",
    "Given",
    "Lined",
    "MeasuredJoin",
    "MeasuredSide",
    "Notch",
    "NotchPlace",
    "Notched",
    "Parts",
    "PieceRules",
    "Ready",
    "Seam",
    "SewingOrder",
    "SewnPiece",
    "allowance_rules",
    "asked_rows",
    "changed_names",
    "cut_line",
    "cut_outline_points",
    "darts_name",
    "grainline",
    "is_clear_of_ends",
    "lonely_notches",
    "measured",
    "measured_side",
    "notch_places",
    "own_notch_near",
    "partial_rows",
    "piece_rules",
    "ready",
    "row_ends",
    "rows_name",
    "rows_of",
    "seam_of",
    "second_lines",
    "sew_piece",
    "sewing_order",
    "shorted",
    "through_name",
]
