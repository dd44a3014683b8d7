"""What lies on the table: cloths with their flaws, pieces on them, and the tray beside."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPen, QTransform

from studio.canvas.items import arrow
from studio.canvas.lay_paths import flaw_path, line_path, screen_brush
from studio.canvas.lay_photographs import Photograph
from studio.canvas.paths import path_of, path_of_area, paths_of, transform_of
from studio.canvas.plain_tip import plain_tip
from studio.canvas.sheet_item import SheetItem, lettering, mixed, write
from studio.canvas.table_places import BELOW
from studio.canvas.theme import Theme
from studio.canvas.type_size import grown
from studio.cloth.bed import Bed
from studio.cloth.stance import Stance
from studio.curves import Affine, Point
from studio.design.cloth import Flaw, Stock
from studio.exchange.paint.pens import take_pen
from studio.sew.sewn import SewnPiece

WORDS_FROM_SCALE = 0.12
"""Pixels a millimetre under which flaws and grain are not named."""

PHOTOGRAPH_SHARE = 0.35
"""How much of a photograph shows through its cloth."""

_TWO_LINES = 52.0
"""Room between two rows of cloths for a name in two lines and what the cloth is, pixels."""

BESIDE = 110.0
"""So much wider than its cloth a name may be, mm."""

_HATCH_SHARE = 0.45
"""How strongly the hatching of a piece in trouble is drawn over its lines."""

_TROUBLE, _SHORT = "\N{BLACK UP-POINTING TRIANGLE}", "\N{WHITE UP-POINTING TRIANGLE}"

_NAME_SIZE = 9.0
ROOM_ABOVE = 200.0
"""Above a cloth for its name, mm, at a scale at which it can be read."""

_PAINTED_BEYOND = 400.0
"""So far beyond its box something of a cloth may be painted, mm: its name, from far away."""

_PEN_BEYOND = 24.0
"""The same for the pens of a piece."""

_HATCH: dict[str, Qt.BrushStyle] = {
    "stain": Qt.BrushStyle.FDiagPattern,
    "worn": Qt.BrushStyle.Dense6Pattern,
    "seam": Qt.BrushStyle.VerPattern,
}


class _DropTarget(SheetItem):
    """Something a piece in hand may be laid on, lit while it would be."""

    def __init__(self, theme: Theme) -> None:
        super().__init__(theme)
        self.words = ""
        self.lit = False

    def show_lit(self, lit: bool) -> None:
        """Whether what is in hand would be laid on it."""
        if lit != self.lit:
            self.lit = lit
            self.update()


class StockItem(_DropTarget):
    """A cloth: its outline in its colour, flaws by their own signs, its name, the warp."""

    def __init__(self, theme: Theme) -> None:
        super().__init__(theme)
        self.stock: Stock | None = None
        self.told = ""
        self._colour = theme.paper
        self._outline = QPainterPath()
        self._usable = QPainterPath()
        self._flaws: list[tuple[Flaw, QPainterPath]] = []
        self._photograph: Photograph | None = None
        self._warp = QPainterPath()
        self._turn = QTransform()
        self.setZValue(0.0)

    def show_stock(
        self,
        stock: Stock,
        bed: Bed,
        move: Affine,
        colour: str,
        photograph: Photograph | None = None,
    ) -> None:
        """Show a stock; `move` takes its own places to the table, where its warp is upright."""
        self.stock, self._colour, self._photograph = stock, colour, photograph
        turn = transform_of(move)
        self._turn = turn
        self._outline = turn.map(path_of_area(bed.outline))
        self._usable = turn.map(path_of_area(bed.usable))
        self._flaws = [(flaw, turn.map(flaw_path(flaw))) for flaw in stock.flaws]
        box = self._outline.boundingRect()
        foot = Point(box.left() - 28.0, -box.center().y() - min(110.0, box.height() / 4.0))
        head = Point(foot.x, -box.center().y() + min(110.0, box.height() / 4.0))
        self._warp = arrow(foot, head)
        around = _PAINTED_BEYOND
        self._take_rect(box.adjusted(-around, -around, around, around))

    def show_words(self, words: str, told: str) -> None:
        """Its name above it, and a fainter line under that."""
        if (words, told) != (self.words, self.told):
            self.words, self.told = words, told
            self.update()

    @property
    def box(self) -> QRectF:
        """The box of its outline on the scene."""
        return self._outline.boundingRect()

    def shape(self) -> QPainterPath:
        """The cloth itself."""
        return self._outline

    def draw(self, painter: QPainter) -> None:
        """Cloth, photograph, flaws, edge, warp, name."""
        theme = self.theme
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(mixed(self._colour, theme.ground, 0.46 if theme.is_dark else 0.40))
        painter.drawPath(self._outline)
        self._draw_photograph(painter)
        for flaw, path in self._flaws:
            self._draw_flaw(painter, flaw, path)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        if isinstance(self.stock, Stock) and not self._flaws and self._usable != self._outline:
            take_pen(painter, theme.faint, 0.8, Qt.PenStyle.DashLine)
            painter.drawPath(self._usable)
        take_pen(painter, theme.work if self.lit else theme.ink, 2.4 if self.lit else 1.2)
        painter.drawPath(self._outline)
        take_pen(painter, theme.faint, 1.1)
        painter.drawPath(self._warp)
        self._write(painter)

    def _draw_photograph(self, painter: QPainter) -> None:
        if self._photograph is None:
            return
        painter.save()
        painter.setClipPath(self._outline, Qt.ClipOperation.IntersectClip)
        painter.setOpacity(PHOTOGRAPH_SHARE)
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
        painter.setTransform(self._photograph.to_cloth * self._turn, True)
        painter.drawPixmap(0, 0, self._photograph.picture)
        painter.restore()

    def _draw_flaw(self, painter: QPainter, flaw: Flaw, path: QPainterPath) -> None:
        """A hole is empty, a stain hatched, a worn place dotted, a seam a band with stitches."""
        theme = self.theme
        style = Qt.PenStyle.SolidLine if flaw.avoided else Qt.PenStyle.DotLine
        if flaw.kind == "hole":
            painter.setBrush(QColor(theme.ground))
        elif flaw.kind == "seam":
            painter.setBrush(mixed(self._colour, theme.ground, 0.62))
        else:
            painter.setBrush(screen_brush(painter, theme.faint, _HATCH[flaw.kind]))
        take_pen(painter, theme.ink if flaw.kind == "hole" else theme.faint, 1.0, style)
        painter.drawPath(path)
        if flaw.kind == "seam":
            painter.setBrush(Qt.BrushStyle.NoBrush)
            take_pen(painter, theme.ink, 1.0, Qt.PenStyle.DashLine)
            painter.drawPath(self._turn.map(line_path(flaw)))

    def _write(self, painter: QPainter) -> None:
        theme = self.theme
        box = self._outline.boundingRect()
        top = QPointF(box.center().x(), box.top())
        scale = painter.worldTransform().m11()
        wide = (box.width() + BESIDE) * scale
        told = shortened(self.told, 8.5, False, wide)
        write(painter, top, told, theme.faint, size=8.5, below=-8.0)
        # Above the first row there is nothing that a second line could run into.
        is_first = box.top() < 1.0
        lines = (
            name_lines(self.words, 10.0, wide)
            if is_first or BELOW * scale >= grown(_TWO_LINES)
            else [self.words]
        )
        for up, line in enumerate(reversed(lines)):
            name = shortened(line, 10.0, True, wide)
            write(painter, top, name, theme.ink, size=10.0, bold=True, below=-23.0 - 15.0 * up)
        if scale < WORDS_FROM_SCALE:
            return
        for flaw, path in self._flaws:
            word = flaw.note or flaw.kind
            room = path.boundingRect()
            _, metrics = lettering(8.0, bold=False)
            if metrics.horizontalAdvance(word) + 10.0 < room.width() * scale:
                middle = room.center()
                write(painter, middle, word, theme.ink, size=8.0, ground=theme.ground, below=3.0)


class LaidItem(SheetItem):
    """A copy of a piece: on its cloth, in the tray or in hand."""

    def __init__(self, theme: Theme) -> None:
        super().__init__(theme)
        self.words = ""
        self.picked = False
        self.hovered = False
        self.locked = False
        self.trouble = ""
        self.short = ""
        self.waits = False
        self._colour = theme.paper
        self._shown: tuple[SewnPiece, Stance] | None = None
        self._cut = QPainterPath()
        self._sewing = QPainterPath()
        self._grain = QPainterPath()
        self._folds = QPainterPath()
        self.setZValue(4.0)

    def show_piece(self, sewn: SewnPiece, stance: Stance, colour: str, words: str) -> None:
        """Show a piece in a stance; paths are made anew only when it is another one."""
        if colour != self._colour or words != self.words:
            self._colour, self.words = colour, words
            self._tell()
            self.update()
        shown = self._shown
        if shown is not None and shown[0] is sewn and shown[1].move == stance.move:
            return
        self._shown = (sewn, stance)
        to_stance = transform_of(stance.move)
        self._cut = to_stance.map(path_of((e.chain for e in sewn.cut_line), closed=True))
        self._sewing = to_stance.map(path_of((e.chain for e in sewn.piece.outline), closed=True))
        self._grain = arrow(*(stance.move(end) for end in sewn.grain))
        self._folds = to_stance.map(paths_of(sewn.folds))
        around = _PEN_BEYOND
        self._take_rect(self._cut.boundingRect().adjusted(-around, -around, around, around))

    def show_state(
        self, *, locked: bool = False, trouble: str = "", short: str = "", waits: bool = False
    ) -> None:
        """Locked or not, what is wrong with where it lies, what it does without there, and whether
        it waits in the tray.
        """
        state = (locked, trouble, short, waits)
        if state != (self.locked, self.trouble, self.short, self.waits):
            self.locked, self.trouble, self.short, self.waits = state
            self._tell()
            self.update()

    def show_attention(self, *, picked: bool, hovered: bool) -> None:
        """Picked, or under the pointer."""
        if (picked, hovered) != (self.picked, self.hovered):
            self.picked, self.hovered = picked, hovered
            self.setZValue(6.0 if picked else 4.0)
            self.update()

    def lie(self, move: Affine) -> None:
        """Lie on the table by a move from its stance."""
        self.setTransform(transform_of(move))

    def shape(self) -> QPainterPath:
        """The cut piece, for picking."""
        return self._cut

    def draw(self, painter: QPainter) -> None:
        """Piece and cut line, then what is drawn inside it, then its name and signs."""
        theme = self.theme
        share = 0.30 if self.picked else 0.22 if self.hovered else 0.14
        painter.setBrush(mixed(theme.work if self.picked else self._colour, theme.paper, share))
        wide = 2.4 if self.picked else 1.9 if self.hovered else 1.3
        take_pen(painter, theme.work if self.picked else theme.ink, wide)
        painter.drawPath(self._cut)
        if self.trouble:
            hatch = screen_brush(painter, theme.grave, Qt.BrushStyle.BDiagPattern, _HATCH_SHARE)
            painter.setBrush(hatch)
            take_pen(painter, theme.grave, 2.6, Qt.PenStyle.DashLine)
            painter.drawPath(self._cut)
        elif self.short:
            painter.setBrush(Qt.BrushStyle.NoBrush)
            take_pen(painter, theme.warning, 2.6, Qt.PenStyle.DashLine)
            painter.drawPath(self._cut)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        take_pen(painter, theme.seam, 0.9)
        painter.drawPath(self._sewing)
        take_pen(painter, theme.faint, 0.9)
        painter.drawPath(self._grain)
        if not self._folds.isEmpty():
            take_pen(painter, theme.faint, 0.9, Qt.PenStyle.DashLine)
            painter.drawPath(self._folds)
        self._write(painter)

    def _tell(self) -> None:
        told = self.trouble or self.short
        self.setToolTip(plain_tip(f"{self.words}. {told}" if told else self.words))

    def _write(self, painter: QPainter) -> None:
        """Name and copy where there is room for them; the lock and the warning always."""
        theme, transform = self.theme, painter.worldTransform()
        room = transform.mapRect(self._cut.boundingRect())
        name, _, copy = self.words.partition(", ")
        _, metrics = lettering(_NAME_SIZE, bold=True)
        lines = [name, copy] if copy else [name]
        fits = max(metrics.horizontalAdvance(line) for line in lines) + 6.0 < room.width()
        fits = fits and len(lines) * grown(16.0) + 4.0 < room.height()
        middle = QPointF(0.0, 0.0)
        sign = _TROUBLE if self.trouble else _SHORT if self.short else ""
        head = f"{sign} {name}" if sign else name
        if fits:
            ink = theme.grave if self.trouble else theme.ink
            up = -4.0 if copy else 4.0
            write(
                painter,
                middle,
                head,
                ink,
                size=_NAME_SIZE,
                bold=True,
                ground=theme.paper,
                below=up,
            )
            if copy:
                write(painter, middle, copy, theme.faint, size=8.0, ground=theme.paper, below=11.0)
        elif sign:
            ink = theme.grave if self.trouble else theme.warning
            write(painter, middle, sign, ink, size=11.0, bold=True, below=4.0)
        if self.locked:
            drop = (22.0 if copy else 15.0) if fits else 10.0
            _draw_lock(painter, transform.map(middle) + QPointF(0.0, drop), theme)


class TrayItem(_DropTarget):
    """The tray for what is not laid."""

    def __init__(self, theme: Theme) -> None:
        super().__init__(theme)
        self._box = QRectF()
        self.setZValue(-1.0)

    def show_tray(self, box: QRectF, words: str) -> None:
        """A tray with its heading."""
        self._box, self.words = box, words
        around = _PAINTED_BEYOND
        self._take_rect(box.adjusted(-around, -around, around, around))

    @property
    def box(self) -> QRectF:
        """The tray itself, on the scene."""
        return self._box

    def draw(self, painter: QPainter) -> None:
        """A dashed frame, so that it is never taken for cloth."""
        theme = self.theme
        fill = QColor(theme.chrome)
        painter.setBrush(fill)
        take_pen(
            painter,
            theme.work if self.lit else theme.border,
            2.0 if self.lit else 1.4,
            Qt.PenStyle.DashLine,
        )
        painter.drawRoundedRect(self._box, 18.0, 18.0)
        top = QPointF(self._box.center().x(), self._box.top())
        write(painter, top, self.words, theme.faint, size=10.0, bold=True, below=-12.0)


def name_lines(name: str, size: float, room: float) -> list[str]:
    """A name in bold letters, broken between two of its words where it has no room of so many
    pixels: where that leaves the wider line narrowest.
    """
    _, metrics = lettering(size, bold=True)
    words = name.split()
    if metrics.horizontalAdvance(name) <= room or len(words) < 2:
        return [name]
    ways = [[" ".join(words[:at]), " ".join(words[at:])] for at in range(1, len(words))]
    return min(ways, key=lambda way: max(map(metrics.horizontalAdvance, way)))


def shortened(words: str, size: float, bold: bool, room: float) -> str:
    """Words that take no more than so many pixels: names of cloth often differ at their ends."""
    _, metrics = lettering(size, bold=bold)
    return metrics.elidedText(words, Qt.TextElideMode.ElideMiddle, room)


def _draw_lock(painter: QPainter, at: QPointF, theme: Theme) -> None:
    """A small padlock, as large at any zoom."""
    painter.save()
    painter.resetTransform()
    painter.translate(at)
    painter.setPen(QPen(QColor(theme.ink), 1.6))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawArc(QRectF(-3.5, -5.0, 7.0, 9.0), 0, 180 * 16)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(QColor(theme.ink))
    painter.drawRoundedRect(QRectF(-5.0, -0.5, 10.0, 8.0), 1.5, 1.5)
    painter.restore()
