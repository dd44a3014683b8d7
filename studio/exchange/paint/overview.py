"""The first page of a printed set: test square, cautions, a plan of the pages, what to print."""

from __future__ import annotations

import itertools
from collections.abc import Sequence

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen

from studio import numbers
from studio.curves import Point
from studio.exchange.arrange import Laid
from studio.exchange.clear_place import Polyline, clear_place
from studio.exchange.marks import cut_words
from studio.exchange.pages import Page, Pages
from studio.exchange.paint.listed import Entry, entry_below, shared_out, write_entries
from studio.exchange.paint.offscreen import ensure_gui
from studio.exchange.paint.paths import path_of, transform_of
from studio.exchange.paint.pieces import PieceStyle, pen_of
from studio.exchange.paint.writing import shortened, width_of, write, write_paragraphs
from studio.exchange.paper_sizes import MARGIN
from studio.exchange.printed_square import SIDE, side_words
from studio.numbers import LengthUnit
from studio.sew.cut_line import cut_outline_points
from studio.sew.sewn import SewnPiece

_TIED = "\N{NO-BREAK SPACE}"

CAUTIONS = (
    "Measure the printed test square before cutting.",
    "Cut a toile before good cloth.",
    "Rotary cutters, shears, needles and hot irons injure. Take metal parts out of old garments "
    "before sewing over them.",
    "These are not protective clothes. Clothing for work near machines, flames, saws or traffic "
    "is governed by its own standards and local rules; nothing here certifies it.",
)

_TITLE, _HEAD, _TEXT = 6.5, 4.2, 3.4

_LEAST = 0.6
"""A long title is set smaller, down to this share of its size, and then cut short."""

_TOP_OF_PLAN = 138.0
_PLAN_SHARE = 0.5
_BELOW_HEAD = 7.0
_SPACE = 6.0


def print_words(unit: LengthUnit = "mm") -> tuple[str, str]:
    """How to print, and what to do when the test square comes out wrong."""
    side = side_words(unit).replace(" ", _TIED)
    return (
        f"Print at 100{_TIED}% (actual size). Choose no fitting to the page.",
        f"Measure this square both ways. If it is not {side}, mend the printer's scale and "
        "print this page again before you print the rest.",
    )


def overview_count(pages: Pages, pieces: Sequence[SewnPiece]) -> int:
    """How many pages the overview takes: one, and more when the list of pieces is long."""
    ensure_gui()
    return len(_lists(pages, pieces))


def paint_overview(
    painter: QPainter,
    pages: Pages,
    pieces: Sequence[SewnPiece],
    title: str,
    number: int,
    unit: LengthUnit = "mm",
) -> None:
    """Paint overview page `number`, counted from 0; the painter's unit is the mm of the paper,
    `unit` that of what is told.
    """
    rows = _lists(pages, pieces)[number]
    if number == 0:
        _paint_head(painter, pages, pieces, title, unit)
        width = pages.paper.width - 2.0 * MARGIN
        left, top = MARGIN, MARGIN + _TOP_OF_PLAN
        plan_width = width * _PLAN_SHARE - _SPACE
        _write_head(painter, QPointF(left, top), "How the pages lie")
        room = QRectF(left, top + _BELOW_HEAD - 3.0, plan_width, _list_height(pages))
        paint_plan(painter, pages, room)
        place = QPointF(left + width * _PLAN_SHARE, top)
        _write_list(painter, pages, pieces, place, rows)
        return
    _write_list(painter, pages, pieces, QPointF(MARGIN, MARGIN + _HEAD), rows)


def paint_test_square(
    painter: QPainter, corner: QPointF, paragraphs: Sequence[str], unit: LengthUnit = "mm"
) -> None:
    """The square of 100 mm from its upper left corner, its size on two sides, words inside."""
    pen = QPen(QColor("#000000"), 0.2)
    pen.setJoinStyle(Qt.PenJoinStyle.MiterJoin)
    painter.setPen(pen)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawRect(QRectF(corner.x(), corner.y(), SIDE, SIDE))
    middle = SIDE / 2.0
    label = side_words(unit)
    below = QPointF(corner.x() + middle, corner.y() + SIDE - 2.5)
    write(painter, below, label, _HEAD, bold=True, align="centre")
    beside = QPointF(corner.x() + SIDE - 2.5, corner.y() + middle)
    write(painter, beside, label, _HEAD, bold=True, align="centre", turned=90.0)
    place = QPointF(corner.x() + 6.0, corner.y() + 9.0)
    write(painter, place, "Test square", _HEAD, bold=True)
    below_head = QPointF(place.x(), place.y() + 1.5)
    write_paragraphs(painter, below_head, paragraphs, _TEXT, SIDE - 20.0)


def paint_plan(painter: QPainter, pages: Pages, room: QRectF) -> None:
    """A small plan: the pieces by number, the pages by name; a page left out has no name."""
    step_x, step_y = pages.pages[0].core.width, pages.pages[0].core.height
    scale = min(room.width() / (pages.columns * step_x), room.height() / (pages.rows * step_y))
    first = pages.pages[0]
    left = first.core.left - first.column * step_x
    top = first.core.top + first.row * step_y
    painter.save()
    painter.translate(room.left(), room.top())
    painter.scale(scale, scale)
    painter.translate(-left, top)
    for one in pages.laid:
        _paint_small(painter, one, 0.18 / scale)
    pen = QPen(QColor("#777777"), 0.12 / scale)
    painter.setPen(pen)
    for page in pages.pages:
        core = page.core
        painter.drawRect(QRectF(core.left, -core.top, core.width, core.height))
    painter.setPen(QColor("#000000"))
    size = min(2.6, 0.3 * step_x * scale) / scale
    plates = [_plate_of(page, size) for page in pages.pages]
    for page, plate in zip(pages.pages, plates, strict=True):
        painter.fillRect(plate, QColor("#ffffff"))
        place = QPointF(page.core.left + 0.3 * size, -page.core.top + size)
        write(painter, place, page.name, size)
    for number, one in enumerate(pages.laid, start=1):
        _paint_number(painter, one, number, 3.0 / scale, plates)
    painter.restore()


def _plate_of(page: Page, size: float) -> QRectF:
    """The ground of a page's name in its upper left corner, on which no line runs through it; the
    frame of the page stays.
    """
    inset = 0.06 * size
    wide = width_of(page.name, size) + 0.5 * size
    return QRectF(page.core.left + inset, -page.core.top + inset, wide, 1.2 * size)


def _paint_head(
    painter: QPainter, pages: Pages, pieces: Sequence[SewnPiece], title: str, unit: LengthUnit
) -> None:
    width = pages.paper.width - 2.0 * MARGIN
    painter.setPen(QColor("#000000"))
    size = _TITLE * max(_LEAST, min(1.0, width / max(1.0, width_of(title, _TITLE, bold=True))))
    head = shortened(title, size, width, bold=True)
    write(painter, QPointF(MARGIN, MARGIN + _TITLE), head, size, bold=True)
    printed, before = len(pages.pages), overview_count(pages, pieces)
    words = (
        f"{_counted(len(pieces), 'piece')} at true size on {_counted(printed, 'page')} of "
        f"{pages.paper.name}, {_counted(pages.rows, 'row')} of up to {pages.columns}, after "
        f"{_counted(before, 'page')} of overview."
    )
    if printed < pages.rows * pages.columns:
        words += " Empty pages are left out."
    square_top = 24.0
    place = QPointF(MARGIN, MARGIN + _TITLE + 2.0)
    write_paragraphs(painter, place, (words,), _TEXT, width)
    paint_test_square(painter, QPointF(MARGIN, MARGIN + square_top), print_words(unit), unit)
    right = MARGIN + SIDE + _SPACE
    column = width - SIDE - _SPACE
    y = MARGIN + square_top + 3.0
    _write_head(painter, QPointF(right, y), "Before you cut")
    y = write_paragraphs(painter, QPointF(right, y + 1.0), CAUTIONS, _TEXT, column)
    _write_head(painter, QPointF(right, y + 7.0), "Gluing")
    write_paragraphs(painter, QPointF(right, y + 8.0), _gluing(pages, unit), _TEXT, column)
    _paint_key(painter, QPointF(MARGIN, MARGIN + square_top + SIDE + 4.5))


def _counted(number: int, what: str) -> str:
    return f"{number} {what}{'' if number == 1 else 's'}"


def _gluing(pages: Pages, unit: LengthUnit) -> tuple[str, ...]:
    strip = numbers.length(pages.strip, unit, numbers.ROUGH[unit]).replace(" ", _TIED)
    return (
        "Trim the left and upper side of a page at its frame. Lay it on the strip "
        f"({strip}) of its neighbour so that the diamonds of one number close.",
    )


def _paint_key(painter: QPainter, place: QPointF) -> None:
    """What the lines mean."""
    x = place.x()
    style = PieceStyle()
    kinds = (
        ("cut line", pen_of(style.ink, style.cut_width)),
        ("sewing line", pen_of(style.seam, style.seam_width)),
        ("mark or dart", pen_of(style.faint, style.fine_width, dashed=True)),
        ("topstitching", pen_of(style.faint, style.fine_width, dashed=True, short=True)),
    )
    for words, pen in kinds:
        painter.setPen(pen)
        painter.drawLine(QPointF(x, place.y() - 1.1), QPointF(x + 13.0, place.y() - 1.1))
        write(painter, QPointF(x + 15.0, place.y()), words, 3.0)
        x += 20.0 + width_of(words, 3.0)


def _write_head(painter: QPainter, place: QPointF, text: str) -> None:
    painter.setPen(QColor("#000000"))
    write(painter, place, text, _HEAD, bold=True)


def _write_list(
    painter: QPainter,
    pages: Pages,
    pieces: Sequence[SewnPiece],
    place: QPointF,
    rows: range,
) -> None:
    """Its name, then a line or two, for each piece."""
    _write_head(painter, place, "What to print")
    before = overview_count(pages, pieces)
    width = pages.paper.width - MARGIN - place.x()
    first = QPointF(place.x(), place.y() + _BELOW_HEAD)
    entries = [_entry(pages, pieces, index, before, width) for index in rows]
    write_entries(painter, first, entries)


def _entry(
    pages: Pages, pieces: Sequence[SewnPiece], index: int, before: int, width: float
) -> Entry:
    """How a piece is cut, where it lies, which pages to print when so many come first."""
    sewn = pieces[index]
    shown = pages.showing(sewn)
    names = [pages.pages[k].name for k in shown]
    where = names[0] if len(names) == 1 else f"{names[0]} to {names[-1]}"
    printed = _ranges([k + 1 + before for k in shown])
    words = f"{cut_words(sewn.piece)}, {sewn.piece.cloth}; {where}; print {printed}"
    return entry_below(index + 1, sewn.piece.name, words, width)


def _lists(pages: Pages, pieces: Sequence[SewnPiece]) -> list[range]:
    """Which pieces each page of the overview lists. The words hold page numbers, which hold how
    many pages the overview takes: the least number that its own list fits on.
    """
    for before in itertools.count(1):
        found = _lists_after(pages, pieces, before)
        if len(found) <= before:
            return found
    raise AssertionError  # The list has an end.


def _lists_after(pages: Pages, pieces: Sequence[SewnPiece], before: int) -> list[range]:
    width = pages.paper.width - 2.0 * MARGIN

    def high(index: int, is_first: bool) -> float:
        column = width * (1.0 - _PLAN_SHARE) if is_first else width
        return _entry(pages, pieces, index, before, column).height

    later = pages.paper.height - 2.0 * MARGIN - _HEAD - _BELOW_HEAD
    return shared_out(len(pieces), high, _list_height(pages), later)


def _ranges(counted: Sequence[int]) -> str:
    """2, 3, 4, 7 as "2-4, 7", the way print windows take it."""
    runs = []
    for _, run in itertools.groupby(enumerate(counted), key=lambda pair: pair[1] - pair[0]):
        members = [number for _, number in run]
        runs.append(str(members[0]) if len(members) == 1 else f"{members[0]}-{members[-1]}")
    return ", ".join(runs)


def _list_height(pages: Pages) -> float:
    return pages.paper.height - 2.0 * MARGIN - _TOP_OF_PLAN - _BELOW_HEAD


def _paint_small(painter: QPainter, one: Laid, thickness: float) -> None:
    painter.save()
    painter.setTransform(transform_of(one.move), True)
    pen = QPen(QColor("#000000"), thickness)
    painter.setPen(pen)
    painter.setBrush(QColor("#eeeeee"))
    painter.drawPath(path_of((edge.chain for edge in one.sewn.cut_line), closed=True))
    painter.restore()


def _paint_number(
    painter: QPainter, one: Laid, number: int, size: float, plates: Sequence[QRectF]
) -> None:
    """At the middle of its grain, or as near to it as is clear of the names of the pages."""
    low, high = (one.move(end) for end in one.sewn.grain)
    middle = low.toward(high, 0.5)
    outline = [one.move(Point(x, y)) for x, y in cut_outline_points(one.sewn.cut_line, 1.0)]
    needs = width_of(str(number), size, bold=True), 0.75 * size
    taken = [_ring_of(plate) for plate in plates]
    room = [(at.x, at.y) for at in outline]
    middle = clear_place(room, (), needs, middle, 0.1 * size, taken) or middle
    place = QPointF(middle.x, -middle.y + 0.36 * size)
    write(painter, place, str(number), size, bold=True, align="centre")


def _ring_of(rect: QRectF) -> Polyline:
    """The corners of a box, y up."""
    corners = (rect.topLeft(), rect.topRight(), rect.bottomRight(), rect.bottomLeft())
    return [(corner.x(), -corner.y()) for corner in corners]
