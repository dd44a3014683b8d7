"""A draft-along sheet set on pages: figures on the left, sentences on the right."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TypeAlias

import msgspec
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen

from studio.curves import Point
from studio.exchange.along import Figure, Sheet, Stage
from studio.exchange.paint.paths import path_of
from studio.exchange.paint.writing import LEADING, shortened, width_of, wrapped, write
from studio.exchange.paper_sizes import Paper

EDGE = 15.0
"""White round a page, mm."""

_TITLE, _HEAD, _TEXT, _LETTER = 6.5, 4.2, 3.4, 3.2
_COLUMN = 62.0
"""Width of the figures, mm; sentences stand to the right of them."""

_FIGURE, _LARGE = 50.0, 118.0
"""Heights of figures, mm."""

_SPACE = 6.0
_BETWEEN_SENTENCES = 0.45
_FOOT = 2.8

_INK, _FAINT, _DRAWN = "#000000", "#9a9a9a", "#1c5a7a"
_PENS = {
    "before": (_FAINT, 0.25, (3.0, 2.0)),
    "drawn": (_DRAWN, 0.4, ()),
    "cut": (_INK, 0.5, ()),
    "dashed": (_INK, 0.18, (6.0, 4.0)),
}
_DOT = 0.7
_SAMPLE = 0.6
"""Between places of a line that letters keep clear of, mm on paper."""

_DIRECTIONS = ((1, 1), (-1, 1), (1, -1), (-1, -1), (1.5, 0), (-1.5, 0), (0, 1.5), (0, -1.5))


class Line(msgspec.Struct, frozen=True):
    """A line of text with its baseline at x, y (mm from the upper left of the page)."""

    x: float
    y: float
    text: str
    size: float
    bold: bool = False


class Picture(msgspec.Struct, frozen=True):
    """A figure in a box of the page, mm."""

    left: float
    top: float
    width: float
    height: float
    figure: Figure


Page: TypeAlias = tuple[Line | Picture, ...]


def pages_of(sheet: Sheet, paper: Paper) -> tuple[Page, ...]:
    """The sheet set on pages; a stage is kept together where it fits on a page."""
    setting = _Setting(paper)
    setting.front(sheet)
    for number, stage in enumerate(sheet.stages, start=1):
        setting.stage(number, stage)
    return setting.finished(sheet.title)


def paint_page(painter: QPainter, page: Page) -> None:
    """One page, in mm from its upper left corner."""
    for item in page:
        if isinstance(item, Picture):
            paint_picture(painter, item)
        else:
            painter.setPen(QColor(_INK))
            write(painter, QPointF(item.x, item.y), item.text, item.size, bold=item.bold)


class _Setting:
    """Fills pages from the top."""

    def __init__(self, paper: Paper) -> None:
        self.paper = paper
        self.width = paper.width - 2.0 * EDGE
        self.bottom = paper.height - EDGE - _FOOT * 2.0
        self.y = EDGE
        self.page: list[Line | Picture] = []
        self.done: list[list[Line | Picture]] = []

    def front(self, sheet: Sheet) -> None:
        """The title and what to read before."""
        for line in wrapped(sheet.title, _TITLE, self.width, bold=True):
            self.y += _TITLE
            self.page.append(Line(EDGE, self.y, line, _TITLE, bold=True))
        self.y += 2.0
        for paragraph in sheet.before:
            for text in wrapped(paragraph, _TEXT, self.width):
                if self.y + _TEXT * LEADING > self.bottom:
                    self._turn()
                self._text(EDGE, text)
            self.y += _TEXT * _BETWEEN_SENTENCES
        self.y += _SPACE

    def stage(self, number: int, stage: Stage) -> None:
        """A stage with its figure; a new page when it does not fit on the rest of this one."""
        left = EDGE + (_COLUMN + _SPACE if stage.figure is not None else 0.0)
        wide = EDGE + self.width - left
        lines = [wrapped(sentence, _TEXT, wide) for sentence in stage.sentences]
        high = 0.0
        if stage.figure is not None:
            view = stage.figure.view
            most = _LARGE if stage.large else _FIGURE
            high = min(most, _COLUMN * view.height / view.width)
        head = _HEAD * LEADING + 2.0
        needed = head + max(high, _height(lines))
        together = not stage.large and needed <= self.bottom - EDGE
        if self.y + (needed if together else head + high) > self.bottom:
            self._turn()
        self.y += _HEAD
        title = shortened(f"{number}  {stage.title}", _HEAD, self.width, bold=True)
        self.page.append(Line(EDGE, self.y, title, _HEAD, bold=True))
        self.y += 2.0
        top, page = self.y, len(self.done)
        if stage.figure is not None:
            self.page.append(Picture(EDGE, top, _COLUMN, high, stage.figure))
        for sentence in lines:
            if self.y + len(sentence) * _TEXT * LEADING > self.bottom:
                self._turn()
            for text in sentence:
                self._text(left, text)
            self.y += _TEXT * _BETWEEN_SENTENCES
        if stage.figure is not None and page == len(self.done):
            self.y = max(self.y, top + high)
        self.y += _SPACE

    def finished(self, title: str) -> tuple[Page, ...]:
        """All pages, numbered at the foot."""
        self.done.append(self.page)
        count = len(self.done)
        for number, page in enumerate(self.done, start=1):
            words = f"{number} of {count}"
            wide = width_of(words, _FOOT)
            y = self.paper.height - EDGE
            page.append(Line(EDGE, y, shortened(title, _FOOT, self.width - wide - 5.0), _FOOT))
            page.append(Line(EDGE + self.width - wide, y, words, _FOOT))
        return tuple(tuple(page) for page in self.done)

    def _text(self, x: float, text: str) -> None:
        self.y += _TEXT * LEADING
        self.page.append(Line(x, self.y, text, _TEXT))

    def _turn(self) -> None:
        self.done.append(self.page)
        self.page = []
        self.y = EDGE


def _height(lines: Sequence[Sequence[str]]) -> float:
    count = sum(map(len, lines))
    return _TEXT * (LEADING * count + _BETWEEN_SENTENCES * len(lines))


def paint_picture(painter: QPainter, picture: Picture) -> None:
    """A figure in its box, with its letters."""
    view = picture.figure.view
    scale = min(picture.width / view.width, picture.height / view.height)
    left = picture.left + (picture.width - view.width * scale) / 2.0
    top = picture.top + (picture.height - view.height * scale) / 2.0
    painter.save()
    painter.setClipRect(QRectF(picture.left, picture.top, picture.width, picture.height))
    painter.save()
    painter.translate(left, top)
    painter.scale(scale, scale)
    painter.translate(-view.left, view.top)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    for line in picture.figure.lines:
        colour, width, dashes = _PENS[line.stroke]
        pen = QPen(QColor(colour), width / scale)
        pen.setCapStyle(Qt.PenCapStyle.FlatCap)
        if dashes:
            pen.setDashPattern(dashes)
        painter.setPen(pen)
        painter.drawPath(path_of((line.chain,)))
    painter.restore()
    _write_letters(painter, picture, scale, left, top)
    painter.restore()


def _write_letters(
    painter: QPainter, picture: Picture, scale: float, left: float, top: float
) -> None:
    """A dot at each point and its letter beside it, where it covers no other."""
    view = picture.figure.view

    def on_page(point: Point) -> QPointF:
        return QPointF(left + (point.x - view.left) * scale, top + (view.top - point.y) * scale)

    spots = [(letter, on_page(point)) for letter, point in picture.figure.points]
    taken = [QRectF(at.x() - _DOT, at.y() - _DOT, 2 * _DOT, 2 * _DOT) for _, at in spots]
    bounds = QRectF(picture.left, picture.top, picture.width, picture.height)
    lines = [
        on_page(chain.at(chain.length * k / count))
        for chain in (line.chain for line in picture.figure.lines)
        for count in (1 + int(chain.length * scale / _SAMPLE),)
        for k in range(count + 1)
    ]
    painter.setPen(QColor(_INK))
    painter.setBrush(QColor(_INK))
    for letter, at in spots:
        painter.drawEllipse(at, _DOT / 2.0, _DOT / 2.0)
        box = min(
            (_letter_box(letter, at, way) for way in _DIRECTIONS),
            key=lambda box: _covered(box, taken, lines, bounds),
        )
        taken.append(box)
        write(painter, QPointF(box.left(), box.bottom() - 0.2 * _LETTER), letter, _LETTER)


def _letter_box(letter: str, at: QPointF, way: tuple[float, float]) -> QRectF:
    wide, high = width_of(letter, _LETTER), 0.9 * _LETTER
    x = at.x() + way[0] * (wide / 2.0 + 0.6)
    y = at.y() - way[1] * (high / 2.0 + 0.4)
    return QRectF(x - wide / 2.0, y - high / 2.0, wide, high)


def _covered(
    box: QRectF, taken: Sequence[QRectF], lines: Sequence[QPointF], bounds: QRectF
) -> float:
    """How much a letter would cover of other letters, of lines (by samples), and how far it would
    stand outside; about mm2.
    """
    over = sum(part.width() * part.height() for part in map(box.intersected, taken))
    inside = box.intersected(bounds)
    outside = box.width() * box.height() - inside.width() * inside.height()
    return over + 10.0 * outside + 0.3 * sum(map(box.contains, lines))
