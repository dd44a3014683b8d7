"""Pieces laid out tidily on a sheet, for plotting and for looking at. No cloth is saved here."""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from studio.curves import Affine, Box, Point, Vector
from studio.errors import BadInput
from studio.sew.sewn import SewnPiece


class Laid(msgspec.Struct, frozen=True):
    """A piece, the move that takes it to its place on the sheet, and its box there (mm)."""

    sewn: SewnPiece
    move: Affine
    box: Box


def cut_box(sewn: SewnPiece) -> Box:
    """The box round a piece's cut line, mm."""
    box = sewn.piece.outline.box
    for edge in sewn.cut_line:
        box = box.with_(edge.chain.box)
    return box


def arranged(pieces: Sequence[SewnPiece], width: float, gap: float) -> list[Laid]:
    """Shelves from the top down, tall pieces first, upright; the sheet's top left is (0, 0) and y
    runs down to negative heights.

    A piece wider than `width` gets a shelf of its own and sticks out.
    """
    laid = []
    x, y, shelf = 0.0, 0.0, 0.0
    for sewn in _tall_first(pieces):
        box = cut_box(sewn)
        if x > 0.0 and x + box.width > width:
            x, y, shelf = 0.0, y - shelf - gap, 0.0
        laid.append(_laid(sewn, box, Point(x, y)))
        x += box.width + gap
        shelf = max(shelf, box.height)
    return laid


def on_sheets(
    pieces: Sequence[SewnPiece], width: float, height: float, gap: float
) -> list[list[Laid]]:
    """As many sheets as are needed, each piece whole on one; a piece too wide is turned a quarter.

    Raises:
        BadInput: a piece is larger than a sheet; names it.
    """
    sheets: list[list[Laid]] = [[]]
    x, y, shelf = 0.0, 0.0, 0.0
    for sewn in _tall_first(pieces):
        quarter = _turn_to_fit(sewn, width, height)
        box = _turned_box(sewn, quarter)
        if x > 0.0 and x + box.width > width:
            x, y, shelf = 0.0, y - shelf - gap, 0.0
        if y - box.height < -height:
            sheets.append([])
            x, y, shelf = 0.0, 0.0, 0.0
        sheets[-1].append(_laid(sewn, box, Point(x, y), quarter))
        x += box.width + gap
        shelf = max(shelf, box.height)
    return sheets


def free_place(
    laid: Sequence[Laid], width: float, height: float, size: tuple[float, float], gap: float
) -> Point | None:
    """The top left of a free rectangle of `size` on a sheet, `gap` mm clear of all; None if the
    corners that the pieces leave give none.
    """
    across, down = size
    lefts = [0.0, *(one.box.right + gap for one in laid)]
    tops = [0.0, *(one.box.bottom - gap for one in laid)]
    for top in sorted(tops, reverse=True):
        for left in sorted(lefts):
            box = Box(left, top - down, left + across, top)
            inside = box.right <= width and box.bottom >= -height
            if inside and not any(box.meets(one.box, gap * 0.999) for one in laid):
                return Point(left, top)
    return None


def extent(laid: Sequence[Laid]) -> Box:
    """The box round all that is laid, mm; nothing is a box without size."""
    if not laid:
        return Box(0.0, 0.0, 0.0, 0.0)
    box = laid[0].box
    for one in laid[1:]:
        box = box.with_(one.box)
    return box


def _tall_first(pieces: Sequence[SewnPiece]) -> list[SewnPiece]:
    return sorted(pieces, key=lambda sewn: (-cut_box(sewn).height, sewn.piece.name))


def _turn_to_fit(sewn: SewnPiece, width: float, height: float) -> Affine:
    box = cut_box(sewn)
    if box.width <= width and box.height <= height:
        return Affine()
    if box.height <= width and box.width <= height:
        return Affine.turn(90.0, Point(0.0, 0.0))
    raise BadInput(
        f"It is {box.width:.0f} by {box.height:.0f} mm and does not fit a sheet of "
        f"{width:.0f} by {height:.0f}. Choose tiled pages.",
        where=sewn.piece.name,
    )


def _turned_box(sewn: SewnPiece, turn: Affine) -> Box:
    if turn == Affine():
        return cut_box(sewn)
    box: Box | None = None
    for edge in sewn.cut_line:
        turned = edge.chain.transformed(turn).box
        box = turned if box is None else box.with_(turned)
    return box or Box(0.0, 0.0, 0.0, 0.0)


def _laid(sewn: SewnPiece, box: Box, top_left: Point, turn: Affine | None = None) -> Laid:
    step = Vector(top_left.x - box.left, top_left.y - box.top)
    move = (turn or Affine()).then(Affine.shift(step))
    placed = Box(box.left + step.x, box.bottom + step.y, box.right + step.x, box.top + step.y)
    return Laid(sewn, move, placed)
