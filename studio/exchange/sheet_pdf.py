"""Sheets to read, as PDF: the draft-along sheet, the work sheet."""

from __future__ import annotations

from functools import partial
from pathlib import Path

from studio.design.file import write_whole
from studio.errors import BadInput
from studio.exchange.along import Sheet, sheet_of
from studio.exchange.paint.along import EDGE, pages_of, paint_page
from studio.exchange.paint.offscreen import ensure_gui
from studio.exchange.paint.printing import Book, printed
from studio.exchange.paper_sizes import paper_called
from studio.numbers import LengthUnit
from studio.pattern import Pattern


def write_along(
    pattern: Pattern, path: Path | str, *, paper: str = "a4", unit: LengthUnit = "mm"
) -> None:
    """Write the sheet that tells how to draw the pattern by hand.

    `paper` is "a4" or "letter"; figures are small and not to scale, measures are in `unit`.

    Raises:
        BadInput: the paper is not one for reading, or the file cannot be written.
    """
    write_sheet(sheet_of(pattern, unit), path, paper=paper)


def write_sheet(sheet: Sheet, path: Path | str, *, paper: str = "a4") -> None:
    """Write a sheet set on pages.

    Raises:
        BadInput: the paper is not one for reading, or the file cannot be written.
    """
    write_whole(Path(path), printed(book_of_sheet(sheet, paper=paper)))


def book_of_sheet(sheet: Sheet, *, paper: str = "a4") -> Book:
    """The pages of a sheet, to be painted wherever they are wanted.

    Raises:
        BadInput: the paper is not one for reading.
    """
    if paper.lower() == "a0":
        raise BadInput("A sheet to read is printed on a4 or letter.", where="paper")
    on = paper_called(paper)
    ensure_gui()
    pages = tuple(partial(paint_page, page=page) for page in pages_of(sheet, on))
    return Book(sheet.title, on, EDGE, pages)
