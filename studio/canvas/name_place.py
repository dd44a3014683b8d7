"""Where the name of a piece stands on the sheet: on the piece, or below it, across no edge."""

from __future__ import annotations

import msgspec
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPainterPath

from studio.canvas.placing import GAP
from studio.canvas.sheet_item import lettered, lettering

NAME_SIZE = 9.5
"""Points of a piece's name."""

_ROUND = QPointF(14.0, 12.0)
"""Room for the plate a name stands on and a little more, pixels in all."""

_SHARES = (0.5, 0.35, 0.65, 0.2, 0.8)
"""Places along the grainline that are tried."""

DROP = 13.0
"""The baseline of a name below its piece, pixels below it."""

_DESCENT = 2.5
"""What of a name reaches below its baseline and keeps clear, pixels."""

_APART = 6.0
"""Between a name and what is beside it, pixels in all."""

_FEWEST = 6
"""A name of which fewer letters have room is not written."""


class NamePlace(msgspec.Struct, frozen=True):
    """What is written of a name, where (mm on the scene), and whether up the piece; below the piece
    otherwise.
    """

    text: str
    at: QPointF
    on_piece: bool
    turned: bool = False


def name_place(
    name: str,
    sewing: QPainterPath,
    cut: QRectF,
    grain: tuple[QPointF, QPointF],
    scale: float,
    name_room: float,
) -> NamePlace | None:
    """The place of a name at so many pixels a millimetre: on the grainline where it lies within the
    sewing line, level or upright; else below the piece, cut short in its middle to the `name_room`
    there (mm). None where no more than a few letters have room.
    """
    _, wide, high = lettered(name, NAME_SIZE, bold=True)
    on_it = _on(sewing, grain, (wide + _ROUND.x()) / scale, (high + _ROUND.y()) / scale)
    if on_it is not None:
        return NamePlace(name, on_it[0], True, on_it[1])
    if GAP * scale < DROP + _DESCENT:
        return None
    room, text = name_room * scale - _APART, name
    if wide > room:
        _, metrics = lettering(NAME_SIZE, bold=True)
        text = metrics.elidedText(name, Qt.TextElideMode.ElideMiddle, max(room, 0.0))
        if len(text) < min(_FEWEST, len(name)):
            return None
    return NamePlace(text, QPointF(cut.center().x(), cut.bottom()), False)


def _on(
    sewing: QPainterPath, grain: tuple[QPointF, QPointF], wide: float, high: float
) -> tuple[QPointF, bool] | None:
    """The middle of a box on the grainline within the sewing line, and whether it is turned up."""
    frame = sewing.boundingRect()
    for turned, (width, height) in ((False, (wide, high)), (True, (high, wide))):
        if width > frame.width() or height > frame.height():
            continue
        for share in _SHARES:
            at = grain[0] + (grain[1] - grain[0]) * share
            box = QRectF(at.x() - width / 2.0, at.y() - height / 2.0, width, height)
            if frame.contains(box) and sewing.contains(box):
                return at, turned
    return None
