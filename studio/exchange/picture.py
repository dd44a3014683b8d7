"""A picture of all pieces, in the colours of their cloths."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path

from PySide6.QtCore import QBuffer, QByteArray, QIODevice
from PySide6.QtGui import QColor, QImage, QPainter

from studio.design.file import write_whole
from studio.errors import BadInput
from studio.exchange.arrange import arranged, extent
from studio.exchange.paint.pieces import Ink, ensure_gui, paint_laid
from studio.sew.sewn import SewnPiece

_SHEET_WIDTH = 2300.0
_GAP = 60.0
_MARGIN = 60.0
_GROUND = "#f4f0e6"
_NEUTRAL = "#cfd6dc"


def write_png(
    pieces: Sequence[SewnPiece],
    path: Path | str,
    *,
    colours: Mapping[str, str] | None = None,
    width_px: int = 1800,
) -> None:
    """Write the picture; `colours` gives each cloth's colour as #rrggbb.

    Raises:
        BadInput: there are no pieces, or the file cannot be written.
    """
    if not pieces:
        raise BadInput("There are no pieces to show.", path=str(path))
    ensure_gui()
    laid = arranged(pieces, _SHEET_WIDTH, _GAP)
    whole = extent(laid)
    scale = width_px / (whole.width + 2.0 * _MARGIN)
    image = QImage(
        width_px, round((whole.height + 2.0 * _MARGIN) * scale), QImage.Format.Format_RGB32
    )
    image.fill(QColor(_GROUND))
    painter = QPainter(image)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.scale(scale, scale)
    painter.translate(_MARGIN - whole.left, _MARGIN + whole.top)
    for one in laid:
        tint = _tint((colours or {}).get(one.sewn.piece.cloth, _NEUTRAL))
        ink = Ink(line="#26323c", cut=2.4, sewing=1.2, fine=1.0, fill=tint, text=28.0)
        paint_laid(painter, one, ink)
    painter.end()
    write_whole(Path(path), _png(image))


def _tint(colour: str) -> str:
    """A cloth's colour lightened, so that lines and words on it are legible."""
    cloth, paper = QColor(colour), QColor("#fffdf8")
    share = 0.38
    return QColor(
        round(cloth.red() * share + paper.red() * (1 - share)),
        round(cloth.green() * share + paper.green() * (1 - share)),
        round(cloth.blue() * share + paper.blue() * (1 - share)),
    ).name()


def _png(image: QImage) -> bytes:
    data = QByteArray()
    buffer = QBuffer(data)
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    image.save(buffer, "PNG")
    return bytes(data.data())
