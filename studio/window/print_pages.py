"""Pages sent to a printer: the same as in a PDF, at true size, on the paper that is in it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import cache
from typing import TypeAlias

from PySide6.QtGui import QPageLayout, QPageSize
from PySide6.QtPrintSupport import QPrintDialog, QPrinter, QPrinterInfo
from PySide6.QtWidgets import QMessageBox, QWidget

from studio import numbers
from studio.errors import BadInput, YokewrightError
from studio.exchange.paint.printing import CREATOR, Book, PaintPage, paint_pages
from studio.exchange.paper_sizes import PAPERS
from studio.numbers import LengthUnit
from studio.window import dialogs

MakeBook: TypeAlias = Callable[[str], Book]
"""Gives the pages for a paper, by its word in `PAPERS`."""

_SAME_PAPER = 1.0
"""Printers tell the size of their paper in whole points at the coarsest, 0.35 mm; no two papers
that pages are made for are nearer alike, mm."""

_REACH = 0.1
"""So much of a margin may lie out of reach before it is told, mm: less than a line is wide."""


def ask_and_print(
    over: QWidget,
    make: MakeBook,
    papers: Sequence[str],
    *,
    instead: str,
    caution: str = "",
    unit: LengthUnit = "mm",
) -> bool:
    """Ask for a printer and print; False when nothing was printed. `papers` are those the pages can
    be made for; `instead` says how to get a PDF where there is no printer, `caution` what to mind
    with what comes out.
    """
    if not installed():
        dialogs.tell(over, "No printer is installed here.", instead)
        return False
    printer = prepared(papers)
    made = cache(make)
    dialog = QPrintDialog(printer, over)
    dialog.setWindowTitle("Print")
    try:
        usual = made(paper_in(printer.pageLayout(), papers, unit))
        dialog.setMinMax(1, len(usual.pages))
        while dialog.exec():
            if _printed(over, printer, made, papers, caution, unit):
                return True
    except YokewrightError as problem:
        _tell_problem(over, problem, unit)
    return False


def installed() -> list[str]:
    """The printers that are here."""
    return QPrinterInfo.availablePrinterNames()


def prepared(papers: Sequence[str]) -> QPrinter:
    """The maker's usual printer with the paper it has, or A4 where it has one that no sheet is made
    for; the corner of the paper is where the pages begin.
    """
    printer = QPrinter(QPrinter.PrinterMode.HighResolution)
    printer.setCreator(CREATOR)
    if _known_paper(printer.pageLayout(), papers) is None:
        printer.setPageSize(QPageSize(QPageSize.PageSizeId.A4))
    printer.setPageOrientation(QPageLayout.Orientation.Portrait)
    printer.setFullPage(True)
    return printer


def paper_in(layout: QPageLayout, papers: Sequence[str], unit: LengthUnit = "mm") -> str:
    """Which of the papers a printer is set to.

    Raises:
        BadInput: it is another one; the sentence says which would do.
    """
    word = _known_paper(layout, papers)
    if word is None:
        size = layout.pageSize().size(QPageSize.Unit.Millimeter)
        wide = numbers.bare(size.width(), unit, numbers.ROUGH[unit])
        high = numbers.length(size.height(), unit, numbers.ROUGH[unit])
        known = " or ".join(PAPERS[one].name for one in papers)
        raise BadInput(
            f"The printer is set to {layout.pageSize().name()}, {wide} by {high}. The pages are "
            f"made for {known} and lie true on no other: choose one of these."
        )
    return word


def out_of_reach(layout: QPageLayout, margin: float, unit: LengthUnit = "mm") -> str:
    """Says what a printer would cut off of pages drawn up to `margin` mm from the edges of the
    paper; empty when it reaches all of them.
    """
    in_mm = QPageLayout(layout)
    in_mm.setUnits(QPageLayout.Unit.Millimeter)
    least = in_mm.minimumMargins()
    sides = {
        "on the left": least.left(),
        "on the right": least.right(),
        "at the top": least.top(),
        "at the bottom": least.bottom(),
    }
    missed = [
        f"{_told(blank, unit)} {where}" for where, blank in sides.items() if blank > margin + _REACH
    ]
    if not missed:
        return ""
    blank = f"{', '.join(missed[:-1])} and {missed[-1]}" if missed[1:] else missed[0]
    return (
        f"This printer leaves {blank} of the paper blank. The pages are drawn up to "
        f"{_told(margin, unit)} from its edges, and what lies between would be cut off."
    )


def pages_asked_for(printer: QPrinter, book: Book) -> list[PaintPage]:
    """The pages chosen in the dialog, in its order, as often as the printer will not by itself.

    Raises:
        BadInput: none of the pages asked for is there.
    """
    ranges = printer.pageRanges()
    some = printer.printRange() == QPrinter.PrintRange.PageRange and not ranges.isEmpty()
    pages = [
        page
        for number, page in enumerate(book.pages, start=1)
        if not some or ranges.contains(number)
    ]
    if not pages:
        raise BadInput(f"There are {counted(len(book.pages))}, and none of those asked for.")
    if printer.pageOrder() == QPrinter.PageOrder.LastPageFirst:
        pages.reverse()
    copies = 1 if printer.supportsMultipleCopies() else printer.copyCount()
    if printer.collateCopies():
        return pages * copies
    return [page for page in pages for _ in range(copies)]


def send(pages: Sequence[PaintPage], title: str, printer: QPrinter) -> None:
    """Paint pages at true size, nothing fitted, scaled or moved.

    Raises:
        YokewrightError: the printer does not take them.
    """
    printer.setDocName(title)
    # Chosen across, the paper would take pages that stand upright on their side.
    printer.setPageOrientation(QPageLayout.Orientation.Portrait)
    printer.setFullPage(True)
    try:
        paint_pages(pages, printer)
    except YokewrightError:
        printer.abort()
        raise
    if printer.printerState() == QPrinter.PrinterState.Error:
        raise YokewrightError(f"{printer.printerName()} did not take all of the pages.")


def counted(pages: int) -> str:
    """So many pages in words."""
    return f"{pages} page" if pages == 1 else f"{pages} pages"


def _printed(
    over: QWidget,
    printer: QPrinter,
    make: MakeBook,
    papers: Sequence[str],
    caution: str,
    unit: LengthUnit,
) -> bool:
    """Print as was asked for and tell so; False, and the reason told, when that cannot be."""
    try:
        book = make(paper_in(printer.pageLayout(), papers, unit))
        pages = pages_asked_for(printer, book)
        if not _reaches(over, printer, book, unit):
            return False
        send(pages, book.title, printer)
    except YokewrightError as problem:
        _tell_problem(over, problem, unit)
        return False
    to = printer.outputFileName() or printer.printerName()
    dialogs.tell(over, f"{counted(len(pages))} sent to {to}.", caution)
    return True


def _tell_problem(over: QWidget, problem: YokewrightError, unit: LengthUnit) -> None:
    told = numbers.retold(problem.sentence, unit)
    dialogs.tell(over, "The pages could not be printed.", told)


def _reaches(over: QWidget, printer: QPrinter, book: Book, unit: LengthUnit) -> bool:
    """Whether the printer reaches all that is drawn, or the maker prints all the same."""
    printer.setPageOrientation(QPageLayout.Orientation.Portrait)
    problem = out_of_reach(printer.pageLayout(), book.margin, unit)
    return not problem or not dialogs.ask(
        over,
        "This printer would cut something off.",
        problem,
        "Choose again",
        ("Print all the same", QMessageBox.ButtonRole.DestructiveRole),
    )


def _known_paper(layout: QPageLayout, papers: Sequence[str]) -> str | None:
    """Of the papers the one of this size, upright or across."""
    size = layout.pageSize().size(QPageSize.Unit.Millimeter)
    short, long = sorted((size.width(), size.height()))
    for word in papers:
        paper = PAPERS[word]
        if max(abs(paper.width - short), abs(paper.height - long)) < _SAME_PAPER:
            return word
    return None


def _told(mm: float, unit: LengthUnit) -> str:
    return numbers.length(mm, unit, numbers.DECIMALS[unit])
