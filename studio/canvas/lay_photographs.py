"""The photographs that panels were traced over, small enough to lie under them on the table."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

import msgspec
from PySide6.QtCore import Qt
from PySide6.QtGui import QColor, QPixmap, QTransform

from studio.canvas.photograph import read_photograph, straightened
from studio.cloth.perspective import perspective_of
from studio.design.cloth import SalvagedPanel, Stock, Trace
from studio.errors import BadInput

MOST_PIXELS_ACROSS = 1200
"""A picture is made no larger: it lies faintly under pieces and is painted with every frame."""


class Photograph(msgspec.Struct, frozen=True):
    """A picture and the move that brings its pixels to where they lie on the cloth, y down."""

    picture: QPixmap
    to_cloth: QTransform


class Photographs:
    """Reads and straightens each photograph once. One that cannot be used is left out: the trace
    window says why, and the cloth is as good without it.
    """

    def __init__(self) -> None:
        self._known: dict[tuple[Path, Trace], Photograph | None] = {}

    def of(self, stash: Iterable[Stock], folder: Path) -> dict[str, Photograph]:
        """The photographs of panels by their names; `folder` is where the project lies."""
        found = {}
        for stock in stash:
            trace = stock.trace if isinstance(stock, SalvagedPanel) else None
            if trace is None or not trace.photograph:
                continue
            key = (folder, trace)
            if key not in self._known:
                self._known[key] = photograph_of(folder, trace)
            photograph = self._known[key]
            if photograph is not None:
                found[stock.name] = photograph
        return found


def photograph_of(folder: Path, trace: Trace) -> Photograph | None:
    """One photograph, straightened; None when it cannot be used."""
    try:
        image = read_photograph(folder / trace.photograph)
        # Black where the picture shows nothing is covered by the cloth's own outline.
        cloth = straightened(image, perspective_of(trace.pixels, trace.marks), _NOTHING)
    except BadInput:
        return None
    small = QPixmap.fromImage(cloth.image)
    if max(small.width(), small.height()) > MOST_PIXELS_ACROSS:
        small = small.scaled(
            MOST_PIXELS_ACROSS,
            MOST_PIXELS_ACROSS,
            Qt.AspectRatioMode.KeepAspectRatio,
            Qt.TransformationMode.SmoothTransformation,
        )
    rect = cloth.rect
    to_cloth = QTransform.fromScale(rect.width() / small.width(), rect.height() / small.height())
    to_cloth *= QTransform.fromTranslate(rect.left(), rect.top())
    if trace.face_down:
        to_cloth *= QTransform.fromScale(-1.0, 1.0)
    return Photograph(small, to_cloth)


_NOTHING = QColor(Qt.GlobalColor.white).name()
