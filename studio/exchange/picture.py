"""A picture of all pieces laid out, as PNG."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path

from PySide6.QtCore import QBuffer, QByteArray, QIODevice
from PySide6.QtGui import QColor, QImage, QImageWriter, QPainter

from studio.design.file import write_whole
from studio.errors import BadInput, YokewrightError
from studio.exchange.arrange import Laid, arranged, cut_box, extent
from studio.exchange.paint.offscreen import ensure_gui, painting
from studio.exchange.paint.pieces import PieceStyle, paint_laid
from studio.sew.sewn import SewnPiece

PAPER = "#f6f2e9"
CLOTH = "#8a97a3"
"""A cloth without a colour of its own."""

LEAST_WIDTH, MOST_WIDTH = 300, 20_000
"""Pixels; below, no label can be read, above, a picture no longer opens everywhere."""

_INK, _SEAM, _FAINT = "#26323c", "#1d5c88", "#4d5963"
_SOFT = 0.38
"""Share of the cloth's colour in the fill; the rest is paper, so that lines stay legible."""

_SHAPE = 1.5
"""Width over height wished for."""

_GAP_PIXELS, _BORDER_PIXELS, _LABEL_PIXELS = 34.0, 40.0, 17.0
_WIDTHS_TRIED = 16


def write_png(
    pieces: Sequence[SewnPiece],
    path: Path | str,
    *,
    colours: Mapping[str, str] | None = None,
    width_px: int = 1800,
) -> None:
    """Paint the pieces, each filled softly with its cloth's colour (#rrggbb by cloth name).

    The height follows from the pieces. The same pieces give the same bytes.

    Raises:
        BadInput: there are no pieces, the width is out of bounds, a colour is not #rrggbb, or
            the file cannot be written.
    """
    target = Path(path)
    if not pieces:
        raise BadInput("There are no pieces to write.", path=str(target))
    if not LEAST_WIDTH <= width_px <= MOST_WIDTH:
        raise BadInput(
            f"The picture should be {LEAST_WIDTH} to {MOST_WIDTH} pixels wide, not {width_px}."
        )
    fills = {cloth: _softened(cloth, colour) for cloth, colour in (colours or {}).items()}
    ensure_gui()
    write_whole(target, encoded(_painted(pieces, fills, width_px)))


def _painted(pieces: Sequence[SewnPiece], fills: Mapping[str, str], width_px: int) -> QImage:
    laid, millimetre = _laid(pieces, width_px)
    box = extent(laid)
    border = _BORDER_PIXELS / millimetre
    below = border + _LABEL_PIXELS * 2.0 / millimetre
    height_px = round((box.height + border + below) * millimetre)
    image = QImage(width_px, height_px, QImage.Format.Format_RGB32)
    if image.isNull():
        raise YokewrightError(
            f"There is no room for a picture of {width_px} by {height_px} pixels."
        )
    image.fill(QColor(PAPER))
    with painting(image) as painter:
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setRenderHint(QPainter.RenderHint.TextAntialiasing)
        painter.scale(millimetre, millimetre)
        painter.translate(border, border)
        for one in laid:
            cloth = one.sewn.piece.cloth
            fill = fills.get(cloth) or _softened(cloth, CLOTH)
            paint_laid(painter, one, _style(millimetre, fill))
    return image


def _laid(pieces: Sequence[SewnPiece], width_px: int) -> tuple[list[Laid], float]:
    """The arrangement nearest to the wished shape, and its pixels a millimetre."""
    boxes = [cut_box(sewn) for sewn in pieces]
    widest, all_wide = max(box.width for box in boxes), sum(box.width for box in boxes)
    room = width_px - 2.0 * _BORDER_PIXELS
    best: tuple[float, list[Laid], float] | None = None
    for k in range(_WIDTHS_TRIED):
        width = widest + (all_wide - widest) * k / (_WIDTHS_TRIED - 1)
        gap = _GAP_PIXELS * width / room
        laid = arranged(pieces, width + gap * len(pieces) * k / (_WIDTHS_TRIED - 1), gap)
        box = extent(laid)
        shape = box.width / box.height
        strays = max(shape / _SHAPE, _SHAPE / shape)
        if best is None or strays < best[0] - 1e-9:
            best = (strays, laid, room / box.width)
    assert best is not None
    return best[1:]


def _style(millimetre: float, fill: str) -> PieceStyle:
    """Widths and sizes that are the same in pixels whatever the scale."""
    return PieceStyle(
        ink=_INK,
        seam=_SEAM,
        faint=_FAINT,
        fill=fill,
        cut_width=2.2 / millimetre,
        seam_width=1.2 / millimetre,
        fine_width=1.2 / millimetre,
        label_size=_LABEL_PIXELS / millimetre,
        word_size=12.5 / millimetre,
        arrow=14.0 / millimetre,
        cross=5.0 / millimetre,
        gap=_GAP_PIXELS / millimetre,
    )


def _softened(cloth: str, colour: str) -> str:
    """A colour mixed with the paper."""
    digits = colour.removeprefix("#")
    if len(digits) != 6 or not colour.startswith("#") or not _is_hexadecimal(digits):
        raise BadInput(f"The colour {colour!r} should be written #rrggbb.", where=cloth)
    mixed = (
        round(_SOFT * int(digits[k : k + 2], 16) + (1.0 - _SOFT) * int(PAPER[k + 1 : k + 3], 16))
        for k in (0, 2, 4)
    )
    return "#" + "".join(f"{part:02x}" for part in mixed)


def _is_hexadecimal(digits: str) -> bool:
    return all(digit in "0123456789abcdefABCDEF" for digit in digits)


def encoded(image: QImage) -> bytes:
    """A picture as PNG; raises YokewrightError when Qt cannot."""
    buffer = QBuffer()
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    writer = QImageWriter(buffer, QByteArray(b"png"))
    if not writer.write(image):
        raise YokewrightError(f"The picture could not be made: {writer.errorString()}.")
    return bytes(buffer.data().data())
