"""Pieces side by side without overlap: tall ones first, hung in rows, short ones stacked beneath.

Pieces stand as drawn, so that every grainline keeps its direction; only a piece too large for a
sheet is turned a quarter. Nothing here saves cloth: it is for paper, plotters and pictures.
"""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from studio import numbers
from studio.curves import Affine, Box, Point, Vector
from studio.errors import BadInput
from studio.sew.sewn import SewnPiece

_SLACK = 1e-9


class Laid(msgspec.Struct, frozen=True):
    """A piece, the move that takes it to its place on the sheet, and its cut line's box there
    (mm). The top left of a sheet is (0, 0) and heights run down from it, below zero.
    """

    sewn: SewnPiece
    move: Affine
    box: Box


def arranged(pieces: Sequence[SewnPiece], width: float, gap: float) -> list[Laid]:
    """The pieces on one sheet of `width` mm, as long as it must be; in the order given.

    Cut lines keep `gap` mm apart. The same pieces give the same arrangement. A piece wider than
    the sheet gets a row of its own and sticks out.
    """
    sheet = _Sheet(width, float("inf"), gap)
    boxes = [cut_box(sewn) for sewn in pieces]
    for index in _tall_first(boxes):
        sheet.takes(index, boxes[index].width, boxes[index].height)
    return _laid_on(sheet, pieces, [Affine()] * len(pieces))


def on_sheets(
    pieces: Sequence[SewnPiece], width: float, height: float, gap: float
) -> list[list[Laid]]:
    """The same on as many sheets of `width` by `height` mm as are needed, each piece whole.

    Raises:
        BadInput: a piece fits on no sheet, neither as drawn nor turned a quarter; names it.
    """
    turns = [_turn_to_fit(sewn, width, height) for sewn in pieces]
    boxes = [_turned_box(sewn, turn) for sewn, turn in zip(pieces, turns, strict=True)]
    sheets: list[_Sheet] = []
    for index in _tall_first(boxes):
        size = (boxes[index].width, boxes[index].height)
        if not any(sheet.takes(index, *size) for sheet in sheets):
            sheets.append(_Sheet(width, height, gap))
            sheets[-1].takes(index, *size)
    return [_laid_on(sheet, pieces, turns) for sheet in sheets]


def cut_box(sewn: SewnPiece) -> Box:
    """The least upright box (mm) round a piece's cut line and its sewing line, exact."""
    return Box.round_all([sewn.piece.outline.box, *(edge.chain.box for edge in sewn.cut_line)])


def extent(laid: Sequence[Laid]) -> Box:
    """The least upright box (mm) round all that is laid; nothing is a box without size."""
    if not laid:
        return Box(0.0, 0.0, 0.0, 0.0)
    return Box.round_all([one.box for one in laid])


class _Column:
    __slots__ = ("members", "used", "width", "x")

    def __init__(self, x: float) -> None:
        self.x = x
        self.width = 0.0
        self.used = 0.0
        self.members: list[tuple[int, float]] = []


class _Row:
    """Pieces that hang from one level, in columns; the first and tallest sets the height."""

    __slots__ = ("columns", "height", "top")

    def __init__(self, top: float, height: float) -> None:
        self.top = top
        self.height = height
        self.columns: list[_Column] = []

    def takes(self, index: int, width: float, height: float, room: float, gap: float) -> bool:
        """Hang a piece under an earlier one or in a new column; False when there is no room."""
        if height > self.height + _SLACK:
            return False
        for column in self.columns:
            # The last column may still grow to the right.
            widest = room - column.x if column is self.columns[-1] else column.width
            if width <= widest + _SLACK and column.used + gap + height <= self.height + _SLACK:
                self._hang(column, index, column.used + gap, width, height)
                return True
        x = self.columns[-1].x + self.columns[-1].width + gap if self.columns else 0.0
        if x + width > room + _SLACK:
            return False
        self.columns.append(_Column(x))
        self._hang(self.columns[-1], index, 0.0, width, height)
        return True

    @staticmethod
    def _hang(column: _Column, index: int, depth: float, width: float, height: float) -> None:
        column.members.append((index, depth))
        column.used = depth + height
        column.width = max(column.width, width)


class _Sheet:
    """Rows from the top down; depths grow downward from 0."""

    def __init__(self, width: float, height: float, gap: float) -> None:
        self._width = width
        self._height = height
        self._gap = gap
        self._rows: list[_Row] = []

    def takes(self, index: int, width: float, height: float) -> bool:
        for row in self._rows:
            if row.takes(index, width, height, self._width, self._gap):
                return True
        top = self._rows[-1].top + self._rows[-1].height + self._gap if self._rows else 0.0
        if top + height > self._height + _SLACK:
            return False
        self._rows.append(_Row(top, height))
        # The first of a row is taken however wide it is.
        return self._rows[-1].takes(index, width, height, max(width, self._width), self._gap)

    def corners(self) -> dict[int, Point]:
        """Upper left corner of each piece."""
        return {
            index: Point(column.x, -(row.top + depth))
            for row in self._rows
            for column in row.columns
            for index, depth in column.members
        }


def _tall_first(boxes: Sequence[Box]) -> list[int]:
    # A piece and its facing are as high within what rounding leaves, and lie side by side.
    sizes = [(-round(box.height, 3), -round(box.width, 3)) for box in boxes]
    return sorted(range(len(boxes)), key=lambda k: (*sizes[k], k))


def _laid_on(sheet: _Sheet, pieces: Sequence[SewnPiece], turns: Sequence[Affine]) -> list[Laid]:
    laid = []
    for index, corner in sorted(sheet.corners().items()):
        box = _turned_box(pieces[index], turns[index])
        step = Vector(corner.x - box.left, corner.y - box.top)
        laid.append(Laid(pieces[index], turns[index].then(Affine.shift(step)), box.moved(step)))
    return laid


def _turn_to_fit(sewn: SewnPiece, width: float, height: float) -> Affine:
    box = cut_box(sewn)
    if box.width <= width + _SLACK and box.height <= height + _SLACK:
        return Affine()
    if box.height <= width + _SLACK and box.width <= height + _SLACK:
        return Affine.turn(90.0, Point(0.0, 0.0))
    raise BadInput(
        f"It is {numbers.bare(box.width, decimals=0)} by {numbers.length(box.height, decimals=0)} "
        f"and does not fit a sheet of {numbers.bare(width, decimals=0)} by "
        f"{numbers.length(height, decimals=0)}.",
        where=sewn.piece.name,
        exact=(box.width, box.height, width, height),
    )


def _turned_box(sewn: SewnPiece, turn: Affine) -> Box:
    """Exact for quarter turns, the only ones made here."""
    box = cut_box(sewn)
    one, two = turn(Point(box.left, box.bottom)), turn(Point(box.right, box.top))
    return Box(min(one.x, two.x), min(one.y, two.y), max(one.x, two.x), max(one.y, two.y))
