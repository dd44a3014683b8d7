"""What lies on the sheet: panels, style lines with their grips, pieces, highlights."""

from __future__ import annotations

import math
from collections.abc import Sequence

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPen

from studio.block.panel import Panel
from studio.canvas.name_place import DROP, NAME_SIZE, SMALL_NAME_SIZE, NamePlace, name_place
from studio.canvas.paths import path_of, paths_of, rect_of, to_scene
from studio.canvas.placing import GAP
from studio.canvas.plain_tip import plain_tip
from studio.canvas.sheet_item import NamedItem, SheetItem, lettered, mixed, write
from studio.canvas.theme import Theme
from studio.curves import Chain, Point, Vector
from studio.cut.drawn import DrawnLine
from studio.cut.edit import Grip
from studio.exchange.arrange import cut_box
from studio.exchange.marks import dart_lines, slits
from studio.exchange.paint.pens import draw_firm, take_pen
from studio.memo import remembered
from studio.sew.sewn import Notch, SewnPiece

NAMES_FROM_SCALE = 0.18
"""Pixels a millimetre under which names are not written."""


LEVEL_SIZE, BESIDE_LEVEL = 8.0, 8.0
"""Points of the names of level lines; pixels between such a name and its panel."""

DASHES_FROM_SCALE = 0.8
"""Pixels a millimetre under which marks and rows of a piece are drawn solid."""

HANDLES_FROM_PIXELS = 260.0
"""A picked line shorter than this on the screen shows only the handles near the grip in hand."""


_SOLID, _DASHES, _DOTS = Qt.PenStyle.SolidLine, Qt.PenStyle.DashLine, Qt.PenStyle.DotLine
_NO_PEN, _NO_BRUSH = Qt.PenStyle.NoPen, Qt.BrushStyle.NoBrush


class PanelItem(NamedItem):
    """A panel of the block: paper, outline, level lines, darts, its name."""

    def __init__(self, theme: Theme) -> None:
        super().__init__(theme)
        self.shown: Panel | None = None
        self.room = math.inf
        """How far the panel at the left is away, mm."""
        self._outline = QPainterPath()
        self._levels: list[tuple[QPointF, QPointF, str]] = []
        self._darts = QPainterPath()

    def show_panel(self, panel: Panel) -> None:
        """Show a panel; nothing is done when it is the one shown."""
        self.keep_picture(panel is self.shown)
        if panel is self.shown:
            return
        self.shown = panel
        self._outline = path_of((edge.chain for edge in panel.outline), closed=True)
        box = panel.outline.box
        self._levels = [
            (QPointF(box.left, -height), QPointF(box.right, -height), name)
            for name, height in panel.levels.items()
            if box.bottom + 1.0 < height < box.top - 1.0
        ]
        self._darts = paths_of(dart_lines(panel.darts))
        self._take_rect(rect_of(box, 60.0))

    def draw(self, painter: QPainter) -> None:
        """Paper first, then what is drawn on it."""
        theme = self.theme
        painter.setPen(_NO_PEN)
        painter.setBrush(QColor(theme.paper))
        painter.drawPath(self._outline)
        painter.save()
        painter.setClipPath(self._outline, Qt.ClipOperation.IntersectClip)
        take_pen(painter, theme.grid_strong, 1.0, Qt.PenStyle.DashLine)
        for start, end, _ in self._levels:
            painter.drawLine(start, end)
        take_pen(painter, theme.grid_strong, 1.0, Qt.PenStyle.DashDotLine)
        rect = self._outline.boundingRect()
        painter.drawLine(QPointF(0.0, rect.top()), QPointF(0.0, rect.bottom()))
        painter.restore()
        painter.setBrush(_NO_BRUSH)
        take_pen(painter, theme.ink, 1.4)
        painter.drawPath(self._outline)
        take_pen(painter, theme.faint, 1.1)
        painter.drawPath(self._darts)

    def write_names(self, painter: QPainter) -> None:
        """The panel's below it, those of its level lines at their left."""
        if self.shown is None or painter.worldTransform().m11() < NAMES_FROM_SCALE:
            return
        box = self.shown.outline.box
        foot = QPointF((box.left + box.right) / 2.0, -box.bottom)
        write(painter, foot, self.shown.name, self.theme.ink, size=11.0, bold=True, below=17.0)
        for start, name in self.levels_named(painter.worldTransform().m11()):
            write(
                painter, start, name, self.theme.faint, size=LEVEL_SIZE, ends_there=True, below=3.0
            )

    def levels_named(self, scale: float) -> list[tuple[QPointF, str]]:
        """The level lines whose names have room beside the panel at so many pixels a mm, and where
        they begin; the others are read on the panel at the left, which has them too.
        """
        return [
            (start, name)
            for start, _, name in self._levels
            if lettered(name, LEVEL_SIZE, bold=False)[1] + BESIDE_LEVEL <= self.room * scale
        ]


class LineItem(SheetItem):
    """A style line on its panel, with its grips when it is picked."""

    def __init__(self, theme: Theme) -> None:
        super().__init__(theme)
        self.drawn: DrawnLine | None = None
        self._path = QPainterPath()
        self._grips: Sequence[tuple[Grip, Point]] = ()
        self._held: Grip | None = None
        self.picked = False
        self.setZValue(5.0)

    def show_line(self, drawn: DrawnLine) -> None:
        """Show a line; nothing is done when it is the one shown."""
        if drawn is self.drawn:
            return
        self.drawn = drawn
        self._path = path_of(edge.chain for edge in drawn.edges)
        self._take_rect(rect_of(drawn.chain.box, 150.0))

    def show_grips(
        self, picked: bool, grips: Sequence[tuple[Grip, Point]], held: Grip | None
    ) -> None:
        """Show or hide the grips; `held` is the one in hand."""
        self.picked, self._grips, self._held = picked, grips, held
        self.setZValue(8.0 if picked else 5.0)
        self.update()

    def draw(self, painter: QPainter) -> None:
        """The line, then handles, then grips."""
        painter.setBrush(_NO_BRUSH)
        if not self.picked or self.drawn is None:
            draw_firm(painter, self._path, self.theme.work)
            return
        take_pen(painter, self.theme.work, 2.6)
        painter.drawPath(self._path)
        take_pen(painter, self.theme.work, 1.0)
        shown = self._shown_grips(painter.worldTransform().m11())
        for grip, place in shown:
            if grip.kind in ("handle-in", "handle-out"):
                painter.drawLine(to_scene(self.drawn.nodes[grip.index].at), to_scene(place))
        for grip, place in shown:
            self._paint_grip(painter, grip, painter.worldTransform().map(to_scene(place)))

    def _shown_grips(self, scale: float) -> list[tuple[Grip, Point]]:
        """All grips, less the handles that would crowd a line that is small on the screen."""
        assert self.drawn is not None
        box = self.drawn.chain.box
        roomy = max(box.width, box.height) * scale > HANDLES_FROM_PIXELS
        held = self._held.index if self._held is not None else -9
        return [
            (grip, place)
            for grip, place in self._grips
            if roomy or not grip.kind.startswith("handle") or abs(grip.index - held) <= 1
        ]

    def _paint_grip(self, painter: QPainter, grip: Grip, at: QPointF) -> None:
        """Ends are diamonds, smooth nodes discs, corners squares, handles small rings."""
        painter.save()
        painter.resetTransform()
        painter.translate(at)
        held = grip == self._held
        painter.setPen(QPen(QColor(self.theme.work), 1.6))
        painter.setBrush(QColor(self.theme.work if held else self.theme.paper))
        if grip.kind in ("start", "end"):
            painter.rotate(45.0)
            painter.drawRect(QRectF(-5.0, -5.0, 10.0, 10.0))
        elif grip.kind == "node":
            smooth = self.drawn is not None and self.drawn.nodes[grip.index].smooth
            if smooth:
                painter.drawEllipse(QRectF(-5.0, -5.0, 10.0, 10.0))
            else:
                painter.drawRect(QRectF(-4.5, -4.5, 9.0, 9.0))
        elif grip.kind == "shape":
            painter.drawEllipse(QRectF(-7.0, -7.0, 14.0, 14.0))
            painter.drawLine(QPointF(-3.5, 0.0), QPointF(3.5, 0.0))
            painter.drawLine(QPointF(0.0, -3.5), QPointF(0.0, 3.5))
        else:
            painter.drawEllipse(QRectF(-3.5, -3.5, 7.0, 7.0))
        painter.restore()


class PieceItem(NamedItem):
    """A piece with allowance: cut line, sewing line, notches, grain, marks, darts, its name."""

    def __init__(self, theme: Theme) -> None:
        super().__init__(theme)
        self.sewn: SewnPiece | None = None
        self.colour = theme.paper
        self.picked = False
        self.name_room = 0.0, GAP
        """How wide and how high the name below the piece may be, mm."""
        self._cut = QPainterPath()
        self._sewing = QPainterPath()
        self._notches = QPainterPath()
        self._marks = QPainterPath()
        self._folds = QPainterPath()
        self._rows = QPainterPath()
        self._second = QPainterPath()
        self._grain = QPainterPath()
        self._named: tuple[SewnPiece, float, tuple[float, float], NamePlace | None] | None = None

    def show_piece(self, sewn: SewnPiece, colour: str, picked: bool) -> None:
        """Show a piece; paths are made anew only when it is another one."""
        if picked != self.picked or colour != self.colour:
            self.picked, self.colour = picked, colour
            # Its name is whole, and may lie over a neighbour.
            self.setZValue(1.0 if picked else 0.0)
            self.update()
        self.keep_picture(sewn is self.sewn)
        if sewn is self.sewn:
            return
        before, self.sewn = self.sewn, sewn
        if before is None:
            self.setToolTip(plain_tip(sewn.piece.name))
        self._draw_lines(sewn, before)
        self._notches = QPainterPath()
        for notch in sewn.notches:
            self._notches.addPath(_strokes(notch))
        self._take_rect(rect_of(cut_box(sewn), 30.0))

    def _draw_lines(self, sewn: SewnPiece, before: SewnPiece | None) -> None:
        """The paths of what is another than on the piece shown before."""
        if before is None or sewn.cut_line is not before.cut_line:
            self._cut = path_of((edge.chain for edge in sewn.cut_line), closed=True)
        if before is None or sewn.piece.outline is not before.piece.outline:
            self._sewing = path_of((edge.chain for edge in sewn.piece.outline), closed=True)
            self._grain = arrow(*sewn.grain)
        if before is None or sewn.piece is not before.piece:
            marks = (mark.chain for mark in sewn.piece.marks)
            self._marks = paths_of((*marks, *dart_lines(sewn.piece.darts)))
        if before is None or sewn.folds is not before.folds:
            self._folds = paths_of(sewn.folds)
        if before is None or sewn.rows is not before.rows:
            self._rows = paths_of(sewn.rows)
        if before is None or sewn.second is not before.second:
            self._second = paths_of(sewn.second)

    def set_theme(self, theme: Theme) -> None:
        """Take other colours; the letters of its name may be others too."""
        self._named = None
        super().set_theme(theme)

    def shape(self) -> QPainterPath:
        """The cut piece, for picking."""
        return self._cut

    def draw(self, painter: QPainter) -> None:
        """Cloth and cut line at once, then what is drawn inside it."""
        if self.sewn is None:
            return
        theme = self.theme
        # Dots and dashes cost far more than they tell at a small scale.
        fine = painter.worldTransform().m11() >= DASHES_FROM_SCALE
        dots = _DOTS if fine else _SOLID
        dashes = _DASHES if fine else _SOLID
        share = 0.42 if self.picked else 0.26
        painter.setPen(_NO_PEN)
        painter.setBrush(mixed(self.colour, theme.paper, share))
        painter.drawPath(self._cut)
        painter.setBrush(_NO_BRUSH)
        if self.picked:
            take_pen(painter, theme.ink, 2.2)
            painter.drawPath(self._cut)
        else:
            draw_firm(painter, self._cut, theme.ink)
        draw_firm(painter, self._notches, theme.ink)
        take_pen(painter, theme.faint, 1.0)
        painter.drawPath(self._grain)
        take_pen(painter, theme.work, 1.0, dashes)
        painter.drawPath(self._marks)
        painter.drawPath(self._folds)
        take_pen(painter, theme.work, 1.0 if fine else 0.6, dots)
        painter.drawPath(self._rows)
        take_pen(painter, theme.seam, 1.0)
        painter.drawPath(self._sewing)
        if not self._second.isEmpty():
            take_pen(painter, theme.ink, 0.9)
            painter.drawPath(self._second)

    def write_names(self, painter: QPainter) -> None:
        """On the piece where there is room, else below it, cut short rather than across an edge;
        that of a picked piece always, and whole, on a plate.
        """
        scale = painter.worldTransform().m11()
        if self.sewn is None or scale < NAMES_FROM_SCALE:
            return
        place = self._name_place(scale)
        ink, paper = self.theme.ink, self.theme.paper
        if place is not None and place.on_piece:
            _, _, high = lettered(place.text, NAME_SIZE, bold=True)
            turned, below = (90.0, 0.0) if place.turned else (0.0, high / 2.0)
            write(
                painter,
                place.at,
                place.text,
                ink,
                size=NAME_SIZE,
                bold=True,
                ground=paper,
                below=below,
                turned=turned,
            )
        elif self.picked:
            room, name = self._cut.boundingRect(), self.sewn.piece.name
            foot = QPointF(room.center().x(), room.bottom())
            write(painter, foot, name, ink, size=NAME_SIZE, bold=True, ground=paper, below=DROP)
        elif place is not None:
            size = SMALL_NAME_SIZE if place.is_small else NAME_SIZE
            bold = not place.is_small
            write(painter, place.at, place.text, ink, size=size, bold=bold, below=DROP)

    def _name_place(self, scale: float) -> NamePlace | None:
        """Where the name stands; found anew only for another piece or at another scale."""
        assert self.sewn is not None
        known = self._named
        if known is not None and known[0] is self.sewn and known[1:3] == (scale, self.name_room):
            return known[3]
        low, high = map(to_scene, self.sewn.grain)
        cut = self._cut.boundingRect()
        name = self.sewn.piece.name
        before = known[3] if known is not None and known[1] == scale else None
        found = name_place(name, self._sewing, cut, (low, high), scale, self.name_room, before)
        self._named = (self.sewn, scale, self.name_room, found)
        return found


class HighlightItem(SheetItem):
    """Stretches of edges lit up: the two sides of a join, or where a finding is."""

    def __init__(self, theme: Theme) -> None:
        super().__init__(theme)
        self._sides: list[tuple[QPainterPath, bool]] = []
        self.setZValue(20.0)

    def show_stretches(self, stretches: Sequence[tuple[Chain, Vector, bool]]) -> None:
        """Show chains at their shifts; True for the second side, drawn dotted."""
        self._sides = []
        rect = QRectF()
        for chain, shift, second in stretches:
            path = path_of((chain,)).translated(to_scene(Point(shift.x, shift.y)))
            self._sides.append((path, second))
            rect = rect.united(path.boundingRect().adjusted(-20.0, -20.0, 20.0, 20.0))
        self._take_rect(rect)

    def draw(self, painter: QPainter) -> None:
        """First side solid, second dotted: told apart without colour."""
        painter.setBrush(_NO_BRUSH)
        for path, second in self._sides:
            style = Qt.PenStyle.DotLine if second else Qt.PenStyle.SolidLine
            take_pen(painter, self.theme.work, 5.0, style)
            painter.drawPath(path)


def arrow(start: Point, end: Point) -> QPainterPath:
    """A line with a small head at both ends, sized by its length."""
    path = QPainterPath(to_scene(start))
    path.lineTo(to_scene(end))
    head = min(14.0, start.distance_to(end) * 0.12)
    for tip, other in ((start, end), (end, start)):
        along = (other - tip).unit()
        for side in (along.left(), along.right()):
            path.moveTo(to_scene(tip))
            path.lineTo(to_scene(tip + along * head + side * (head * 0.45)))
    return path


def _strokes_of(notch: Notch) -> QPainterPath:
    """Not to be changed: it is remembered."""
    path = QPainterPath()
    for mouth, tip in slits(notch):
        path.moveTo(to_scene(mouth))
        path.lineTo(to_scene(tip))
    return path


_strokes = remembered(_strokes_of, 1600)
