"""A lay on paper: a plan of every cloth with what is cut from it, and each cloth at true size."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from pathlib import Path

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QColor, QPainter

from studio.design.file import write_whole
from studio.errors import BadInput
from studio.exchange.lay_plan import CAUTIONS, ClothPlan, place_words, size_words
from studio.exchange.paint.lay import paint_plan, paint_true
from studio.exchange.paint.offscreen import ensure_gui
from studio.exchange.paint.overview import paint_test_square, print_words
from studio.exchange.paint.printing import Book, printed
from studio.exchange.paint.writing import shortened, width_of, write, write_paragraphs
from studio.exchange.paper_sizes import MARGIN, Paper, paper_called
from studio.exchange.plain_text import block_names
from studio.exchange.printed_square import SIDE
from studio.numbers import LengthUnit

LONGEST = 5000.0
"""The longest page a PDF holds is 14,400 points, 5080 mm (ISO 32000-1, annex C); with margins."""

_TITLE, _HEAD, _TEXT = 6.5, 4.2, 3.4
_ROW = 5.0
_SPACE = 6.0


def write_lay_pdf(
    plans: Sequence[ClothPlan],
    path: Path | str,
    *,
    title: str,
    verdict: str,
    paper: str = "a4",
    unit: LengthUnit = "mm",
) -> None:
    """Write the plans, a page or more a cloth that has pieces on it; `verdict` stands in front.

    Raises:
        BadInput: nothing is laid, the paper is not one for reading, or the file cannot be written.
    """
    book = book_of_plans(plans, title=title, verdict=verdict, paper=paper, unit=unit)
    write_whole(Path(path), printed(book))


def book_of_plans(
    plans: Sequence[ClothPlan], *, title: str, verdict: str, paper: str, unit: LengthUnit = "mm"
) -> Book:
    """The pages of `write_lay_pdf`, to be painted wherever they are wanted.

    Raises:
        BadInput: nothing is laid, or the paper is not one for reading.
    """
    filled = _filled(plans)
    if paper.lower() == "a0":
        raise BadInput("A plan to read is printed on a4 or letter.", where="paper")
    on = paper_called(paper)
    ensure_gui()
    pages = tuple(
        partial(_paint_page, on=on, plan=plan, part=part, title=title, verdict=verdict, unit=unit)
        for plan in filled
        for part in range(_parts(plan, on))
    )
    return Book(title, on, MARGIN, pages)


def write_true_pdf(
    plans: Sequence[ClothPlan], folder: Path, stem: str, *, unit: LengthUnit = "mm"
) -> list[Path]:
    """Write `<stem>-<cloth>.pdf` for every cloth with pieces on it: one page at true size, for a
    plotter, with a test square beside the cloth.

    Raises:
        BadInput: nothing is laid, a cloth is longer than a page, or a file cannot be written.
    """
    filled = _filled(plans)
    ensure_gui()
    written = []
    for plan, name in zip(filled, block_names(one.stock.name for one in filled), strict=True):
        wide, high = _size(plan)
        if not fits_page(plan):
            raise BadInput(
                "It is longer than 5 m, the most that a page of a PDF can hold; use its DXF.",
                where=plan.stock.name,
            )
        on = Paper(
            plan.stock.name,
            wide + 3.0 * MARGIN,
            high + 2.0 * MARGIN,
        )
        target = folder / f"{stem}-{name.lower()}.pdf"
        pages = (partial(_paint_true, plan=plan, unit=unit),)
        write_whole(target, printed(Book(plan.stock.name, on, MARGIN, pages)))
        written.append(target)
    return written


def fits_page(plan: ClothPlan) -> bool:
    """Whether a cloth at true size, its test square beside it, fits a page of a PDF."""
    return max(_size(plan)) <= LONGEST


def _size(plan: ClothPlan) -> tuple[float, float]:
    return plan.width + SIDE, max(plan.height, SIDE)


def _filled(plans: Sequence[ClothPlan]) -> list[ClothPlan]:
    filled = [plan for plan in plans if plan.laid]
    if not filled:
        raise BadInput("Nothing is laid on any cloth yet.", where="lay")
    return filled


def _paint_true(painter: QPainter, plan: ClothPlan, unit: LengthUnit) -> None:
    left, _, right, high = plan.bed.outline.bounds
    painter.save()
    painter.translate(MARGIN - left, MARGIN + high)
    paint_true(painter, plan)
    painter.restore()
    corner = QPointF(right - left + 2.0 * MARGIN, MARGIN)
    heading = f"{plan.stock.name}, {plan.stock.cloth}"
    paint_test_square(painter, corner, (heading, *print_words(unit)), unit)


def _parts(plan: ClothPlan, on: Paper) -> int:
    """Pages a plan takes: the list goes on where one is not enough."""
    rest = len(plan.laid) - _rows_on_first(on)
    return 1 if rest <= 0 else 1 + -(-rest // _rows_on_next(on))


def _plan_height(on: Paper) -> float:
    return 0.47 * on.height


def _rows_on_first(on: Paper) -> int:
    return int((on.height - 2.0 * MARGIN - _plan_height(on) - 84.0) / _ROW)


def _rows_on_next(on: Paper) -> int:
    return int((on.height - 2.0 * MARGIN - 16.0) / _ROW)


def _paint_page(
    painter: QPainter,
    on: Paper,
    plan: ClothPlan,
    part: int,
    title: str,
    verdict: str,
    unit: LengthUnit,
) -> None:
    painter.setPen(QColor("#000000"))
    width = on.width - 2.0 * MARGIN
    y = MARGIN + _TITLE
    heading = f"{title}: {plan.stock.name}"
    write(painter, QPointF(MARGIN, y), shortened(heading, _TITLE, width), _TITLE, bold=True)
    first = _rows_on_first(on)
    if part:
        start = first + (part - 1) * _rows_on_next(on)
        _write_list(painter, plan, QPointF(MARGIN, y + _SPACE), start, _rows_on_next(on), unit)
        return
    words = (f"{size_words(plan, unit)}.", verdict)
    y = write_paragraphs(painter, QPointF(MARGIN, y + 1.5), words, _TEXT, width)
    room = QRectF(MARGIN, y + 3.0, width, _plan_height(on))
    scale = paint_plan(painter, plan, room)
    painter.setPen(QColor("#000000"))
    y = room.top() + plan.height * scale + 14.0
    told = f"Plan at 1 to {1.0 / scale:.1f}, not for cutting."
    write(painter, QPointF(on.width - MARGIN, y - 5.0), told, _TEXT, align="right")
    y = _write_list(painter, plan, QPointF(MARGIN, y + _SPACE), 0, first, unit)
    write(painter, QPointF(MARGIN, y + _SPACE), "Before you cut", _HEAD, bold=True)
    write_paragraphs(painter, QPointF(MARGIN, y + _SPACE + 1.0), CAUTIONS, _TEXT, width)


def _write_list(
    painter: QPainter, plan: ClothPlan, place: QPointF, start: int, count: int, unit: LengthUnit
) -> float:
    """Number, name and place of each piece; gives the y below the last."""
    y = place.y()
    widest = max(width_of(one.sewn.piece.name, _TEXT) for one in plan.laid)
    for number, one in enumerate(plan.laid[start : start + count], start=start + 1):
        write(painter, QPointF(place.x() + 6.0, y), str(number), _TEXT, bold=True, align="right")
        write(painter, QPointF(place.x() + 9.0, y), one.sewn.piece.name, _TEXT)
        at = QPointF(place.x() + 9.0 + widest + _SPACE, y)
        write(painter, at, place_words(one, unit), _TEXT)
        y += _ROW
    return y
