"""Where the name of a piece stands on the sheet: on the piece, or below it, across no edge."""

from __future__ import annotations

import msgspec
from PySide6.QtCore import QPointF, QRectF, QSizeF, Qt
from PySide6.QtGui import QPainterPath

from studio.canvas.sheet_item import lettered, lettering
from studio.canvas.type_size import larger

NAME_SIZE, SMALL_NAME_SIZE = 9.5, 8.0
"""Points of a piece's name, bold, and of one that has no room so, plain."""

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
    """What is written of a name, where (mm on the scene), and whether up the piece, at which share
    of the grainline; below the piece otherwise.
    """

    text: str
    at: QPointF
    on_piece: bool
    turned: bool = False
    share: float = 0.5
    is_small: bool = False


def name_place(
    name: str,
    sewing: QPainterPath,
    cut: QRectF,
    grain: tuple[QPointF, QPointF],
    scale: float,
    name_room: tuple[float, float],
    before: NamePlace | None = None,
) -> NamePlace | None:
    """The place of a name at so many pixels a millimetre: on the grainline where it lies within the
    sewing line, level or upright; else below the piece in the `name_room` there (mm wide and high),
    in small letters where it has no room in others, and cut short in its middle where it has none
    in those. None where no more than a few letters have room. While a piece changes under the hand
    its name stays where it was `before` as long as it may.
    """
    _, wide, high = lettered(name, NAME_SIZE, bold=True)
    box = QSizeF((wide + _ROUND.x()) / scale, (high + _ROUND.y()) / scale)
    tried = [(turned, share) for turned in (False, True) for share in _SHARES]
    if before is not None and before.on_piece:
        tried.insert(0, (before.turned, before.share))
    for turned, share in tried:
        at = grain[0] + (grain[1] - grain[0]) * share
        if _holds(sewing, at, box.transposed() if turned else box):
            return NamePlace(name, at, True, turned, share)
    if name_room[1] * scale < (DROP + _DESCENT) * larger():
        return None
    room, text = name_room[0] * scale - _APART, name
    if wide > room:
        _, metrics = lettering(SMALL_NAME_SIZE, bold=False)
        text = metrics.elidedText(name, Qt.TextElideMode.ElideMiddle, max(room, 0.0))
        if len(text) < min(_FEWEST, len(name)):
            return None
    return NamePlace(text, QPointF(cut.center().x(), cut.bottom()), False, is_small=wide > room)


def _holds(sewing: QPainterPath, middle: QPointF, size: QSizeF) -> bool:
    """Whether a box lies within the sewing line."""
    wide, high = size.width(), size.height()
    box = QRectF(middle.x() - wide / 2.0, middle.y() - high / 2.0, wide, high)
    return sewing.boundingRect().contains(box) and sewing.contains(box)
