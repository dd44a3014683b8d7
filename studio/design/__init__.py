"""The design value: body, block, alterations, lines, pieces, joins; and its project file."""

from studio.design.alterations import Alteration, LowerWaist, SwingRise
from studio.design.block import (
    Block,
    DraftedBlock,
    DrawnDart,
    DrawnEdge,
    DrawnPanel,
    ImportedBlock,
)
from studio.design.body import Body, Fit
from studio.design.design import Cloth, Design
from studio.design.joins import EdgeRef, Finish, Join, JoinSide
from studio.design.lines import AnchoredPath, Node, OnEdge, PlacedPath, StyleLine
from studio.design.pieces import Bound, PanelPiece, PieceRecipe, ShapePiece, WaistbandPiece

__all__ = [
    "Alteration",
    "AnchoredPath",
    "Block",
    "Body",
    "Bound",
    "Cloth",
    "Design",
    "DraftedBlock",
    "DrawnDart",
    "DrawnEdge",
    "DrawnPanel",
    "EdgeRef",
    "Finish",
    "Fit",
    "ImportedBlock",
    "Join",
    "JoinSide",
    "LowerWaist",
    "Node",
    "OnEdge",
    "PanelPiece",
    "PieceRecipe",
    "PlacedPath",
    "ShapePiece",
    "StyleLine",
    "SwingRise",
    "WaistbandPiece",
]
