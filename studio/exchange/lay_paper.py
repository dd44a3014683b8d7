"""A lay on paper: a plan of every cloth with what is cut from it, and each cloth at true size."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from pathlib import Path

import msgspec
from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QColor, QPainter

from studio import numbers
from studio.design.file import write_whole
from studio.errors import BadInput
from studio.exchange.lay_plan import CAUTIONS, ClothPlan, place_words, size_words
from studio.exchange.paint.lay import paint_plan, paint_true
from studio.exchange.paint.listed import Entry, entries_beside, shared_out, write_entries
from studio.exchange.paint.offscreen import ensure_gui
from studio.exchange.paint.overview import paint_test_square, print_words
from studio.exchange.paint.printing import Book, printed
from studio.exchange.paint.writing import (
    LEADING,
    paragraphs_height,
    width_of,
    wrapped,
    write,
    write_paragraphs,
)
from studio.exchange.paper_sizes import MARGIN, Paper, paper_called
from studio.exchange.plain_text import block_names
from studio.exchange.printed_square import SIDE
from studio.numbers import LengthUnit

LONGEST = 5000.0
"""The longest page a PDF holds is 14,400 points, 5080 mm (ISO 32000-1, annex C); with margins."""

_TITLE, _HEAD, _TEXT = 6.5, 4.2, 3.4
_SPACE, _BELOW_HEADING = 6.0, 8.0

_PLAN_SHARE, _LEAST_PLAN = 0.47, 70.0
"""The drawing takes at most this share of a page's height, and at least so much, mm, however much
is told above it."""

_UNDER_PLAN = 14.0
"""Below the cloth stand the arrow of the warp and the scale, mm."""


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
        partial(_paint_page, on=on, plan=plan, part=part, layout=layout)
        for plan in filled
        for layout in (_layout(plan, on, title, verdict, unit),)
        for part in range(len(layout.lists))
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
    paint_true(painter, plan, unit)
    painter.restore()
    corner = QPointF(right - left + 2.0 * MARGIN, MARGIN)
    heading = f"{plan.stock.name}, {plan.stock.cloth}"
    paint_test_square(painter, corner, (heading, *print_words(unit)), unit)


class _Layout(msgspec.Struct, frozen=True):
    """How a plan is set on its pages, mm: its heading and words, the room of the drawing, the
    entries of its list, and which of them each page bears.
    """

    heading: tuple[str, ...]
    size: float
    words: tuple[str, ...]
    room: QRectF
    entries: tuple[Entry, ...]
    lists: tuple[range, ...]


def _layout(plan: ClothPlan, on: Paper, title: str, verdict: str, unit: LengthUnit) -> _Layout:
    """Measured from the top: what is told of the cloth, the drawing as large as may be, the list as
    far as there is room above the cautions, the rest of it on further pages.
    """
    width = on.width - 2.0 * MARGIN
    size, heading = _heading(f"{title}: {plan.stock.name}", width)
    words = (f"{size_words(plan, unit)}.", verdict)
    rows = [(one.sewn.piece.name, place_words(plan, one, unit)) for one in plan.laid]
    entries = entries_beside(rows, width)
    top = _below_heading(heading, size) + 1.5 + paragraphs_height(words, _TEXT, width) + 3.0
    under = _UNDER_PLAN + 2.0 * _SPACE + 1.0
    under += paragraphs_height(CAUTIONS, _TEXT, width) + MARGIN
    left = on.height - top - under
    room = QRectF(MARGIN, top, width, min(_PLAN_SHARE * on.height, max(left, _LEAST_PLAN)))
    drawn = min(room.width() / plan.width, room.height() / plan.height) * plan.height
    lists = shared_out(
        len(entries),
        lambda index, _is_first: entries[index].height,
        left - drawn,
        on.height - MARGIN - _below_heading(heading, size) - _BELOW_HEADING,
    )
    return _Layout(heading, size, words, room, tuple(entries), tuple(lists))


def _heading(text: str, width: float) -> tuple[float, tuple[str, ...]]:
    """A heading on one line, as small as may be for it, or on several: size and lines."""
    size = _TITLE * min(1.0, width / max(1.0, width_of(text, _TITLE, bold=True)))
    size = max(size, _HEAD)
    return size, tuple(wrapped(text, size, width, bold=True))


def _below_heading(heading: Sequence[str], size: float) -> float:
    """The baseline of its last line, mm from the top of the page."""
    return MARGIN + _TITLE + (len(heading) - 1) * size * LEADING


def _paint_page(painter: QPainter, on: Paper, plan: ClothPlan, part: int, layout: _Layout) -> None:
    painter.setPen(QColor("#000000"))
    width = on.width - 2.0 * MARGIN
    for number, line in enumerate(layout.heading):
        at = QPointF(MARGIN, MARGIN + _TITLE + number * layout.size * LEADING)
        write(painter, at, line, layout.size, bold=True)
    y = _below_heading(layout.heading, layout.size)
    entries = [layout.entries[index] for index in layout.lists[part]]
    if part:
        write_entries(painter, QPointF(MARGIN, y + _BELOW_HEADING), entries)
        return
    write_paragraphs(painter, QPointF(MARGIN, y + 1.5), layout.words, _TEXT, width)
    scale = paint_plan(painter, plan, layout.room)
    painter.setPen(QColor("#000000"))
    y = layout.room.top() + plan.height * scale + _UNDER_PLAN
    told = f"Plan at 1 to {numbers.plain(1.0 / scale, 1)}, not for cutting."
    write(painter, QPointF(on.width - MARGIN, y - 5.0), told, _TEXT, align="right")
    y = write_entries(painter, QPointF(MARGIN, y + _SPACE), entries)
    if not entries:
        y -= _SPACE
    write(painter, QPointF(MARGIN, y + _SPACE), "Before you cut", _HEAD, bold=True)
    write_paragraphs(painter, QPointF(MARGIN, y + _SPACE + 1.0), CAUTIONS, _TEXT, width)
