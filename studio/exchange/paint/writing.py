"""Text in millimetres on a painter, the same at any resolution."""

from __future__ import annotations

import itertools
import re
from collections.abc import Iterable
from typing import Literal, TypeAlias

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QFont, QFontDatabase, QFontMetricsF, QPainter

Align: TypeAlias = Literal["left", "centre", "right"]

LEADING = 1.35
"""From one baseline to the next, in sizes of the letters."""

_BREAKS = re.compile(r"(?<!\d) | (?!(?:mm|cm|cm²|m|inch|inch²|%|\d+/\d+)(?!\w))")
"""Spaces at which a line may end."""

_PIXELS = 100
"""Letters are set at this size, where metrics are fine enough, and scaled down."""


def write(
    painter: QPainter,
    place: QPointF,
    text: str,
    size: float,
    *,
    bold: bool = False,
    align: Align = "left",
    turned: float = 0.0,
) -> None:
    """Text with its baseline at a place, `size` mm high (from line to line of solid type).

    `turned` is in degrees, counter-clockwise as seen; the text stays text in a PDF.
    """
    if not text:
        return
    painter.save()
    painter.translate(place)
    painter.rotate(-turned)
    painter.scale(size / _PIXELS, size / _PIXELS)
    font = _font(bold)
    painter.setFont(font)
    wide = QFontMetricsF(font).horizontalAdvance(text)
    shift = {"left": 0.0, "centre": -wide / 2.0, "right": -wide}[align]
    painter.drawText(QPointF(shift, 0.0), text)
    painter.restore()


def width_of(text: str, size: float, *, bold: bool = False) -> float:
    """Width in mm of a line of text."""
    return QFontMetricsF(_font(bold)).horizontalAdvance(text) * size / _PIXELS


def shortened(text: str, size: float, width: float, *, bold: bool = False) -> str:
    """The text, or as much of its start as fits `width` mm with three dots after it."""
    metrics = QFontMetricsF(_font(bold))
    return metrics.elidedText(text, Qt.TextElideMode.ElideRight, width * _PIXELS / size)


def wrapped(text: str, size: float, width: float, *, bold: bool = False) -> list[str]:
    """Lines no wider than `width` mm, broken at plain spaces, though not between a number and its
    unit or fraction; a longer word is broken after a hyphen, or wherever it must be.
    """
    lines: list[str] = []
    tied = _BREAKS.split(text)
    parts = (
        [word] if width_of(word, size, bold=bold) <= width else word.split(" ") for word in tied
    )
    for word in itertools.chain.from_iterable(parts):
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and width_of(longer, size, bold=bold) <= width:
            lines[-1] = longer
        else:
            lines += _broken(word, size, width, bold=bold)
    return lines


def _broken(word: str, size: float, width: float, *, bold: bool) -> list[str]:
    """A word in lines that fit, each but the last as long as can be."""
    lines = []
    while width_of(word, size, bold=bold) > width and len(word) > 1:
        fits = max(
            (k for k in range(1, len(word)) if width_of(word[:k], size, bold=bold) <= width),
            default=1,
        )
        after = word.rfind("-", 0, fits) + 1
        cut = after if after else fits
        lines.append(word[:cut])
        word = word[cut:]
    return [*lines, word]


def paragraphs_height(paragraphs: Iterable[str], size: float, width: float) -> float:
    """How much `write_paragraphs` takes below its place, mm."""
    return sum(
        len(wrapped(paragraph, size, width)) * size * LEADING + size * 0.5
        for paragraph in paragraphs
    )


def write_paragraphs(
    painter: QPainter, place: QPointF, paragraphs: Iterable[str], size: float, width: float
) -> float:
    """Wrapped paragraphs below a place; gives the y (mm) below the last one."""
    y = place.y()
    for paragraph in paragraphs:
        for line in wrapped(paragraph, size, width):
            y += size * LEADING
            write(painter, QPointF(place.x(), y), line, size)
        y += size * 0.5
    return y


def _font(bold: bool) -> QFont:
    font = QFontDatabase.systemFont(QFontDatabase.SystemFont.GeneralFont)
    font.setStyleHint(QFont.StyleHint.SansSerif)
    font.setPixelSize(_PIXELS)
    font.setBold(bold)
    font.setHintingPreference(QFont.HintingPreference.PreferNoHinting)
    return font
