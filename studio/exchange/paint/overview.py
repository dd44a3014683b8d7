"""The first page of a printed set: test square, cautions, a plan of the pages, what to print."""

from __future__ import annotations

import itertools
from collections.abc import Sequence

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen

from studio.exchange.arrange import Laid
from studio.exchange.marks import cut_words
from studio.exchange.pages import Pages
from studio.exchange.paint.paths import path_of, transform_of
from studio.exchange.paint.writing import width_of, wrapped, write, write_paragraphs
from studio.exchange.paper_sizes import MARGIN
from studio.sew.sewn import SewnPiece

TEST_SQUARE = 100.0
"""Side of the test square, mm."""

_TIED = "\N{NO-BREAK SPACE}"

PRINT_WORDS = (
    f"Print at 100{_TIED}% (actual size). Choose no fitting to the page.",
    f"Measure this square both ways. If it is not 100{_TIED}mm, mend the printer's scale and "
    "print this page again before you print the rest.",
)

CAUTIONS = (
    "Measure the printed test square before cutting.",
    "Cut a toile before good cloth.",
    "Rotary cutters, shears, needles and hot irons injure. Take metal parts out of old garments "
    "before sewing over them.",
    "These are not protective clothes. Clothing for work near machines, flames, saws or traffic "
    "is governed by its own standards and local rules; nothing here certifies it.",
)

_TITLE, _HEAD, _TEXT = 6.5, 4.2, 3.4
_ROW = 12.5
"""Height of a piece's three lines in the list, mm."""

_TOP_OF_PLAN = 138.0
_PLAN_SHARE = 0.5
_BELOW_HEAD = 7.0
_SPACE = 6.0


def overview_count(pages: Pages, pieces: Sequence[SewnPiece]) -> int:
    """How many pages the overview takes: one, and more when the list of pieces is long."""
    rest = len(pieces) - _rows_on_first(pages)
    return 1 if rest <= 0 else 1 + -(-rest // _rows_on_next(pages))


def paint_overview(
    painter: QPainter, pages: Pages, pieces: Sequence[SewnPiece], title: str, number: int
) -> None:
    """Paint overview page `number`, counted from 0; the painter's unit is the mm of the paper."""
    first = _rows_on_first(pages)
    if number == 0:
        _paint_head(painter, pages, pieces, title)
        width = pages.paper.width - 2.0 * MARGIN
        left, top = MARGIN, MARGIN + _TOP_OF_PLAN
        plan_width = width * _PLAN_SHARE - _SPACE
        _write_head(painter, QPointF(left, top), "How the pages lie")
        room = QRectF(left, top + _BELOW_HEAD - 3.0, plan_width, _list_height(pages))
        paint_plan(painter, pages, room)
        place = QPointF(left + width * _PLAN_SHARE, top)
        _write_list(painter, pages, pieces, place, range(0, min(first, len(pieces))))
        return
    start = first + (number - 1) * _rows_on_next(pages)
    rows = range(start, min(start + _rows_on_next(pages), len(pieces)))
    _write_list(painter, pages, pieces, QPointF(MARGIN, MARGIN + _HEAD), rows)


def paint_test_square(painter: QPainter, corner: QPointF, paragraphs: Sequence[str]) -> None:
    """The square of 100 mm from its upper left corner, its size on two sides, words inside."""
    pen = QPen(QColor("#000000"), 0.2)
    pen.setJoinStyle(Qt.PenJoinStyle.MiterJoin)
    painter.setPen(pen)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawRect(QRectF(corner.x(), corner.y(), TEST_SQUARE, TEST_SQUARE))
    middle = TEST_SQUARE / 2.0
    label = "100 mm"
    below = QPointF(corner.x() + middle, corner.y() + TEST_SQUARE - 2.5)
    write(painter, below, label, _HEAD, bold=True, align="centre")
    beside = QPointF(corner.x() + TEST_SQUARE - 2.5, corner.y() + middle)
    write(painter, beside, label, _HEAD, bold=True, align="centre", turned=90.0)
    place = QPointF(corner.x() + 6.0, corner.y() + 9.0)
    write(painter, place, "Test square", _HEAD, bold=True)
    below_head = QPointF(place.x(), place.y() + 1.5)
    write_paragraphs(painter, below_head, paragraphs, _TEXT, TEST_SQUARE - 20.0)


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
    for page in pages.pages:
        place = QPointF(page.core.left + 0.3 * size, -page.core.top + size)
        write(painter, place, page.name, size)
    for number, one in enumerate(pages.laid, start=1):
        _paint_number(painter, one, number, 3.0 / scale)
    painter.restore()


def _paint_head(painter: QPainter, pages: Pages, pieces: Sequence[SewnPiece], title: str) -> None:
    width = pages.paper.width - 2.0 * MARGIN
    painter.setPen(QColor("#000000"))
    size = _TITLE * min(1.0, width / max(1.0, width_of(title, _TITLE, bold=True)))
    write(painter, QPointF(MARGIN, MARGIN + _TITLE), title, size, bold=True)
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
    paint_test_square(painter, QPointF(MARGIN, MARGIN + square_top), PRINT_WORDS)
    right = MARGIN + TEST_SQUARE + _SPACE
    column = width - TEST_SQUARE - _SPACE
    y = MARGIN + square_top + 3.0
    _write_head(painter, QPointF(right, y), "Before you cut")
    y = write_paragraphs(painter, QPointF(right, y + 1.0), CAUTIONS, _TEXT, column)
    _write_head(painter, QPointF(right, y + 7.0), "Gluing")
    write_paragraphs(painter, QPointF(right, y + 8.0), _gluing(pages), _TEXT, column)
    _paint_key(painter, QPointF(MARGIN, MARGIN + square_top + TEST_SQUARE + 4.5))


def _counted(number: int, what: str) -> str:
    return f"{number} {what}{'' if number == 1 else 's'}"


def _gluing(pages: Pages) -> tuple[str, ...]:
    return (
        "Trim the left and upper side of a page at its frame. Lay it on the strip "
        f"({pages.strip:.0f}{_TIED}mm) of its neighbour so that the diamonds of one number close.",
    )


def _paint_key(painter: QPainter, place: QPointF) -> None:
    """What the lines mean."""
    x = place.x()
    kinds = (
        ("cut line", 0.5, False),
        ("sewing line", 0.2, False),
        ("mark or dart", 0.25, True),
    )
    for words, thickness, dashed in kinds:
        pen = QPen(QColor("#000000"), thickness)
        pen.setCapStyle(Qt.PenCapStyle.FlatCap)
        if dashed:
            pen.setDashPattern([12.0, 8.0])
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
    """Up to three lines a piece: its name; how it is cut, where it lies, which pages to print."""
    _write_head(painter, place, "What to print")
    before = overview_count(pages, pieces)
    width = pages.paper.width - MARGIN - place.x()
    y = place.y() + _BELOW_HEAD
    for index in rows:
        sewn = pieces[index]
        shown = pages.showing(sewn)
        names = [pages.pages[k].name for k in shown]
        where = names[0] if len(names) == 1 else f"{names[0]} to {names[-1]}"
        print_words = f"print {_ranges([k + 1 + before for k in shown])}"
        first = f"{index + 1}  {sewn.piece.name}"
        second = f"{cut_words(sewn.piece)}, {sewn.piece.cloth}; {where}; {print_words}"
        write(painter, QPointF(place.x(), y), first, _TEXT, bold=True)
        line = wrapped(second, 2.6, width - 4.0)
        for row, text in enumerate(line):
            write(painter, QPointF(place.x() + 4.0, y + 3.5 * (row + 1)), text, 2.6)
        y += _ROW if len(line) > 1 else _ROW - 3.0


def _ranges(numbers: Sequence[int]) -> str:
    """2, 3, 4, 7 as "2-4, 7", the way print windows take it."""
    runs = []
    for _, run in itertools.groupby(enumerate(numbers), key=lambda pair: pair[1] - pair[0]):
        members = [number for _, number in run]
        runs.append(str(members[0]) if len(members) == 1 else f"{members[0]}-{members[-1]}")
    return ", ".join(runs)


def _list_height(pages: Pages) -> float:
    return pages.paper.height - 2.0 * MARGIN - _TOP_OF_PLAN - _BELOW_HEAD


def _rows_on_first(pages: Pages) -> int:
    return int(_list_height(pages) / _ROW)


def _rows_on_next(pages: Pages) -> int:
    return int((pages.paper.height - 2.0 * MARGIN - _HEAD - _BELOW_HEAD) / _ROW)


def _paint_small(painter: QPainter, one: Laid, thickness: float) -> None:
    painter.save()
    painter.setTransform(transform_of(one.move), True)
    pen = QPen(QColor("#000000"), thickness)
    painter.setPen(pen)
    painter.setBrush(QColor("#eeeeee"))
    painter.drawPath(path_of((edge.chain for edge in one.sewn.cut_line), closed=True))
    painter.restore()


def _paint_number(painter: QPainter, one: Laid, number: int, size: float) -> None:
    low, high = (one.move(end) for end in one.sewn.grain)
    middle = low.toward(high, 0.5)
    place = QPointF(middle.x, -middle.y + 0.36 * size)
    write(painter, place, str(number), size, bold=True, align="centre")
