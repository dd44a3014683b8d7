"""What all items of the sheet share: lettering, a place; pictures kept of what lies still."""

from __future__ import annotations

from functools import cache, lru_cache

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import (
    QColor,
    QFont,
    QFontMetricsF,
    QPainter,
    QPen,
    QPixmap,
    QStaticText,
    QTransform,
)
from PySide6.QtWidgets import (
    QApplication,
    QGraphicsItem,
    QGraphicsRectItem,
    QStyleOptionGraphicsItem,
    QWidget,
)

from studio.canvas.paths import to_scene
from studio.canvas.theme import Theme
from studio.canvas.type_size import base_points, larger
from studio.curves import Point, Vector

_KEPT = QGraphicsItem.CacheMode.DeviceCoordinateCache
_DRAWN = QGraphicsItem.CacheMode.NoCache


def write(
    painter: QPainter,
    place: QPointF,
    text: str,
    colour: str,
    *,
    size: float,
    bold: bool = False,
    ground: str = "",
    ends_there: bool = False,
    below: float = 0.0,
    turned: float = 0.0,
) -> None:
    """Text of a size in points centred on a place (or ending there), as large at any zoom, on a
    ground if given, `below` pixels lower (more where letters are larger), or its middle there and
    `turned` by degrees.
    """
    ratio = painter.device().devicePixelRatioF()
    picture, middle, width = _picture_of(text, colour, size, bold, ground, turned, ratio)
    at = painter.worldTransform().map(place) + QPointF(0.0, below * larger()) - middle
    if ends_there:
        at -= QPointF(width / 2.0 + 8.0, 0.0)
    painter.save()
    painter.resetTransform()
    # On whole pixels of the screen letters stay as sharp as they were drawn.
    whole = QPointF(round(at.x() * ratio), round(at.y() * ratio)) / ratio
    painter.drawPixmap(whole, picture)
    painter.restore()


@lru_cache(maxsize=500)
def _picture_of(
    text: str, colour: str, size: float, bold: bool, ground: str, turned: float, ratio: float
) -> tuple[QPixmap, QPointF, float]:
    """A text drawn once, on its ground if given; where the middle of its baseline is on the picture
    (the middle of the text when it is turned), and its width, in pixels.

    Laying a picture costs a tenth of drawing letters, and names are laid in every frame.
    """
    font, metrics = lettering(size, bold=bold)
    words, width, height = lettered(text, size, bold=bold)
    base = height / 2.0 if turned else 0.0
    plate = QRectF(-width / 2.0 - 5.0, base - height - 4.0, width + 10.0, height + 9.0)
    letters = QRectF(-width / 2.0, base - metrics.ascent(), width, metrics.height())
    turn = QTransform().rotate(-turned)
    box = turn.mapRect(plate.united(letters)).toAlignedRect()
    picture = QPixmap(box.size() * ratio)
    picture.setDevicePixelRatio(ratio)
    picture.fill(Qt.GlobalColor.transparent)
    painter = QPainter(picture)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.translate(-box.topLeft())
    painter.rotate(-turned)
    if ground:
        tint = QColor(ground)
        tint.setAlphaF(0.86)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(tint)
        painter.drawRoundedRect(plate, 4.0, 4.0)
    painter.setFont(font)
    painter.setPen(QColor(colour))
    painter.drawStaticText(letters.topLeft(), words)
    painter.end()
    return picture, QPointF(-box.topLeft()), width


@lru_cache(maxsize=2000)
def lettered(text: str, size: float, *, bold: bool) -> tuple[QStaticText, float, float]:
    """Text laid out once in the program's font, its width and the height of its ink in pixels."""
    font, metrics = lettering(size, bold=bold)
    words = QStaticText(text)
    words.setTextFormat(Qt.TextFormat.PlainText)
    words.prepare(QTransform(), font)
    return words, metrics.horizontalAdvance(text), metrics.tightBoundingRect(text).height()


@cache
def lettering(size: float, *, bold: bool) -> tuple[QFont, QFontMetricsF]:
    """The program's font, made once: `size` in points is for a desktop of ten points, and grows
    with its letters.
    """
    font = QFont(QApplication.font())
    font.setPointSizeF(size * base_points() / 10.0)
    font.setBold(bold)
    return font, QFontMetricsF(font)


def forget_letters() -> None:
    """Lay out anew from now on what was laid out in letters that the desktop has no more."""
    larger.cache_clear()
    for kept in (lettering, lettered, _picture_of):
        kept.cache_clear()


class _Boxed(QGraphicsRectItem):
    """An item whose box Qt knows: it asks for it several times a frame, of every item, and each
    time it would have to ask Python. Without a pen, the box is the very rectangle.
    """

    def __init__(self, parent: QGraphicsItem | None = None) -> None:
        super().__init__(parent)
        self.setPen(QPen(Qt.PenStyle.NoPen))


class SheetItem(_Boxed):
    """Something with a box on the sheet (its `rect`, in its own millimetres), moved by a shift."""

    def __init__(self, theme: Theme, parent: QGraphicsItem | None = None) -> None:
        super().__init__(parent)
        self.theme = theme
        self._shift: Vector | None = None

    def paint(
        self,
        painter: QPainter,
        _option: QStyleOptionGraphicsItem,
        _widget: QWidget | None = None,
    ) -> None:
        """Qt's call; what an item looks like is its `draw`."""
        self.draw(painter)

    def draw(self, painter: QPainter) -> None:
        """Paint the item, in its own millimetres."""
        raise NotImplementedError

    def set_shift(self, shift: Vector) -> None:
        """Lie at a shift (mm) on the sheet."""
        if shift is not self._shift:
            self._shift = shift
            self.setPos(to_scene(Point(shift.x, shift.y)))

    def set_theme(self, theme: Theme) -> None:
        """Take other colours."""
        self.theme = theme
        self.update()

    def _take_rect(self, rect: QRectF) -> None:
        self.setRect(rect)
        self.update()


class NamedItem(SheetItem):
    """Something with names beside it, of which a picture is kept while it lies still: while a line
    is dragged most of what is on the sheet does not change.

    A picture ends at the item's box and names do not, so they are written afresh.
    """

    def __init__(self, theme: Theme) -> None:
        super().__init__(theme)
        self._names = _Names(self)

    def write_names(self, painter: QPainter) -> None:
        """Write the item's names, in its own millimetres."""
        raise NotImplementedError

    def keep_picture(self, kept: bool) -> None:
        """Keep a picture of the item from now on, or draw it anew each time."""
        if kept is not (self.cacheMode() is _KEPT):
            self.setCacheMode(_KEPT if kept else _DRAWN)

    def _take_rect(self, rect: QRectF) -> None:
        self._names.setRect(rect)
        super()._take_rect(rect)


class _Names(_Boxed):
    """The names of an item, over it."""

    def __init__(self, owner: NamedItem) -> None:
        super().__init__(owner)
        self._owner = owner

    def paint(
        self,
        painter: QPainter,
        _option: QStyleOptionGraphicsItem,
        _widget: QWidget | None = None,
    ) -> None:
        self._owner.write_names(painter)


@cache
def mixed(colour: str, ground: str, share: float) -> QColor:
    """A colour laid on a ground with so much of it showing."""
    one, two, rest = QColor(colour), QColor(ground), 1.0 - share
    return QColor(
        round(share * one.red() + rest * two.red()),
        round(share * one.green() + rest * two.green()),
        round(share * one.blue() + rest * two.blue()),
    )
