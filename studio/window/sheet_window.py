"""Sheets to read on the screen, page by page, following the design."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QColor, QKeySequence, QPainter, QPaintEvent
from PySide6.QtWidgets import (
    QDialog,
    QFileDialog,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from studio.errors import YokewrightError
from studio.exchange.along import Sheet
from studio.exchange.paint.along import Page, pages_of, paint_page
from studio.exchange.paint.printing import Book
from studio.exchange.paper_sizes import PAPERS, READING_PAPERS, Paper
from studio.exchange.sheet_pdf import book_of_sheet, write_sheet
from studio.numbers import LengthUnit, retold
from studio.pattern import Pattern
from studio.window import dialogs
from studio.window.choice_box import ChoiceBox
from studio.window.document import Document
from studio.window.widgets import show_in

_PIXELS_A_MM = 3.4
_BETWEEN = 14


class SheetWindow(QDialog):
    """All pages under one another; stays open beside the canvas. `make` gives the sheet of a
    pattern in a unit, `title` and `words` say what it is.
    """

    def __init__(
        self,
        document: Document,
        unit: LengthUnit,
        make: Callable[[Pattern, LengthUnit], Sheet],
        title: str,
        words: str,
        parent: QWidget | None,
    ) -> None:
        super().__init__(parent)
        self.setWindowTitle(title)
        self._make = make
        self._words = words
        self._document = document
        self._unit: LengthUnit = unit
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addLayout(self._bar())
        self._scroll = QScrollArea()
        self._scroll.setWidgetResizable(True)
        self._scroll.setAlignment(Qt.AlignmentFlag.AlignHCenter)
        column.addWidget(self._scroll, 1)
        document.settled.connect(self.refresh)
        self.refresh()

    def sizeHint(self) -> QSize:
        """A page and a half."""
        return QSize(round(PAPERS["a4"].width * _PIXELS_A_MM) + 60, 900)

    @property
    def pages(self) -> tuple[Page, ...]:
        """What is shown."""
        return self._pages

    def refresh(self) -> None:
        """Set the sheet anew; the place looked at is kept."""
        where = self._scroll.verticalScrollBar().value()
        paper = PAPERS[self._paper.currentData()]
        self._pages = pages_of(self._sheet(), paper)
        holder = QWidget()
        column = QVBoxLayout(holder)
        column.setContentsMargins(_BETWEEN, _BETWEEN, _BETWEEN, _BETWEEN)
        column.setSpacing(_BETWEEN)
        for page in self._pages:
            column.addWidget(_PageView(page, paper), 0, Qt.AlignmentFlag.AlignHCenter)
        show_in(self._scroll, holder)
        self._scroll.verticalScrollBar().setValue(where)

    def _sheet(self) -> Sheet:
        """The sheet as it is now; where it cannot be made, why."""
        try:
            return self._make(self._document.whole(), self._unit)
        except YokewrightError as problem:
            told = retold(problem.sentence, self._unit)
            return Sheet(self.windowTitle(), (f"This sheet cannot be made now. {told}",), ())

    def save_to(self, path: Path) -> bool:
        """Write the sheet; False, and the reason told, when it could not be written."""
        try:
            sheet = self._make(self._document.whole(), self._unit)
            write_sheet(sheet, path, paper=self._paper.currentData())
        except YokewrightError as problem:
            told = retold(problem.sentence, self._unit)
            dialogs.tell(self, "The sheet could not be written.", told)
            return False
        return True

    def print_out(self) -> bool:
        """Print the sheet on the paper that is in the printer; False when it was not."""
        from studio.window.print_pages import ask_and_print  # Slow to load.

        def made(paper: str) -> Book:
            return book_of_sheet(self._make(self._document.whole(), self._unit), paper=paper)

        return ask_and_print(
            self,
            made,
            READING_PAPERS,
            instead="Save the sheet as a PDF instead, and print it where there is a printer.",
            unit=self._unit,
        )

    def _bar(self) -> QHBoxLayout:
        bar = QHBoxLayout()
        bar.setContentsMargins(14, 8, 14, 8)
        bar.setSpacing(8)
        words = QLabel(self._words)
        bar.addWidget(words, 1)
        self._paper = ChoiceBox()
        self._paper.setAccessibleName("Paper")
        for name in READING_PAPERS:
            self._paper.addItem(PAPERS[name].name, name)
        self._paper.currentIndexChanged.connect(lambda _index: self.refresh())
        bar.addWidget(self._paper)
        printing = QPushButton("Print…")
        printing.setShortcut(QKeySequence(QKeySequence.StandardKey.Print))
        printing.setAutoDefault(False)
        printing.clicked.connect(lambda _on=False: self.print_out())
        bar.addWidget(printing)
        save = QPushButton("Save as PDF…")
        save.setAutoDefault(False)
        save.clicked.connect(self._ask_and_save)
        bar.addWidget(save)
        return bar

    def _ask_and_save(self) -> None:
        start = f"{self._document.design.name}, {self.windowTitle().lower()}.pdf"
        name, _ = QFileDialog.getSaveFileName(self, "Save the sheet", start, "PDF (*.pdf)")
        if name:
            path = Path(name)
            self.save_to(path if path.suffix else path.with_suffix(".pdf"))


class _PageView(QWidget):
    """One page as paper."""

    def __init__(self, page: Page, paper: Paper) -> None:
        super().__init__()
        self._page = page
        self.setFixedSize(round(paper.width * _PIXELS_A_MM), round(paper.height * _PIXELS_A_MM))

    def paintEvent(self, _event: QPaintEvent) -> None:
        """White in every theme: it is paper."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillRect(self.rect(), QColor("#ffffff"))
        painter.scale(_PIXELS_A_MM, _PIXELS_A_MM)
        paint_page(painter, self._page)
        painter.end()
