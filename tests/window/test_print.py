"""Printing: the pages of the PDF on a printer's paper, at true size, and what stands in the way."""

import numpy as np
import pypdfium2 as pdfium
import pytest
from PySide6.QtCore import QMarginsF, QSizeF
from PySide6.QtGui import QKeySequence, QPageLayout, QPageRanges, QPageSize
from PySide6.QtPrintSupport import QPrintDialog, QPrinter
from PySide6.QtWidgets import QPushButton

from studio.demo import demo_design
from studio.errors import BadInput, YokewrightError
from studio.exchange.paper import book_of_pieces, write_pdf
from studio.exchange.paper_sizes import PAPERS
from studio.exchange.sheet_pdf import book_of_sheet, write_sheet
from studio.exchange.work_sheet import work_sheet_of
from studio.pattern import evaluate
from studio.window import dialogs, print_pages
from studio.window.print_pages import (
    out_of_reach,
    pages_asked_for,
    paper_in,
    prepared,
    send,
)
from tests.exchange.pieces import flap
from tests.exchange.reading import page_count, page_size_mm, painted_chains, words_on
from tests.window.menu_words import words_of

EVERY = tuple(PAPERS)
PATTERN = evaluate(demo_design())
MM = 72.0 / 25.4


def to_file(path, paper="a4", *, across=False):
    """A printer that prints to a file, with a paper in it."""
    printer = prepared(EVERY)
    printer.setOutputFormat(QPrinter.OutputFormat.PdfFormat)
    printer.setOutputFileName(str(path))
    size = PAPERS[paper]
    unit = QPageSize.Unit.Millimeter
    match = QPageSize.SizeMatchPolicy.ExactMatch
    printer.setPageSize(QPageSize(QSizeF(size.width, size.height), unit, size.name, match))
    if across:
        printer.setPageOrientation(QPageLayout.Orientation.Landscape)
    return printer


def print_book(book, printer):
    send(pages_asked_for(printer, book), book.title, printer)


def rendered_square(path, index=0):
    """Width and height in mm of the test square, off a picture of the page: the longest ruled lines
    that stand 100 mm apart within a few; measured from ink to ink.
    """
    scale = 8.0
    with pdfium.PdfDocument(path) as book:
        picture = book[index].render(scale=scale, grayscale=True).to_numpy()
    ink = picture.reshape(picture.shape[:2]) < 128
    long = 90.0 * MM * scale
    sides = []
    for axis in (0, 1):
        lines = np.flatnonzero(ink.sum(axis=axis) > long)
        # A line is several pixels wide: its middle.
        groups = np.split(lines, np.flatnonzero(np.diff(lines) > 1) + 1)
        middles = [group.mean() / scale / MM for group in groups]
        sides.append(min((b - a for a in middles for b in middles), key=lambda d: abs(d - 100.0)))
    return sides


@pytest.mark.parametrize("across", [False, True])
@pytest.mark.parametrize("paper", EVERY)
def test_the_test_square_is_printed_at_its_size_and_the_pages_are_those_of_the_pdf(
    tmp_path, paper, across
):
    pdf, out = tmp_path / "written.pdf", tmp_path / "printed.pdf"
    write_pdf(PATTERN.pieces, pdf, paper=paper, title="Orchard trousers")
    book = book_of_pieces(PATTERN.pieces, paper=paper, title="Orchard trousers")
    print_book(book, to_file(out, paper, across=across))
    assert page_count(out) == page_count(pdf) == len(book.pages)
    # To a whole point, as Qt rounds the paper of a printer.
    assert page_size_mm(out) == pytest.approx(page_size_mm(pdf), abs=0.4)
    assert rendered_square(out) == pytest.approx([100.0, 100.0], abs=0.1)
    for index in {0, len(book.pages) // 2, len(book.pages) - 1}:
        ours, theirs = painted_chains(out, index), painted_chains(pdf, index)
        assert len(ours) == len(theirs)
        for one, other in zip(ours, theirs, strict=True):
            assert one.length == pytest.approx(other.length, abs=0.02)
            assert one.start.x == pytest.approx(other.start.x, abs=0.02)
        assert words_on(out, index) == words_on(pdf, index)


def test_a_picture_of_a_page_that_was_scaled_would_be_found_out(tmp_path):
    """The measure of the square itself: at 97 % it does not read 100 mm."""
    book = book_of_pieces((flap(),), paper="a4", title="Flap")

    def smaller(painter):
        painter.scale(0.97, 0.97)
        book.pages[0](painter)

    out = tmp_path / "small.pdf"
    send([smaller], "Flap", to_file(out))
    assert rendered_square(out) == pytest.approx([97.0, 97.0], abs=0.1)


def test_the_work_sheet_is_printed_as_it_is_written(tmp_path):
    sheet = work_sheet_of(PATTERN)
    pdf, out = tmp_path / "written.pdf", tmp_path / "printed.pdf"
    write_sheet(sheet, pdf, paper="letter")
    print_book(book_of_sheet(sheet, paper="letter"), to_file(out, "letter"))
    assert page_count(out) == page_count(pdf) > 3
    for index in range(page_count(out)):
        assert words_on(out, index) == words_on(pdf, index)


def layout(size, *blank, upright=True):
    """A printer's paper with what it leaves blank: left, top, right, bottom, in mm."""
    ways = QPageLayout.Orientation
    margins = QMarginsF(*blank) if blank else QMarginsF()
    unit = QPageLayout.Unit.Millimeter
    way = ways.Portrait if upright else ways.Landscape
    return QPageLayout(QPageSize(size), way, QMarginsF(), unit, margins)


@pytest.mark.parametrize(
    ("size", "word"),
    [
        # ISO 216 and ANSI/ASME Y14.1, as Qt knows them.
        (QPageSize.PageSizeId.A4, "a4"),
        (QPageSize.PageSizeId.A0, "a0"),
        (QPageSize.PageSizeId.Letter, "letter"),
        (QPageSize.PageSizeId.AnsiA, "letter"),
    ],
)
def test_the_paper_in_the_printer_is_known_upright_and_across(size, word):
    assert paper_in(layout(size), EVERY) == word
    assert paper_in(layout(size, upright=False), EVERY) == word


def test_another_paper_is_refused_with_those_that_would_do():
    with pytest.raises(BadInput) as told:
        paper_in(layout(QPageSize.PageSizeId.A5), EVERY)
    assert "set to A5, 148 by 210 mm" in told.value.message
    assert "A4 or A0 or US letter" in told.value.message
    with pytest.raises(BadInput, match=r"5\.83 by 8\.27 inch"):
        paper_in(layout(QPageSize.PageSizeId.A5), EVERY, "inch")
    with pytest.raises(BadInput, match="made for A4 or US letter and"):
        paper_in(layout(QPageSize.PageSizeId.A0), ("a4", "letter"))


def test_what_a_printer_does_not_reach_is_told_side_by_side():
    size = QPageSize.PageSizeId.A4
    assert out_of_reach(layout(size, 4.0, 4.0, 4.0, 10.0), 10.0) == ""
    told = out_of_reach(layout(size, 4.0, 4.0, 4.0, 12.7), 10.0)
    assert told == (
        "This printer leaves 12.7 mm at the bottom of the paper blank. The pages are drawn up to "
        "10.0 mm from its edges, and what lies between would be cut off."
    )
    told = out_of_reach(layout(size, 11.0, 12.0, 3.0, 12.7), 10.0, "inch")
    assert "0.433 inch on the left, 0.472 inch at the top and 0.500 inch at the bottom" in told
    assert "up to 0.394 inch from" in told
    # In points, as printers tell it, and on paper laid across.
    in_points = layout(size, 4.0, 4.0, 4.0, 12.7, upright=False)
    in_points.setUnits(QPageLayout.Unit.Point)
    assert "12.7 mm at the bottom" in out_of_reach(in_points, 10.0)


def test_nothing_of_a_page_is_drawn_nearer_to_the_edge_than_its_book_says(tmp_path):
    for name, book in (
        ("pieces", book_of_pieces(PATTERN.pieces, paper="a4", title="Orchard")),
        ("sheet", book_of_sheet(work_sheet_of(PATTERN))),
    ):
        out = tmp_path / f"{name}.pdf"
        print_book(book, to_file(out))
        with pdfium.PdfDocument(out) as read:
            for index in range(min(9, len(read))):
                picture = read[index].render(scale=2.0, grayscale=True).to_numpy()
                picture = picture.reshape(picture.shape[:2])
                edge = int((book.margin - 0.5) * 2.0 * MM)
                rim = (picture[:edge], picture[-edge:], picture[:, :edge], picture[:, -edge:])
                assert all(part.min() == 255 for part in rim)


def printed_with(tmp_path, change):
    """Names of the pages printed, of a book of five, by a printer that was changed."""
    named = [f"page {number}" for number in range(1, 6)]
    book = book_of_pieces((flap(),), paper="a4", title="Flap")
    book = type(book)(book.title, book.paper, book.margin, tuple(named))
    printer = to_file(tmp_path / "x.pdf")
    change(printer)
    return [page[-1] for page in pages_asked_for(printer, book)]


def only(*numbers):
    def change(printer):
        ranges = QPageRanges()
        for number in numbers:
            ranges.addPage(number)
        printer.setPageRanges(ranges)
        printer.setPrintRange(QPrinter.PrintRange.PageRange)

    return change


def test_pages_are_printed_as_they_are_asked_for(tmp_path):
    assert printed_with(tmp_path, lambda _: None) == list("12345")
    assert printed_with(tmp_path, only(2, 3, 5)) == list("235")
    assert printed_with(tmp_path, only(4, 77)) == ["4"]
    last_first = QPrinter.PageOrder.LastPageFirst
    assert printed_with(tmp_path, lambda it: it.setPageOrder(last_first)) == list("54321")
    with pytest.raises(BadInput, match="There are 5 pages, and none of those asked for"):
        printed_with(tmp_path, only(6))


def test_copies_are_made_here_where_the_printer_makes_none(tmp_path):
    def twice(printer, collated):
        assert not printer.supportsMultipleCopies()
        printer.setCopyCount(2)
        printer.setCollateCopies(collated)

    assert printed_with(tmp_path, lambda it: twice(it, True)) == list("1234512345")
    assert printed_with(tmp_path, lambda it: twice(it, False)) == list("1122334455")


def test_a_printer_that_takes_nothing_is_an_error_and_no_crash(tmp_path):
    book = book_of_pieces((flap(),), paper="a4", title="Flap")
    with pytest.raises(YokewrightError):
        print_book(book, to_file(tmp_path / "missing" / "x.pdf"))


@pytest.fixture
def told(monkeypatch):
    sentences = []
    monkeypatch.setattr(print_pages, "installed", lambda: ["mill"])
    monkeypatch.setattr(
        dialogs, "tell", lambda _over, title, words: sentences.append((title, words))
    )
    return sentences


def asked(monkeypatch, *answers):
    """Answers to the print dialog: what is done to its printer, or None to give up."""
    left = list(answers)

    def answer(dialog):
        change = left.pop(0)
        if change is not None:
            change(dialog.printer())
        return change is not None

    monkeypatch.setattr(QPrintDialog, "exec", answer)
    return left


def into(path, *more):
    def change(printer):
        printer.setOutputFormat(QPrinter.OutputFormat.PdfFormat)
        printer.setOutputFileName(str(path))
        for one in more:
            one(printer)

    return change


def menu_entry(window, text):
    return next(
        action
        for menu in window.menuBar().actions()
        for action in menu.menu().actions()
        if words_of(action) == text
    )


def test_the_pieces_are_printed_from_the_menu_and_the_square_is_spoken_of(
    window, tmp_path, told, monkeypatch
):
    entry = menu_entry(window, "Print…")
    assert entry.shortcut() == QKeySequence(QKeySequence.StandardKey.Print)
    out = tmp_path / "pieces.pdf"
    assert asked(monkeypatch, into(out)) is not None
    window.set_unit("cm")
    entry.trigger()
    assert rendered_square(out) == pytest.approx([100.0, 100.0], abs=0.1)
    assert "If it is not 10 cm, mend" in words_on(out, 0)
    ((title, words),) = told
    assert title == f"{page_count(out)} pages sent to {out}."
    assert "it is 10 cm on each side" in words


def test_without_a_printer_the_pdf_is_pointed_to(window, told, monkeypatch):
    monkeypatch.setattr(print_pages, "installed", lambda: [])
    assert asked(monkeypatch) == []
    menu_entry(window, "Print…").trigger()
    sheet = window.show_work()
    assert not sheet.print_out()
    sheet.close()
    assert [title for title, _ in told] == ["No printer is installed here."] * 2
    assert "Write pieces to files" in told[0][1]
    assert "PDF" in told[0][1]
    assert "Save the sheet as a PDF" in told[1][1]


def test_the_work_sheet_has_a_button_and_prints_what_it_shows(
    window, qtbot, tmp_path, told, monkeypatch
):
    out = tmp_path / "sheet.pdf"
    asked(monkeypatch, into(out))
    sheet = window.show_work()
    qtbot.addWidget(sheet)
    button = next(one for one in sheet.findChildren(QPushButton) if one.text() == "Print…")
    assert button.shortcut() == QKeySequence(QKeySequence.StandardKey.Print)
    button.click()
    assert page_count(out) == len(sheet.pages)
    assert told[0][0] == f"{len(sheet.pages)} pages sent to {out}."
    sheet.close()


def a5(printer):
    printer.setPageSize(QPageSize(QPageSize.PageSizeId.A5))


def a4(printer):
    printer.setPageSize(QPageSize(QPageSize.PageSizeId.A4))


def short_of_the_bottom(printer):
    printer.setPageLayout(layout(QPageSize.PageSizeId.A4, 4.0, 4.0, 4.0, 14.0))


def test_after_a_refusal_the_printer_is_asked_for_again(window, tmp_path, told, monkeypatch):
    nowhere = tmp_path / "missing" / "x.pdf"
    left = asked(monkeypatch, into(nowhere, a5), into(nowhere, a4), into(nowhere, only(99)), None)
    menu_entry(window, "Print…").trigger()
    assert left == []
    assert [title for title, _ in told] == ["The pages could not be printed."] * 3
    assert "set to A5" in told[0][1]
    assert told[1][1]
    assert "none of those asked for" in told[2][1]


def test_what_would_be_cut_off_is_asked_about_and_choosing_again_is_the_usual_answer(
    window, tmp_path, told, monkeypatch
):
    out = tmp_path / "pieces.pdf"
    questions, answers = [], [True, False]

    def ask(_over, title, words, accept, refuse):
        questions.append((title, words, accept, refuse[0]))
        return answers.pop(0)

    monkeypatch.setattr(dialogs, "ask", ask)
    change = into(out, short_of_the_bottom)
    asked(monkeypatch, change, change)
    menu_entry(window, "Print…").trigger()
    assert len(questions) == 2
    title, words, accept, refuse = questions[0]
    assert "cut something off" in title
    assert "14.0 mm at the bottom" in words
    assert (accept, refuse) == ("Choose again", "Print all the same")
    # The first time it was chosen again; what was printed then is true to size all the same.
    assert len(told) == 1
    assert rendered_square(out) == pytest.approx([100.0, 100.0], abs=0.1)


def test_a_design_without_pieces_is_told_before_any_question(window, told, monkeypatch):
    assert asked(monkeypatch) == []
    monkeypatch.setattr(type(window.document), "whole", lambda _: PATTERN_WITHOUT)
    menu_entry(window, "Print…").trigger()
    assert "no pieces to print" in told[0][1]


PATTERN_WITHOUT = type(PATTERN)(PATTERN.design, PATTERN.panels, PATTERN.lines, (), (), (), ())
