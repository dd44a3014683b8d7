"""A photograph on the screen: read upright, and straightened to so many millimetres a pixel."""

from __future__ import annotations

from pathlib import Path

import msgspec
from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QColor, QImage, QImageReader, QPainter, QTransform

from studio.cloth.perspective import Perspective
from studio.errors import BadInput

MOST_PIXELS = 24_000_000
"""A straightened picture is made no larger; its pixels grow instead."""

_MOST_MEGABYTES = 1024
"""Of memory for one photograph: about 250 million pixels."""


_SMALLEST = 400
"""Pixels; a smaller picture is not halved."""


class Straightened(msgspec.Struct, frozen=True):
    """A picture of the cloth seen square on: what it shows, mm, y up (left, bottom, right, top),
    and the side of a pixel in mm.
    """

    image: QImage
    field: tuple[float, float, float, float]
    mm_per_pixel: float

    @property
    def rect(self) -> QRectF:
        """Where it lies on the scene, y down."""
        left, bottom, right, top = self.field
        return QRectF(left, -top, right - left, top - bottom)


class Levels:
    """A picture and its halves: seen from afar it is quick to paint and does not shimmer."""

    def __init__(self, image: QImage) -> None:
        self.image = image
        self._levels = [image]
        while max(self._levels[-1].width(), self._levels[-1].height()) > _SMALLEST:
            last = self._levels[-1]
            size = QSize((last.width() + 1) // 2, (last.height() + 1) // 2)
            self._levels.append(
                last.scaled(
                    size,
                    Qt.AspectRatioMode.IgnoreAspectRatio,
                    Qt.TransformationMode.SmoothTransformation,
                )
            )

    def paint(self, painter: QPainter, rect: QRectF, scale: float) -> None:
        """Fill a rectangle of the scene, where a pixel of the picture is `scale` pixels of the
        screen wide.
        """
        level = 0
        while level + 1 < len(self._levels) and scale * 2.0 ** (level + 1) <= 1.0:
            level += 1
        painter.drawImage(rect, self._levels[level])


def read_photograph(path: Path) -> QImage:
    """A picture file, turned upright as its camera says.

    Raises:
        BadInput: it cannot be read or is no picture; names the file and the reason.
    """
    if not path.is_file():
        raise BadInput("cannot be read: there is no such file.", path=str(path))
    QImageReader.setAllocationLimit(_MOST_MEGABYTES)
    reader = QImageReader(str(path))
    reader.setAutoTransform(True)
    image = reader.read()
    if image.isNull():
        raise BadInput(f"is no picture that can be shown: {reader.errorString()}.", path=str(path))
    image = image.convertToFormat(QImage.Format.Format_RGB32)
    image.setDevicePixelRatio(1.0)
    return image


def straightened(photograph: QImage, seen: Perspective, ground: str) -> Straightened:
    """The photograph with its perspective taken out, as fine as it is in the middle of the field;
    what it does not show is of the ground's colour.

    Raises:
        BadInput: nothing of it lies near the marks.
    """
    left, bottom, right, top = seen.field(photograph.width(), photograph.height())
    middle = seen.in_picture(((left + right) / 2.0, (bottom + top) / 2.0))
    side = seen.mm_per_pixel(middle)
    area = (right - left) * (top - bottom)
    side = max(side, (area / MOST_PIXELS) ** 0.5)
    size = QSize(round((right - left) / side), round((top - bottom) / side)).expandedTo(QSize(1, 1))
    image = QImage(size, QImage.Format.Format_RGB32)
    image.fill(QColor(ground))
    painter = QPainter(image)
    painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
    # From the cloth to the picture, and then the other way with exactness.
    to_image = QTransform(
        size.width() / (right - left),
        0.0,
        0.0,
        0.0,
        -size.height() / (top - bottom),
        0.0,
        -left * size.width() / (right - left),
        top * size.height() / (top - bottom),
        1.0,
    )
    painter.setTransform(transform_of(seen) * to_image)
    painter.drawImage(0, 0, photograph)
    painter.end()
    return Straightened(image, (left, bottom, right, top), side)


def transform_of(seen: Perspective) -> QTransform:
    """Pixels to mm, y up, as Qt writes it: rows for what comes in."""
    a, b, c, d, e, f, g, h, i = seen.matrix
    return QTransform(a, d, g, b, e, h, c, f, i)
