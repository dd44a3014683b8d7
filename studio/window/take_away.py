"""The buttons that take a line or a piece away, and tell what went with it."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from PySide6.QtWidgets import QPushButton

from studio.canvas.selection import NOTHING
from studio.cut.band_off import is_band_line
from studio.cut.parts.band_facing import band_with
from studio.cut.taken_away import gone_between, may_go_alone, without_line, without_piece
from studio.design import Design
from studio.design.pieces import FacingPiece, PanelPiece, PieceRecipe
from studio.pattern import with_places_kept
from studio.window.document import Document


def take_away(document: Document, name: str, without: Callable[[Design, str], Design]) -> bool:
    """Take it away as one step of the history; False, and the reason told, when that cannot be."""
    before = document.history.design

    def made(design: Design) -> Design:
        return with_places_kept(design, without(design, name))

    if not document.edit(f"Take away {name}", made):
        return False
    document.select(NOTHING)
    others = [one for one in gone_between(before, document.history.design) if one != name]
    if others:
        document.told.emit(f"Undo brings back all that went with {name}: {', '.join(others)}.")
    return True


def line_button(document: Document, name: str) -> QPushButton:
    """The button at the foot of the form of a line."""
    is_lower_edge = is_band_line(document.design, name)
    words = "Take the whole band away" if is_lower_edge else "Take this line away"
    return _button(document, name, words, without_line)


def piece_button(document: Document, piece: PieceRecipe) -> QPushButton | None:
    """The button at the foot of the form of a piece; None for one that lines cut from a panel."""
    design = document.design
    if not may_go_alone(design, piece):
        return None
    words = "Take this piece away"
    if isinstance(piece, PanelPiece):
        words = "Take the whole band away"
    elif isinstance(piece, FacingPiece) and band_with(design, piece.name):
        words = "Take the band's facing away"
    return _button(document, piece.name, words, without_piece)


def _button(
    document: Document, name: str, words: str, without: Callable[[Design, str], Design]
) -> QPushButton:
    button = QPushButton(words)
    button.clicked.connect(partial(take_away, document, name, without))
    return button
