"""Pieces at true scale on paper: tiled sheets for a home printer, or whole pieces on A0.

Every set begins with an overview: a plan of the sheets, the cautions, and a test square of 100 mm
to be measured before anything is cut.
"""

from __future__ import annotations

import math
import tempfile
from collections.abc import Sequence
from pathlib import Path
from typing import Literal, TypeAlias

import msgspec
import shapely
from PySide6.QtCore import QMarginsF, QPointF, QRectF, QSizeF, Qt
from PySide6.QtGui import QColor, QPageLayout, QPageSize, QPainter, QPdfWriter, QPen

from studio.curves import Box, Point
from studio.design.file import write_whole
from studio.errors import BadInput
from studio.exchange.arrange import Laid, arranged, cut_box, extent, free_place, on_sheets
from studio.exchange.paint.pieces import Ink, ensure_gui, paint_laid, write_words
from studio.sew.sewn import SewnPiece

PaperName: TypeAlias = Literal["a4", "letter", "a0"]

SHEETS_MM: dict[str, tuple[float, float]] = {
    "a4": (210.0, 297.0),
    "letter": (215.9, 279.4),
    "a0": (841.0, 1189.0),
}
"""Width and height, mm. A4 and A0: ISO 216. US letter: 8.5 by 11 inches of 25.4 mm."""

TEST_SQUARE_MM = 100.0

CAUTIONS = (
    "Print at 100 %, without fitting to the page.",
    "Measure the test square before cutting: 100 mm on each side.",
    "Cut and sew a toile before you cut good cloth.",
    "Rotary cutters, shears, needles and hot irons injure.",
    "These are not clothes that protect: nothing here certifies them.",
)

_RESOLUTION = 1200
_FRAME = 14.0
"""From the paper's edge to the frame in which a tile stands, mm."""

_UNPRINTED = 8.0
"""Home printers leave 5 to 10 mm unprinted (practice); nothing that matters is drawn there."""

_GAP = 12.0
_HEAD = 12.0
_TEST_ROOM = (190.0, TEST_SQUARE_MM + 2.0)
"""Width and height of test square and cautions, mm."""

_INK = Ink()


class Tile(msgspec.Struct, frozen=True):
    """A sheet of a tiled plan: its row letter and column number, and what it shows (mm)."""

    row: int
    column: int
    box: Box

    @property
    def name(self) -> str:
        """Row and column: B3."""
        return f"{row_name(self.row)}{self.column + 1}"


def row_name(row: int) -> str:
    """A to Z, then AA, AB..."""
    letters = ""
    row += 1
    while row:
        row, rest = divmod(row - 1, 26)
        letters = chr(ord("A") + rest) + letters
    return letters


def write_pdf(
    pieces: Sequence[SewnPiece], path: Path | str, *, paper: str = "a4", title: str = ""
) -> None:
    """Write the pieces at true scale: lines within 0.02 mm of the model.

    `paper` is "a4", "letter" or "a0".

    Raises:
        BadInput: no pieces, an unknown paper, a piece larger than A0, or the file cannot be
            written.
    """
    if not pieces:
        raise BadInput("There are no pieces to print.", path=str(path))
    if paper not in SHEETS_MM:
        raise BadInput(f"unknown paper {paper!r}; known are {', '.join(SHEETS_MM)}.")
    ensure_gui()
    target = Path(path)
    with tempfile.TemporaryDirectory() as folder:
        aside = Path(folder) / "pieces.pdf"
        book = _Book(aside, paper, title or target.stem)
        try:
            if paper == "a0":
                book.whole_sheets(pieces)
            else:
                book.tiled(pieces)
        finally:
            book.close()
        write_whole(target, aside.read_bytes())


def tiles_of(laid: Sequence[Laid], width: float, height: float) -> tuple[list[Tile], int, int]:
    """The tiles that show anything of the pieces, in reading order; rows and columns in all."""
    whole = extent(laid)
    columns = max(1, math.ceil((whole.width - 1e-6) / width))
    rows = max(1, math.ceil((whole.height - 1e-6) / height))
    shapes = shapely.union_all([_shape(one) for one in laid])
    kept = []
    for row in range(rows):
        for column in range(columns):
            left, top = whole.left + column * width, whole.top - row * height
            box = Box(left, top - height, left + width, top)
            if shapes.intersects(shapely.box(box.left, box.bottom, box.right, box.top)):
                kept.append(Tile(row, column, box))
    return kept, rows, columns


def _shape(laid: Laid) -> shapely.Polygon:
    points = [
        point
        for edge in laid.sewn.cut_line
        for point in edge.chain.transformed(laid.move).polyline(0.2)[:-1]
    ]
    return shapely.Polygon(points).buffer(1.0)


class _Book:
    """A PDF file being written, its unit the mm from the paper's top left."""

    def __init__(self, path: Path, paper: str, title: str) -> None:
        self.title = title
        self.width, self.height = SHEETS_MM[paper]
        self._writer = QPdfWriter(str(path))
        self._writer.setResolution(_RESOLUTION)
        self._writer.setTitle(title)
        self._writer.setCreator("Yokewright")
        size = QPageSize(QSizeF(self.width, self.height), QPageSize.Unit.Millimeter)
        layout = QPageLayout(
            size,
            QPageLayout.Orientation.Portrait,
            QMarginsF(0.0, 0.0, 0.0, 0.0),
            QPageLayout.Unit.Millimeter,
        )
        layout.setMode(QPageLayout.Mode.FullPageMode)
        self._writer.setPageLayout(layout)
        self.painter = QPainter(self._writer)
        self._begin_page()

    def close(self) -> None:
        """End the file."""
        self.painter.end()

    def tiled(self, pieces: Sequence[SewnPiece]) -> None:
        """Overview and tiles."""
        width, height = self.width - 2.0 * _FRAME, self.height - 2.0 * _FRAME
        widest = max(cut_box(sewn).width for sewn in pieces)
        columns = max(5, math.ceil((widest + _GAP) / width))
        laid = arranged(pieces, columns * width, _GAP)
        tiles, rows, columns = tiles_of(laid, width, height)
        left_out = rows * columns - len(tiles)
        words = f"{len(tiles)} sheets to print after this one, {rows} rows of {columns}"
        words += f"; {left_out} empty ones left out." if left_out else "."
        self._overview(laid, [(tile.name, tile.box) for tile in tiles], words)
        for tile in tiles:
            self._new_page()
            self._tile(tile, laid, {other.name for other in tiles})

    def whole_sheets(self, pieces: Sequence[SewnPiece]) -> None:
        """Pieces whole on large sheets; test square and cautions where there is room."""
        width, height = self.width - 2.0 * _FRAME, self.height - 2.0 * _FRAME - _HEAD
        sheets = on_sheets(pieces, width, height, _GAP)
        rooms = [free_place(laid, width, height, _TEST_ROOM, _GAP) for laid in sheets]
        shown = next((number for number, place in enumerate(rooms) if place is not None), None)
        if shown is None:
            sheets, rooms, shown = [*sheets, []], [*rooms, Point(0.0, 0.0)], len(sheets)
        for number, laid in enumerate(sheets):
            if number:
                self._new_page()
            where = "" if number == shown else f"; test square on sheet {shown + 1}"
            self._heading(f"{self.title}: sheet {number + 1} of {len(sheets)}{where}")
            self.painter.save()
            self.painter.translate(_FRAME, _FRAME + _HEAD)
            for one in laid:
                paint_laid(self.painter, one, _INK)
            place = rooms[number]
            if number == shown and place is not None:
                self._test_square(QPointF(place.x, -place.y))
                self._cautions(QPointF(place.x + 108.0, -place.y + 6.0))
            self.painter.restore()

    def _begin_page(self) -> None:
        self.painter.resetTransform()
        scale = _RESOLUTION / 25.4
        self.painter.scale(scale, scale)
        self.painter.setRenderHint(QPainter.RenderHint.Antialiasing)

    def _new_page(self) -> None:
        self._writer.newPage()
        self._begin_page()

    def _overview(self, laid: Sequence[Laid], tiles: Sequence[tuple[str, Box]], words: str) -> None:
        self._heading(self.title)
        self._words(QPointF(_FRAME, _FRAME + 16.0), words, 3.4)
        whole = extent(laid)
        for _, box in tiles:
            whole = whole.with_(box)
        room = QRectF(_FRAME, _FRAME + 22.0, self.width - 2.0 * _FRAME, self.height - 176.0)
        scale = min(room.width() / whole.width, room.height() / whole.height)
        painter = self.painter
        painter.save()
        painter.translate(room.left() - whole.left * scale, room.top() + whole.top * scale)
        painter.save()
        painter.scale(scale, scale)
        plan = Ink(cut=0.25 / scale, sewing=0.0, fine=0.12 / scale, text=min(60.0, 2.6 / scale))
        for one in laid:
            paint_laid(painter, one, plan)
        painter.restore()
        painter.setPen(_pen(0.15, "#555555"))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        for name, box in tiles:
            rect = QRectF(box.left * scale, -box.top * scale, box.width * scale, box.height * scale)
            painter.drawRect(rect)
            self._words(rect.topLeft() + QPointF(1.2, 4.0), name, 2.8, bold=True)
        painter.restore()
        below = self.height - _FRAME - TEST_SQUARE_MM
        self._test_square(QPointF(_FRAME, below))
        self._cautions(QPointF(_FRAME + 108.0, below + 6.0))

    def _tile(self, tile: Tile, laid: Sequence[Laid], names: set[str]) -> None:
        painter = self.painter
        frame = QRectF(_FRAME, _FRAME, tile.box.width, tile.box.height)
        painter.save()
        grown = frame.adjusted(
            _UNPRINTED - _FRAME, _UNPRINTED - _FRAME, _FRAME - _UNPRINTED, _FRAME - _UNPRINTED
        )
        painter.setClipRect(grown)
        painter.translate(_FRAME - tile.box.left, _FRAME + tile.box.top)
        shown = Box(
            tile.box.left - _FRAME,
            tile.box.bottom - _FRAME,
            tile.box.right + _FRAME,
            tile.box.top + _FRAME,
        )
        for one in laid:
            if one.box.meets(shown):
                paint_laid(painter, one, _INK)
        painter.restore()
        painter.setPen(_pen(0.12, "#888888"))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRect(frame)
        self._registration(tile, frame, names)
        self._words(QPointF(frame.left() + 5.0, frame.top() + 9.0), tile.name, 6.0, bold=True)
        self._words(
            QPointF(frame.left() + 24.0, frame.top() + 7.0),
            f"{self.title}. Trim one of two sheets at the frame, lay its marks on the other's.",
            2.2,
        )

    def _registration(self, tile: Tile, frame: QRectF, names: set[str]) -> None:
        """A diamond on the middle of each side that has a neighbour, which prints the same one;
        beside it the neighbour's name.
        """
        sides = (
            (tile.row - 1, tile.column, QPointF(frame.center().x(), frame.top())),
            (tile.row + 1, tile.column, QPointF(frame.center().x(), frame.bottom())),
            (tile.row, tile.column - 1, QPointF(frame.left(), frame.center().y())),
            (tile.row, tile.column + 1, QPointF(frame.right(), frame.center().y())),
        )
        self.painter.setPen(_pen(0.2, "#000000"))
        for row, column, at in sides:
            name = f"{row_name(row)}{column + 1}" if row >= 0 and column >= 0 else ""
            if name not in names:
                continue
            self.painter.drawPolygon(
                [
                    at + QPointF(0.0, -4.0),
                    at + QPointF(4.0, 0.0),
                    at + QPointF(0.0, 4.0),
                    at + QPointF(-4.0, 0.0),
                ]
            )
            toward = frame.center() - at
            size = math.hypot(toward.x(), toward.y())
            inside = at + toward * (9.0 / size)
            self._words(inside + QPointF(-2.5, 1.2), name, 2.6)

    def _heading(self, text: str) -> None:
        self._words(QPointF(_FRAME, _FRAME + 7.0), text, 6.0, bold=True)

    def _test_square(self, at: QPointF) -> None:
        self.painter.setPen(_pen(0.2, "#000000"))
        self.painter.setBrush(Qt.BrushStyle.NoBrush)
        self.painter.drawRect(QRectF(at.x(), at.y(), TEST_SQUARE_MM, TEST_SQUARE_MM))
        self._words(at + QPointF(4.0, 9.0), "Test square: 100 mm on each side", 3.6, bold=True)
        self._words(at + QPointF(4.0, 15.5), "Measure it before cutting.", 3.4)

    def _cautions(self, at: QPointF) -> None:
        y = at.y()
        for sentence in CAUTIONS:
            for line in _wrapped(sentence, 34):
                self._words(QPointF(at.x(), y), line, 3.2)
                y += 5.0
            y += 2.5

    def _words(self, at: QPointF, text: str, size: float, *, bold: bool = False) -> None:
        pen = self.painter.pen()
        self.painter.setPen(QColor("#000000"))
        write_words(self.painter, at, text, size, bold=bold)
        self.painter.setPen(pen)


def _pen(width: float, colour: str) -> QPen:
    pen = QPen(QColor(colour), width)
    pen.setJoinStyle(Qt.PenJoinStyle.MiterJoin)
    return pen


def _wrapped(sentence: str, width: int) -> list[str]:
    lines = [""]
    for word in sentence.split():
        if lines[-1] and len(lines[-1]) + 1 + len(word) > width:
            lines.append(word)
        else:
            lines[-1] = f"{lines[-1]} {word}".strip()
    return lines
