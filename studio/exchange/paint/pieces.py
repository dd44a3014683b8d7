"""One piece as it is painted on paper and in pictures; millimetres, y flipped to Qt's."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import msgspec
from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPen

from studio.curves import Affine, Point, Vector
from studio.exchange.arrange import Laid
from studio.exchange.clear_place import Polyline
from studio.exchange.label_place import place_beside, place_on
from studio.exchange.marks import LINE_ACCURACY, dart_lines, label_lines, lines_on, slits
from studio.exchange.paint.paths import path_of, transform_of
from studio.exchange.paint.words import Label, place_word, size_of
from studio.exchange.paint.writing import write
from studio.numbers import LengthUnit
from studio.sew.cut_line import cut_outline_points
from studio.sew.sewn import SewnPiece

GRAIN_WORD = "grain"


class PieceStyle(msgspec.Struct, frozen=True):
    """How a piece is painted: colours as #rrggbb, sizes and line widths in mm; `gap` is how
    much room there is round it, for the name of a piece that has none on itself.
    """

    ink: str = "#000000"
    seam: str = "#000000"
    faint: str = "#000000"
    fill: str = ""
    cut_width: float = 0.5
    seam_width: float = 0.2
    fine_width: float = 0.25
    label_size: float = 6.0
    word_size: float = 3.6
    arrow: float = 6.0
    cross: float = 3.0
    gap: float = 12.0


def paint_laid(painter: QPainter, laid: Laid, style: PieceStyle) -> None:
    """Paint a piece at its place on the sheet."""
    PieceDrawing(laid.sewn, style).paint_at(painter, laid.move)


class PieceDrawing:
    """A piece made ready once to be painted on many pages."""

    def __init__(
        self,
        sewn: SewnPiece,
        style: PieceStyle,
        unit: LengthUnit = "mm",
        apart: Sequence[Polyline] = (),
    ) -> None:
        """The words on it tell lengths in a unit. Where there is room its label keeps clear of the
        lines `apart` too, mm y up, along which the paper is cut apart.
        """
        piece = sewn.piece
        self.sewn = sewn
        self._unit = unit
        self.style = style
        self._cut = path_of((edge.chain for edge in sewn.cut_line), closed=True)
        self._sewing = path_of((edge.chain for edge in piece.outline), closed=True)
        self._dashed = [path_of((mark.chain,)) for mark in piece.marks]
        self._dashed += [path_of((line,)) for line in dart_lines(piece.darts)]
        self._dashed += [path_of((fold,)) for fold in sewn.folds]
        self._rows = [path_of((row,)) for row in sewn.rows]
        self._second = [path_of((line,)) for line in sewn.second]
        self._notches = _notch_path(sewn)
        self._drills = _crosses(sewn.drills, style.cross)
        lines = lines_on(sewn)
        room = piece.outline.polyline(LINE_ACCURACY)
        self._word = place_word(GRAIN_WORD, style.word_size, sewn.grain, room, lines)
        if self._word is not None:
            lines.append(self._word.outline)
        self._label = self._placed_label(room, lines, apart)

    def _placed_label(
        self, room: Polyline, lines: Sequence[Polyline], apart: Sequence[Polyline]
    ) -> Label:
        sewn, style = self.sewn, self.style
        every = label_lines(sewn, self._unit)
        whole = [*lines, *apart]
        place = place_on(every, style.label_size, sewn.label_at, room, whole, size_of)
        if apart and (place is None or place.lines != every):
            place = place_on(every, style.label_size, sewn.label_at, room, lines, size_of)
        if place is None:
            outer = cut_outline_points(sewn.cut_line, LINE_ACCURACY)
            size, gap = style.label_size, style.gap
            place = place_beside(every[0], size, sewn.label_at, outer, gap, size_of)
        return Label.at(place)

    @property
    def lines(self) -> list[Polyline]:
        """Every line painted, and the outline of the label, in mm y up: to be kept clear of."""
        found = lines_on(self.sewn)
        for points in (
            cut_outline_points(self.sewn.cut_line, LINE_ACCURACY),
            self.sewn.piece.outline.polyline(LINE_ACCURACY),
        ):
            found.append([*points, points[0]])
        found.append(self._label.outline)
        if self._label.leader is not None:
            found.append([(end.x, end.y) for end in self._label.leader])
        return found

    def paint_at(self, painter: QPainter, move: Affine) -> None:
        """Paint the piece after a move of the plane; its words turn with it."""
        painter.save()
        painter.setTransform(transform_of(move), True)
        self.paint(painter)
        painter.restore()

    def paint(self, painter: QPainter) -> None:
        """Cloth first, then lines from the fine to the bold, then words."""
        style = self.style
        painter.save()
        if style.fill:
            painter.fillPath(self._cut, QColor(style.fill))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(pen_of(style.faint, style.fine_width, dashed=True))
        for path in self._dashed:
            painter.drawPath(path)
        painter.setPen(pen_of(style.faint, style.fine_width, dashed=True, short=True))
        for path in self._rows:
            painter.drawPath(path)
        painter.setPen(pen_of(style.ink, style.fine_width))
        for path in self._second:
            painter.drawPath(path)
        painter.setPen(pen_of(style.faint, style.fine_width))
        painter.drawPath(self._drills)
        painter.setPen(pen_of(style.seam, style.seam_width))
        painter.drawPath(self._sewing)
        painter.setPen(pen_of(style.ink, style.cut_width))
        painter.drawPath(self._cut)
        painter.drawPath(self._notches)
        self._paint_grain(painter)
        self._write_label(painter)
        painter.restore()

    def _paint_grain(self, painter: QPainter) -> None:
        style = self.style
        low, high = self.sewn.grain
        painter.setPen(pen_of(style.faint, style.fine_width))
        painter.drawLine(_spot(low), _spot(high))
        head = min(style.arrow, low.distance_to(high) / 4.0)
        for tip, tail in ((low, high), (high, low)):
            along = (tail - tip).unit()
            path = QPainterPath(_spot(tip))
            for side in (along.left(), along.right()):
                path.lineTo(_spot(tip + along * head + side * (head * 0.28)))
            path.closeSubpath()
            painter.fillPath(path, QColor(style.faint))
        if self._word is not None:
            place, turned = _spot(self._word.baseline), self._word.turned
            write(painter, place, GRAIN_WORD, style.word_size, align="centre", turned=turned)

    def _write_label(self, painter: QPainter) -> None:
        label = self._label
        if label.leader is not None:
            painter.setPen(pen_of(self.style.faint, self.style.fine_width))
            painter.drawLine(*map(_spot, label.leader))
        painter.setPen(QColor(self.style.ink))
        painter.translate(_spot(label.middle))
        painter.rotate(-label.turned)
        for row, (baseline, size) in enumerate(label.baselines):
            place = QPointF(0.0, baseline)
            write(painter, place, label.lines[row], size, bold=row == 0, align="centre")


def _notch_path(sewn: SewnPiece) -> QPainterPath:
    path = QPainterPath()
    for notch in sewn.notches:
        for mouth, tip in slits(notch):
            path.moveTo(_spot(mouth))
            path.lineTo(_spot(tip))
    return path


def _crosses(places: Iterable[Point], half: float) -> QPainterPath:
    path = QPainterPath()
    for place in places:
        for step in (Vector(half, 0.0), Vector(0.0, half)):
            path.moveTo(_spot(place + step))
            path.lineTo(_spot(place + -step))
    return path


def _spot(point: Point) -> QPointF:
    return QPointF(point.x, -point.y)


def pen_of(colour: str, width: float, *, dashed: bool = False, short: bool = False) -> QPen:
    """A pen for a line of a piece, its width in mm; `dashed` for marks, `short` for stitching."""
    pen = QPen(QColor(colour), width)
    pen.setCapStyle(Qt.PenCapStyle.FlatCap)
    pen.setJoinStyle(Qt.PenJoinStyle.MiterJoin)
    if dashed:
        # Counted in line widths: 3 mm drawn, 2 mm left out at the usual width.
        pen.setDashPattern([5.0, 5.0] if short else [12.0, 8.0])
    return pen
