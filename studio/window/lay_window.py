"""The laying table: pieces on the cloth at hand, laid by a search and moved by hand."""

from __future__ import annotations

from collections import Counter
from functools import partial
from pathlib import Path

from msgspec.structs import replace
from PySide6.QtCore import QSize, Qt, QTimer
from PySide6.QtGui import QCloseEvent, QKeySequence, QPixmap, QShortcut, QShowEvent
from PySide6.QtWidgets import QFileDialog, QHBoxLayout, QLabel, QSplitter, QVBoxLayout, QWidget

from studio import numbers
from studio.canvas.lay_hand import LayHand
from studio.canvas.lay_items import Photograph
from studio.canvas.lay_paths import photograph_transform
from studio.canvas.lay_scene import Key, LayScene
from studio.canvas.lay_view import KEYS, LayView
from studio.canvas.theme import Theme
from studio.cloth.by_hand import Table, table_of
from studio.design.cloth import Lay, SalvagedPanel
from studio.errors import BadInput, YokewrightError
from studio.exchange.lay_dxf import write_lay_dxf
from studio.exchange.lay_paper import write_lay_pdf, write_true_pdf
from studio.exchange.lay_plan import CAUTIONS, cloth_plans, lay_words
from studio.numbers import LengthUnit
from studio.window import dialogs
from studio.window.document import Document
from studio.window.latest import Latest
from studio.window.lay_advice import MOST_ADVISED, Advice, Deal, all_advice
from studio.window.lay_bar import LayBar
from studio.window.lay_panes import LayPane, MissingRow, Offer
from studio.window.lay_report import Report, report_of, stock_rows, wanting

FOLLOW_MS = 60
"""The table follows a design that is being changed this long after the last change it has shown."""


class LayWindow(QWidget):
    """Stays open beside the drafting sheet and follows the design."""

    def __init__(
        self, document: Document, unit: LengthUnit, theme: Theme, parent: QWidget | None
    ) -> None:
        super().__init__(parent, Qt.WindowType.Window)
        self.setWindowTitle("Laying table")
        self._document = document
        self._unit: LengthUnit = unit
        self._left_out: frozenset[str] = frozenset()
        self._problem = ""
        self._advice: dict[Key, Advice] = {}
        self._report: Report | None = None
        self.scene = LayScene(theme)
        self.hand = LayHand(self, self.scene)
        self.view = LayView(self.scene, self.hand)
        self.bar = LayBar(unit)
        self.pane = LayPane(theme)
        self._hint = QLabel()
        self._lay_out()
        self._adviser = Latest(self)
        self._adviser.answered.connect(self._advised)
        self._follow = QTimer(self, singleShot=True, interval=FOLLOW_MS)
        self._follow.timeout.connect(self.refresh)
        self._connect()
        self.refresh()

    def sizeHint(self) -> QSize:
        """Room for a few cloths side by side."""
        return QSize(1440, 900)

    @property
    def table(self) -> Table:
        """What is shown."""
        return self.scene.table

    def set_unit(self, unit: LengthUnit) -> None:
        """Tell lengths in another unit."""
        self._unit = unit
        self.bar.set_unit(unit)
        self.refresh()

    def set_theme(self, theme: Theme) -> None:
        """Take other colours."""
        self.scene.set_theme(theme)
        self.pane.set_theme(theme)
        self.view.viewport().update()

    def refresh(self) -> None:
        """Show the pieces and the lay of the design as they are now."""
        self._follow.stop()
        self.hand.cancel()
        pattern = self._document.pattern
        design = pattern.design
        self._problem = ""
        try:
            table = table_of(
                pattern.pieces,
                design.cloths,
                design.cutting,
                design.stash,
                design.lay,
                self._pieces_left_out(),
                design.shortages,
            )
        except BadInput as problem:
            self._problem = str(problem)
            table = table_of(pattern.pieces, design.cloths, design.cutting, (), design.lay)
        known = self.table.beds
        self.scene.show_table(table, pattern, {}, self._photographs())
        self.bar.gap.show_mm(design.lay.gap)
        self._show_cloths()
        self.show_lay(table)
        if known != table.beds:
            self.view.fit()

    def show_lay(self, table: Table) -> None:
        """Show a lay of the same pieces on the same cloths, and what there is to say of it."""
        report = report_of(self._document.pattern, table, self.scene.name_of, self._unit)
        self._report = report
        self.scene.show_lay(table, report.troubles, report.short)
        words = report.verdict if not self._problem else ""
        self.pane.show_verdict(
            words or f"The stash cannot be used. {self._problem}",
            good=report.good and not self._problem,
        )
        self._ask_advice(report)
        self.pane.show_lists(stock_rows(table), self._rows(report))

    def begin_hand(self) -> None:
        """A piece is about to be moved by hand."""

    def take_lay(self, label: str, lay: Lay, merge: str = "") -> None:
        """One step in the history."""
        design = self._document.history.design
        self._document.change(label, replace(design, lay=lay), merge)
        self.refresh()

    def tell(self, sentence: str) -> None:
        """In the line under the table."""
        self._hint.setText(sentence or _HINT)

    def picked(self) -> None:
        """Another piece was picked: its name, and what is wrong with it."""
        key = self.scene.picked
        self.tell("" if key is None else f"{self.scene.name_of(key)}. {_HINT}")

    def find_or_stop(self) -> None:
        """Start the search, or end it and keep the best."""

    def save_sheets(self, folder: Path) -> list[Path]:
        """Write the lay to a folder: plans to read, each cloth at true size, a DXF a cloth.

        Raises:
            YokewrightError: nothing is laid, or a file cannot be written.
        """
        pattern = self._document.pattern
        stem = (self._document.path or Path(self._document.design.name)).stem
        plans = cloth_plans(pattern)
        target = folder / f"{stem}-lay.pdf"
        title = f"{self._document.design.name}, lay"
        write_lay_pdf(plans, target, title=title, verdict=lay_words(pattern), unit=self._unit)
        return [target, *write_true_pdf(plans, folder, stem), *write_lay_dxf(plans, folder, stem)]

    def showEvent(self, event: QShowEvent) -> None:
        """Keys go to the table at once."""
        super().showEvent(event)
        self.view.setFocus()

    def closeEvent(self, event: QCloseEvent) -> None:
        """Nothing goes on behind a closed window."""
        self._adviser.forget()
        event.accept()

    def _lay_out(self) -> None:
        left = QWidget()
        column = QVBoxLayout(left)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.view, 1)
        foot = QHBoxLayout()
        foot.setContentsMargins(14, 5, 14, 5)
        self._hint.setProperty("role", "faint")
        self._hint.setToolTip("\n".join(f"{key} {does}." for key, does in KEYS))
        self._hint.setMinimumWidth(60)
        foot.addWidget(self._hint, 1)
        column.addLayout(foot)
        halves = QSplitter(Qt.Orientation.Horizontal)
        halves.addWidget(left)
        halves.addWidget(self.pane)
        halves.setStretchFactor(0, 1)
        halves.setSizes([1090, 350])
        halves.setChildrenCollapsible(False)
        halves.setHandleWidth(1)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.setSpacing(0)
        whole.addWidget(self.bar)
        whole.addWidget(halves, 1)
        self.tell("")

    def _connect(self) -> None:
        document = self._document
        document.shown.connect(self._changed)
        document.settled.connect(self._changed)
        self.bar.asked.connect(self.find_or_stop)
        self.bar.gap_changed.connect(self._take_gap)
        self.bar.left_out_changed.connect(self._take_left_out)
        self.bar.sheets_asked.connect(self._ask_and_save)
        self.bar.fit_asked.connect(self._show_all)
        self.pane.stock_asked.connect(lambda name: self.view.fit(self.scene.box_of(name)))
        self.pane.piece_asked.connect(self._pick)
        for keys, does in (
            (QKeySequence.StandardKey.Undo, document.undo),
            (QKeySequence.StandardKey.Redo, document.redo),
            ("Ctrl+0", self._show_all),
        ):
            QShortcut(QKeySequence(keys), self, does)

    def _changed(self) -> None:
        """The design is another one: shown soon, but not for every move of a drag."""
        if not self._follow.isActive():
            self._follow.start()

    def _show_all(self) -> None:
        self.scene.tidy()
        self.view.fit()

    def _pick(self, key: object) -> None:
        if isinstance(key, tuple):
            self.scene.pick(key)
            self.picked()
            self.view.setFocus()

    def _take_gap(self, mm: float) -> None:
        lay = self._document.history.design.lay
        words = numbers.length(mm, self._unit, numbers.DECIMALS[self._unit])
        self.take_lay(f"Gap of {words} between cuts", replace(lay, gap=mm), "gap")

    def _take_left_out(self, cloths: frozenset[str]) -> None:
        self._left_out = cloths
        self.scene.tidy()
        self.refresh()

    def _pieces_left_out(self) -> frozenset[str]:
        return frozenset(
            sewn.piece.name
            for sewn in self._document.pattern.pieces
            if sewn.piece.cloth in self._left_out
        )

    def _show_cloths(self) -> None:
        counts: Counter[str] = Counter()
        for sewn in self._document.pattern.pieces:
            counts[sewn.piece.cloth] += sewn.piece.quantity
        self.bar.show_cloths(counts, self._left_out)

    def _photographs(self) -> dict[str, Photograph]:
        """The photographs that panels were traced over, where their files are there."""
        folder = self._document.path.parent if self._document.path is not None else Path()
        found = {}
        for stock in self._document.design.stash:
            trace = stock.trace if isinstance(stock, SalvagedPanel) else None
            if trace is None:
                continue
            move = photograph_transform(trace.pixels, trace.marks)
            picture = QPixmap(str(folder / trace.photograph))
            if move is not None and not picture.isNull():
                found[stock.name] = Photograph(picture, move)
        return found

    def _ask_advice(self, report: Report) -> None:
        """Of each piece that is wanting what it lacks and what can be done, beside the window."""
        pattern, table = self._document.pattern, self.table
        # What was said of a piece stays to be read until there is better to say.
        wanted = {*report.waiting, *report.troubles}
        self._advice = {key: one for key, one in self._advice.items() if key in wanted}
        waiting = report.waiting if table.laid and len(report.waiting) <= MOST_ADVISED else ()
        troubled = [one for one in table.laid if (one.piece, one.copy) in report.troubles]
        if not waiting and not troubled:
            self._adviser.forget()
            return
        self._adviser.ask(partial(all_advice, pattern, table, waiting, troubled))

    def _advised(self, found: object) -> None:
        assert isinstance(found, tuple)
        self._advice = {one.key: one for one in found}
        if self._report is not None:
            self.pane.show_lists(stock_rows(self.table), self._rows(self._report))

    def _rows(self, report: Report) -> list[MissingRow]:
        """What is wanting, each with what can be done about it."""
        return [
            MissingRow(
                one.name,
                one.sentences,
                tuple(Offer(deal.label, partial(self._take, deal), deal.tip) for deal in one.deals),
                one.key,
            )
            for one in wanting(report, self.table, self.scene.name_of, self._advice)
        ]

    def _take(self, deal: Deal) -> None:
        """What was offered, as one step."""
        design = self._document.history.design
        try:
            self._document.change(deal.step, deal.made(design))
        except YokewrightError as problem:
            dialogs.tell(self, "This could not be done.", str(problem))
        self.refresh()

    def _ask_and_save(self) -> None:
        name = QFileDialog.getExistingDirectory(self, "Folder for the sheets")
        if not name:
            return
        try:
            written = self.save_sheets(Path(name))
        except (YokewrightError, OSError) as problem:
            dialogs.tell(self, "The sheets could not be written.", str(problem))
            return
        names = "\n".join(path.name for path in written)
        dialogs.tell(self, "The sheets are written.", f"{names}\n\n{CAUTIONS[0]}")


_HINT = (
    "Drag lays a piece; R turns, F flips, L locks, Delete puts it back, arrows nudge, "
    "Alt insists, Escape gives up."
)
