"""A walked seam as a picture: five moments of it under one another, and what it measured."""

from __future__ import annotations

from collections.abc import Mapping
from functools import partial
from pathlib import Path

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QColor, QImage, QPainter

from studio import numbers
from studio.design.file import write_whole
from studio.exchange.paint.offscreen import ensure_gui, painting
from studio.exchange.paint.walk import WalkStyle, looked_at, paint_walk
from studio.exchange.paint.writing import shortened, write
from studio.exchange.picture import encoded
from studio.exchange.walk_words import walk_of, walk_words
from studio.numbers import LengthUnit
from studio.pattern import Pattern
from studio.sew.sewn import SewnPiece
from studio.sew.walk import Walk

_WIDTH, _CELL, _BORDER, _HEAD = 1100, 360, 24, 40
_SHARES = (0.0, 0.25, 0.5, 0.75, 1.0)
_WORDS = 220
_PAPER = "#fffdf8"


def write_walk(pattern: Pattern, name: str, path: Path | str, unit: LengthUnit = "mm") -> None:
    """Write the picture of a walk as PNG, lengths in `unit`.

    Raises:
        BadInput: as `walk_of`, or the file cannot be written.
    """
    walk = walk_of(pattern, name)
    ensure_gui()
    write_whole(Path(path), encoded(_painted(pattern, walk, unit)))


def _painted(pattern: Pattern, walk: Walk, unit: LengthUnit) -> QImage:
    words = walk_words(walk, unit)
    pieces = pattern.pieces_by_name()
    box = looked_at(walk, pieces)
    turned = box.height() > box.width()
    lines = len(words) * 24 + _BORDER
    image = QImage(
        _WIDTH, _HEAD + len(_SHARES) * _CELL + lines + _BORDER, QImage.Format.Format_RGB32
    )
    image.fill(QColor(_PAPER))
    with painting(image) as painter:
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setRenderHint(QPainter.RenderHint.TextAntialiasing)
        painter.setPen(QColor("#26323c"))
        title = f"{pattern.design.name}: {walk.join.name}"
        head = shortened(title, 22.0, _WIDTH - 2.0 * _BORDER, bold=True)
        write(painter, QPointF(_BORDER, 30.0), head, 22.0, bold=True)
        for row, share in enumerate(_SHARES):
            cell = QRectF(_BORDER, _HEAD + row * _CELL, _WIDTH - 2.0 * _BORDER, _CELL - 16.0)
            _paint_moment(painter, walk, share, pieces, cell, box, unit, turned=turned)
        y = _HEAD + len(_SHARES) * _CELL + 12.0
        painter.setPen(QColor("#26323c"))
        for sentence in words:
            y += 24.0
            write(painter, QPointF(_BORDER, y), sentence, 16.0)
    return image


def _paint_moment(
    painter: QPainter,
    walk: Walk,
    share: float,
    pieces: Mapping[str, SewnPiece],
    cell: QRectF,
    box: QRectF,
    unit: LengthUnit,
    *,
    turned: bool,
) -> None:
    say = partial(numbers.length, unit=unit, decimals=numbers.DECIMALS[unit])
    step = walk.at(walk.length_a * share)
    painter.save()
    beside = cell.adjusted(_WORDS, 0.0, 0.0, 0.0)
    painter.setClipRect(beside)
    wide, high = (box.height(), box.width()) if turned else (box.width(), box.height())
    scale = min(beside.width() / wide, beside.height() / high)
    painter.translate(beside.center())
    painter.scale(scale, scale)
    if turned:
        painter.rotate(90.0)
    painter.translate(-box.center())
    paint_walk(painter, walk, step, pieces, WalkStyle())
    painter.restore()
    painter.setPen(QColor("#26323c"))
    write(painter, QPointF(cell.left(), cell.top() + 30.0), say(step.along_a), 18.0)
    more = say(step.difference, signed=True)
    write(painter, QPointF(cell.left(), cell.top() + 54.0), f"second side {more}", 14.0)
