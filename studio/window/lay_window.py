"""The laying table: pieces on the cloth at hand, laid by a search and moved by hand."""

from __future__ import annotations

from collections import Counter
from functools import partial
from pathlib import Path

from msgspec.structs import replace
from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QCloseEvent, QKeySequence, QShortcut, QShowEvent
from PySide6.QtWidgets import QHBoxLayout, QSplitter, QVBoxLayout, QWidget

from studio import numbers
from studio.canvas.lay_hand import LayHand
from studio.canvas.lay_photographs import Photographs
from studio.canvas.lay_scene import LayScene
from studio.canvas.lay_view import KEYS, LayView
from studio.canvas.plain_tip import plain_tip
from studio.canvas.theme import Theme
from studio.check import sentence_in_unit
from studio.cloth.table import Table, table_in
from studio.design.cloth import Lay
from studio.errors import BadInput, YokewrightError
from studio.numbers import LengthUnit
from studio.window import dialogs, lay_sheets
from studio.window.document import Document
from studio.window.lay_advice import Deal
from studio.window.lay_adviser import LayAdviser
from studio.window.lay_bar import LayBar
from studio.window.lay_following import LayFollowing
from studio.window.lay_panes import LayPane, MissingRow
from studio.window.lay_rows import changed_row, missing_row
from studio.window.lay_run import LayRun
from studio.window.lay_search import LaySearch
from studio.window.lay_summary import (
    Followed,
    Report,
    report_of,
    stock_rows,
    verdict_of,
    wanting,
)
from studio.window.short_label import ShortLabel
from studio.window.widgets import redo_keys


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
        self._photographs = Photographs()
        self._report: Report | None = None
        self.scene = LayScene(theme)
        self.hand = LayHand(self, self.scene)
        self.view = LayView(self.scene, self.hand)
        self.bar = LayBar(unit)
        self.pane = LayPane(theme)
        self._hint = ShortLabel()
        self._lay_out()
        self.search = LaySearch(self)
        self._run = LayRun(self.search, self.bar, lambda: self.table, unit)
        self.adviser = LayAdviser(self)
        self.adviser.changed.connect(self._show_lists)
        self.following = LayFollowing(self)
        self.following.judged.connect(self._judged)
        self.following.due.connect(self._follow_on)
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
        self._unit = self._run.unit = unit
        self.bar.set_unit(unit)
        self.refresh()

    def set_theme(self, theme: Theme) -> None:
        """Take other colours."""
        self.scene.set_theme(theme)
        self.pane.set_theme(theme)
        self.view.viewport().update()

    def refresh(self) -> None:
        """Show the pieces and the lay of the design as they are now, and judge them."""
        self.following.is_over()
        table = self._shown_cloths()
        self.following.stands(table)
        self.show_lay(table)

    def show_lay(self, table: Table) -> None:
        """Show a lay of the same pieces on the same cloths, and what there is to say of it."""
        self._show_report(
            table, report_of(self._document.pattern, table, self.scene.name_of, self._unit)
        )

    def _shown_cloths(self) -> Table:
        """Show the cloths; gives the table with the pieces as they are now."""
        self.hand.cancel()
        pattern = self._document.pattern
        design = pattern.design
        self._problem = ""
        try:
            table = table_in(design, pattern.pieces, self._shown_lay(), self._pieces_left_out())
        except BadInput as problem:
            self._problem = problem.sentence
            table = table_in(replace(design, stash=()), pattern.pieces)
        known = self.table.beds
        folder = self._document.path.parent if self._document.path is not None else Path()
        self.scene.show_cloths(table, pattern, self._photographs.of(design.stash, folder))
        self.bar.gap.show_mm(design.lay.gap)
        self._show_counts()
        if known != table.beds:
            self.scene.show_lay(table, {}, {})
            self.view.fit()
        return table

    def _show_report(self, table: Table, report: Report) -> None:
        self._report = report
        self.scene.show_lay(table, report.troubles, report.short)
        words = report.verdict if not self._problem else ""
        self.pane.show_verdict(
            words or f"The stash cannot be used. {self._said(self._problem)}",
            good=report.good and not self._problem,
        )
        self.adviser.ask(self._document.pattern, table, report, quick_only=self.search.is_running)
        self._show_lists()

    def _follow_on(self) -> None:
        """Show what the design is by now. While a line is dragged its pieces are shown at once, and
        judged beside the window, so that the drag stays fluid.
        """
        if self._document.design is self._document.history.design:
            self.refresh()
        else:
            self.scene.show_lay(self._shown_cloths(), self.scene.troubles)
        if not self.search.is_running:
            pattern = self._document.pattern
            self.following.ask(pattern, self.table, self.scene.names, self._unit)

    def _judged(self, found: object) -> None:
        """What becomes of the lay. Of a design that passes by it is only shown; of one that stays
        the pieces lie where they did until the maker takes what is offered.
        """
        if not isinstance(found, Followed):
            return
        if self._document.design is not self._document.history.design:
            self._show_report(self.table.with_lay(found.lay), found.report)
            self.pane.show_verdict(
                self._said(found.sentence), good=found.holds and found.report.good
            )
        elif found.holds and found.lay.placements != self.table.laid:
            self.following.offered = found
            self._show_lists()

    def begin_hand(self) -> None:
        """A piece is about to be moved by hand: a running search is stopped and its best kept."""
        if self.search.is_running:
            self.stop_and_keep()

    def take_lay(self, label: str, lay: Lay, merge: str = "") -> None:
        """One step in the history; what was told before it is over."""
        self.tell("")
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
        if self.search.is_running:
            self.stop_and_keep()
        else:
            self.begin_search()

    def begin_search(self) -> None:
        """Look for a lay of all that is not left out, in processes beside the window."""
        self.refresh()
        if self._problem or not self.table.beds:
            return
        self._run.begin(self._document.history.design, self._document.pattern.pieces)
        self._show_lists()

    def stop_and_keep(self) -> None:
        """End the search; the best lay that it has found is one step."""
        self._run.stop_and_keep()

    def _over(self, best: object) -> None:
        """No more comes of the search."""
        if isinstance(best, Lay) and best != self._document.history.design.lay:
            self.take_lay("Find a lay", best)
        else:
            self.refresh()

    def _better(self, lay: object) -> None:
        """A better lay has been found: shown at once, and no step yet."""
        assert isinstance(lay, Lay)
        # The search has had it judged.
        table = self.table.with_lay(lay)
        self.scene.show_lay(table, {}, {})
        self.pane.show_verdict(
            verdict_of(table, {}, {}, self.scene.name_of), good=not table.not_laid
        )
        self._show_lists()

    def _failed(self, sentence: str) -> None:
        dialogs.tell(self, "The search could not go on.", sentence)

    def _shown_lay(self) -> Lay:
        """What the running search has found, or the lay of the design."""
        best = self.search.best
        return best if self.search.is_running and best is not None else self._document.design.lay

    def _settled(self) -> None:
        """The design has taken a step: a search for what was before is begun anew."""
        self.following.changed()
        design = self._document.history.design
        if self._run.is_behind(design):
            self._run.forget()
            self.begin_search()

    def print_plans(self) -> bool:
        """Print the plans of the lay; False when nothing was printed."""
        return lay_sheets.print_plans(self, self._document, numbers.decimal(self._unit))

    def _write_sheets(self) -> None:
        lay_sheets.ask_and_write(self, self._document, numbers.decimal(self._unit))

    def showEvent(self, event: QShowEvent) -> None:
        """Keys go to the table at once."""
        super().showEvent(event)
        self.view.setFocus()

    def closeEvent(self, event: QCloseEvent) -> None:
        """Nothing goes on behind a closed window."""
        self.stop_and_keep()
        self.search.stop()
        self.adviser.forget()
        self.following.forget()
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
        self._hint.setToolTip(plain_tip("\n".join(f"{key} {does}." for key, does in KEYS)))
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
        document.shown.connect(self.following.changed)
        document.settled.connect(self._settled)
        self._run.better.connect(self._better)
        self._run.over.connect(self._over)
        self._run.failed.connect(self._failed)
        self.bar.asked.connect(self.find_or_stop)
        self.bar.near.connect(self._run.make_ready)
        self.bar.gap_changed.connect(self._take_gap)
        self.bar.left_out_changed.connect(self._take_left_out)
        self.bar.sheets_asked.connect(self._write_sheets)
        self.bar.print_asked.connect(self.print_plans)
        self.bar.fit_asked.connect(self._show_all)
        self.pane.stock_asked.connect(lambda name: self.view.fit(self.scene.box_of(name)))
        self.pane.piece_asked.connect(self._pick)
        for keys, does in (
            (QKeySequence(QKeySequence.StandardKey.Undo), document.undo),
            *((keys, document.redo) for keys in redo_keys()),
            (QKeySequence("Ctrl+0"), self._show_all),
            (QKeySequence(QKeySequence.StandardKey.Print), self.print_plans),
        ):
            QShortcut(keys, self, does)

    def _show_all(self) -> None:
        self.scene.tidy()
        self.view.fit()

    def _pick(self, key: object) -> None:
        # A row of the list may still be there when its piece is gone.
        if isinstance(key, tuple) and key in self.table.items:
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
        if self.search.is_running:
            self.search.stop()
            self.begin_search()
        else:
            self.refresh()

    def _pieces_left_out(self) -> frozenset[str]:
        return frozenset(
            sewn.piece.name
            for sewn in self._document.pattern.pieces
            if sewn.piece.cloth in self._left_out
        )

    def _show_counts(self) -> None:
        counts: Counter[str] = Counter()
        for sewn in self._document.pattern.pieces:
            counts[sewn.piece.cloth] += sewn.piece.quantity
        self.bar.show_cloths(counts, self._left_out)

    def _show_lists(self) -> None:
        if self._report is not None:
            # What is wanting changes with every better lay; meanwhile the verdict names it.
            rows = [] if self.search.is_running else self._rows(self._report)
            self.pane.show_lists(stock_rows(self.table), rows)

    def _rows(self, report: Report) -> list[MissingRow]:
        """What is wanting, each with what can be done about it."""
        found = wanting(report, self.table, self.scene.name_of, self.adviser.advice)
        rows = [missing_row(one, self._said, self._take) for one in found]
        changed = self.following.offered
        if changed is None:
            return rows
        take = partial(self.take_lay, "Lay changed pieces", changed.lay)
        return [changed_row(changed, self._said, take), *rows]

    def _said(self, sentence: str) -> str:
        """A sentence with its lengths in the unit chosen."""
        return sentence_in_unit(sentence, self._document.design, self._unit)

    def _take(self, deal: Deal) -> None:
        """What was offered, as one step."""
        design = self._document.history.design
        try:
            self._document.change(deal.step, deal.made(design))
        except YokewrightError as problem:
            dialogs.tell(self, "This could not be done.", self._said(problem.sentence))
        self.refresh()


_HINT = "Drag lays a piece. R turns, F flips, L locks, Delete puts it back, Escape gives up."
