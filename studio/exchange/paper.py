"""Pieces at true scale on paper: pages for a home printer to be glued, or whole pieces on A0.

A set for a home printer begins with an overview; every A0 sheet carries its own test square.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from pathlib import Path

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen, QPolygonF

from studio.curves import Affine, Box, Point
from studio.design.file import write_whole
from studio.errors import BadInput
from studio.exchange.arrange import Laid
from studio.exchange.clear_place import Polyline, clear_place
from studio.exchange.pages import Page, PageMark, Pages, tiled, whole
from studio.exchange.paint.offscreen import ensure_gui
from studio.exchange.paint.overview import (
    CAUTIONS,
    overview_count,
    paint_overview,
    paint_test_square,
    print_words,
)
from studio.exchange.paint.pieces import PieceDrawing, PieceStyle
from studio.exchange.paint.printing import Book, PaintPage, printed
from studio.exchange.paint.writing import shortened, width_of, write
from studio.exchange.paper_sizes import MARGIN, paper_called
from studio.exchange.printed_square import SIDE
from studio.numbers import LengthUnit
from studio.sew.cut_line import cut_outline_points
from studio.sew.sewn import SewnPiece

_STYLE = PieceStyle()
_FRAME_WIDTH = 0.12
_DIAMOND = 4.0
"""Half the width of a mark between pages, mm."""

_NAME_SIZE = 5.0
_SMALL = 2.6


def write_pdf(
    pieces: Sequence[SewnPiece],
    path: Path | str,
    *,
    paper: str = "a4",
    title: str = "",
    unit: LengthUnit = "mm",
) -> None:
    """Write the pieces at true size: true curves, lines within 0.01 mm of the model.

    `paper` is "a4", "letter" (pages with an overview, to be glued) or "a0" (each piece whole if
    it fits on a sheet). Nothing is drawn in the outer 10 mm. What is told is told in `unit`. The
    same pieces give the same file but for its date.

    Raises:
        BadInput: there are no pieces, the paper is not known, or the file cannot be written.
    """
    target = Path(path)
    book = book_of_pieces(pieces, paper=paper, title=title or target.stem, unit=unit)
    write_whole(target, printed(book))


def book_of_pieces(
    pieces: Sequence[SewnPiece], *, paper: str, title: str, unit: LengthUnit = "mm"
) -> Book:
    """The pages of `write_pdf`, to be painted wherever they are wanted.

    Raises:
        BadInput: there are no pieces, or the paper is not known.
    """
    if not pieces:
        raise BadInput("There are no pieces to print.", where=title)
    sheet = paper_called(paper)
    ensure_gui()
    pages = whole(pieces, sheet) if sheet.name == "A0" else tiled(pieces, sheet)
    drawings = {
        id(one.sewn): PieceDrawing(one.sewn, _STYLE, unit, _frames_under(pages, one))
        for one in pages.laid
    }
    painted = (
        _sheets(pages, drawings, title, unit)
        if sheet.name == "A0"
        else _glued(pages, pieces, drawings, title, unit)
    )
    return Book(title, sheet, MARGIN, tuple(painted))


def _glued(
    pages: Pages,
    pieces: Sequence[SewnPiece],
    drawings: dict[int, PieceDrawing],
    title: str,
    unit: LengthUnit,
) -> list[PaintPage]:
    """The overview, then every page of the grid."""
    before = overview_count(pages, pieces)
    overview = [
        partial(paint_overview, pages=pages, pieces=pieces, title=title, number=number, unit=unit)
        for number in range(before)
    ]
    rest = [
        partial(_paint_page, pages=pages, page=page, drawings=drawings, title=title, before=before)
        for page in pages.pages
    ]
    return [*overview, *rest]


def _paint_page(
    painter: QPainter,
    pages: Pages,
    page: Page,
    drawings: dict[int, PieceDrawing],
    title: str,
    before: int = 0,
) -> None:
    """One page to be glued: pieces and marks within the frame and its strips, then its name.

    `before` pages come first in the file; the page is counted as the overview and a print window
    count it.
    """
    core, strip = page.core, pages.strip
    painter.save()
    painter.setClipRect(QRectF(MARGIN, MARGIN, core.width + strip, core.height + strip))
    painter.translate(MARGIN - core.left, MARGIN + core.top)
    for one in page.laid:
        drawings[id(one.sewn)].paint_at(painter, one.move)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(QPen(QColor("#000000"), _FRAME_WIDTH))
    half = _FRAME_WIDTH / 2.0
    painter.drawRect(
        QRectF(core.left, -core.top, core.width, core.height).adjusted(half, half, 0, 0)
    )
    for mark in page.marks:
        _paint_mark(painter, mark)
    painter.restore()
    _write_page_name(painter, pages, page, title, before)


def _paint_mark(painter: QPainter, mark: PageMark) -> None:
    """A diamond that both pages draw whole; each shows its own part. Its number on both sides."""
    x, y = mark.at.x, -mark.at.y
    painter.setPen(QPen(QColor("#000000"), 0.2))
    corners = ((-_DIAMOND, 0.0), (0.0, -_DIAMOND), (_DIAMOND, 0.0), (0.0, _DIAMOND))
    painter.drawPolygon(QPolygonF([QPointF(x + dx, y + dy) for dx, dy in corners]))
    painter.setPen(QColor("#000000"))
    number = str(mark.number)
    for side in (-1.0, 1.0):
        if mark.beside:
            place = QPointF(x + side * 2.0 * _DIAMOND * 0.85, y + 0.35 * _SMALL)
        else:
            place = QPointF(x, y + side * 1.7 * _DIAMOND + 0.35 * _SMALL)
        write(painter, place, number, _SMALL, align="centre")


def _write_page_name(painter: QPainter, pages: Pages, page: Page, title: str, before: int) -> None:
    """In the lower strip, which the neighbour covers, so that no line of a piece is hidden."""
    painter.setPen(QColor("#000000"))
    base = MARGIN + page.core.height + 0.72 * pages.strip
    wide = width_of(page.name, _NAME_SIZE, bold=True)
    plate = QRectF(MARGIN + 1.0, base - 0.9 * _NAME_SIZE, wide + 2.0, 1.1 * _NAME_SIZE)
    painter.fillRect(plate, QColor("#ffffff"))
    write(painter, QPointF(MARGIN + 2.0, base), page.name, _NAME_SIZE, bold=True)
    number = before + pages.pages.index(page) + 1
    count = f", page {number} of {before + len(pages.pages)}"
    # Between the numbers of the two marks, which stand at the quarters.
    room = page.core.width / 2.0 - 3.0 * _DIAMOND
    words = shortened(title, _SMALL, room - width_of(count, _SMALL)) + count
    place = QPointF(MARGIN + page.core.width / 2.0, base)
    write(painter, place, words, _SMALL, align="centre")


def _sheets(
    pages: Pages, drawings: dict[int, PieceDrawing], title: str, unit: LengthUnit
) -> list[PaintPage]:
    return [
        partial(
            _paint_sheet,
            pages=pages,
            page=page,
            drawings=drawings,
            title=title,
            heading=f"{title}: sheet {page.name}, {number} of {len(pages.pages)}.",
            unit=unit,
        )
        for number, page in enumerate(pages.pages, start=1)
    ]


def _paint_sheet(
    painter: QPainter,
    pages: Pages,
    page: Page,
    drawings: dict[int, PieceDrawing],
    title: str,
    heading: str,
    unit: LengthUnit,
) -> None:
    """A piece whole, with its own test square; one that is glued keeps its frame and strips."""
    if pages.strip:
        _paint_page(painter, pages, page, drawings, title)
    else:
        painter.save()
        painter.translate(MARGIN - page.core.left, MARGIN + page.core.top)
        for one in page.laid:
            drawings[id(one.sewn)].paint_at(painter, one.move)
        painter.restore()
    at = _square_corner(page, drawings)
    corner = QPointF(MARGIN + at.x - page.core.left, MARGIN + page.core.top - at.y)
    paint_test_square(painter, corner, (heading, print_words(unit)[0], *CAUTIONS), unit)


def _square_corner(page: Page, drawings: dict[int, PieceDrawing]) -> Point:
    """Upper left corner of the test square: clear of the pieces, else clear of their lines."""
    core = page.core
    room = _ring(core)
    size = (SIDE, SIDE)
    corner = Point(core.right, core.bottom)
    lines: list[Polyline] = []
    for one in page.laid:
        drawn = drawings[id(one.sewn)]
        lines += [_moved(line, one.move) for line in drawn.lines]
    grounds = [_moved(cut_outline_points(one.sewn.cut_line, 0.5), one.move) for one in page.laid]
    found = clear_place(room, lines, size, corner, 3.0, grounds) or clear_place(
        room, lines, size, corner, 2.0
    )
    if found is None:
        return Point(core.left, core.bottom + SIDE)
    return Point(found.x - SIDE / 2.0, found.y + SIDE / 2.0)


def _frames_under(pages: Pages, one: Laid) -> list[Polyline]:
    """The frames of the pages on which a piece lies, and the marks on them, as it lies itself."""
    if not pages.strip:
        return []
    shown = [page for page in pages.pages if any(other is one for other in page.laid)]
    frames = [[*_ring(page.core), _ring(page.core)[0]] for page in shown]
    reach = 2.5 * _DIAMOND
    for at in {mark.at for page in shown for mark in page.marks}:
        frames.append([(at.x - reach, at.y), (at.x + reach, at.y)])
        frames.append([(at.x, at.y - reach), (at.x, at.y + reach)])
    back = one.move.inverse()
    return [_moved(frame, back) for frame in frames]


def _ring(box: Box) -> Polyline:
    return [
        (box.left, box.bottom),
        (box.right, box.bottom),
        (box.right, box.top),
        (box.left, box.top),
    ]


def _moved(line: Polyline, move: Affine) -> Polyline:
    moved = (move(Point(x, y)) for x, y in line)
    return [(point.x, point.y) for point in moved]
