"""The seam ledger at the bottom: seams, girths and findings, live."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TypeAlias

from PySide6.QtCore import QModelIndex, Qt
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHBoxLayout,
    QLabel,
    QWidget,
)

from studio import numbers
from studio.canvas.selection import Selection
from studio.canvas.theme import Theme
from studio.check import GirthRow, LedgerRow
from studio.check.girths import CROTCH, THIGH_BELOW_CROTCH, girth_called
from studio.exchange.adding_up import DIFFERENCES_ROUNDED, adds_up
from studio.memo import remembered
from studio.numbers import LengthUnit
from studio.pattern import Pattern
from studio.window.document import Document
from studio.window.findings_list import FindingsList
from studio.window.ledger_table import LedgerTable, RowsModel
from studio.window.widgets import Titled

VERDICTS = {
    "match": "✓ match",
    "long": "▲ long",
    "short": "▼ short",
    "broken": "? gone",
}
"""A sign and a word for each verdict, of the second side: colour is never the only sign."""

_TOLD = {
    "match": "both sides match",
    "long": "the second side is too long",
    "short": "the second side is too short",
    "broken": "an edge of it is gone, and it is not measured",
}
"""What the pointer over a row tells."""

NOT_TAKEN = "\N{EN DASH}"
"""For a measure of the body that was not taken."""

_MEASURED = {
    "top edge": "All round the finished top edge. The body at that height lies between its waist "
    "and hip girth, in proportion.",
    "hip": "All round on the hip line, against the hip girth.",
    "thigh": f"Round one leg, {numbers.length(THIGH_BELOW_CROTCH)} below the crotch line, against "
    "the thigh girth.",
    "knee": "Round one leg on the knee line, against the knee girth.",
    CROTCH: "Both rises from waist to waist, against the crotch length. What the waist was lowered "
    "by is counted too, since the body is measured from its own waist.",
    "hem": "Round one leg at the hem, against the heel, which has to pass.",
}
"""By how the name of a girth begins."""


class LedgerPane(QWidget):
    """Seams and girths in tables, and what the rules found, side by side."""

    def __init__(self, document: Document, theme: Theme) -> None:
        super().__init__()
        self._document = document
        self._unit: LengthUnit = "mm"
        self.seams = RowsModel(("Seam", "First", "Second", "Difference", "Ease", ""))
        self.girths = RowsModel(("Girth", "Body", "Finished", "Ease"))
        self.findings = FindingsList(document, theme)
        layout = QHBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(1)
        self.rows: list[LedgerRow] = []
        """The seams as they stand in the table."""
        self._tables: list[LedgerTable] = []
        self._heads: list[QLabel] = []
        for title, model, share in (
            ("Seam ledger", self.seams, 26),
            ("Girths", self.girths, 19),
        ):
            layout.addWidget(self._section(title, model), share)
        layout.addWidget(self.findings, 15)
        self._tables[0].clicked.connect(lambda index: self._pick_join(index.row()))
        self._tables[0].chosen.connect(self._pick_join)
        self.set_theme(theme)
        document.shown.connect(self.refresh)
        document.picked.connect(self._show_picked)
        self.refresh()

    def set_unit(self, unit: LengthUnit) -> None:
        """Show lengths in another unit."""
        self._unit = unit
        self.take_letters()
        self.findings.set_unit(unit)
        self.refresh()

    def take_letters(self) -> None:
        """Make room for numbers in the letters of now."""
        for table, model in zip(self._tables, (self.seams, self.girths), strict=True):
            table.make_room(model.headers, self._unit)

    def set_theme(self, theme: Theme) -> None:
        """Take other colours."""
        colours = {"grave": theme.grave, "warning": theme.warning, "faint": theme.faint}
        for model in (self.seams, self.girths):
            model.colours = colours
        self.findings.set_theme(theme)

    def refresh(self) -> None:
        """Show the pattern as it is now."""
        pattern = self._document.pattern
        # What does not match stands first: the end of a long ledger is out of sight.
        self.rows = sorted(pattern.ledger, key=lambda row: row.verdict == "match")
        self._show_seams(self.rows)
        self._show_girths(pattern.girths)
        self.findings.refresh()
        self._show_picked()
        unit = numbers.decimal(self._unit)
        self._heads[0].setText(f"{_seams_title(pattern)}   in {unit}")
        self._heads[1].setText(f"Girths   in {unit}")

    def _section(self, title: str, model: RowsModel) -> QWidget:
        table = LedgerTable()
        table.verdict_at = model.headers.index("") if "" in model.headers else None
        table.setModel(model)
        table.setAccessibleName(title)
        table.setShowGrid(False)
        table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        table.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        table.setTabKeyNavigation(False)
        table.verticalHeader().hide()
        table.setWordWrap(False)
        if table.verdict_at is not None:
            # Seams of one pocket begin alike and differ at their end.
            table.setTextElideMode(Qt.TextElideMode.ElideMiddle)
        header = table.horizontalHeader()
        header.setHighlightSections(False)
        table.make_room(model.headers, self._unit)
        section = Titled(title, table)
        self._tables.append(table)
        self._heads.append(section.head)
        return section

    def _show_seams(self, rows: Sequence[LedgerRow]) -> None:
        told = [_seam_told(row, self._unit) for row in rows]
        self.seams.tips = [tip for _, tip in told]
        accents = {"match": "", "broken": "grave", "long": "grave", "short": "grave"}
        self.seams.show([cells for cells, _ in told], [accents[row.verdict] for row in rows])

    def _show_girths(self, rows: Sequence[GirthRow]) -> None:
        told = [_girth_told(row, self._unit) for row in rows]
        self.girths.tips = [tip for _, tip in told]
        self.girths.show([cells for cells, _ in told], ["" for _ in rows])

    def _show_picked(self) -> None:
        """The row of the seam that is picked, wherever it was picked; none for anything else."""
        table, picked = self._tables[0], self._document.selection
        names = [row.name for row in self.rows]
        at = [names.index(picked.name)] if picked.kind == "join" and picked.name in names else []
        if [index.row() for index in table.selectionModel().selectedRows()] == at:
            return
        table.clearSelection()
        table.setCurrentIndex(self.seams.index(at[0], 0) if at else QModelIndex())

    def _pick_join(self, row: int) -> None:
        self._document.select(Selection("join", self.rows[row].name))


_Told: TypeAlias = tuple[tuple[str, ...], str]
"""The cells of a row, and what the pointer over it tells."""


def _of_difference(cells: tuple[str, ...]) -> str:
    """What the tip of a row adds where the difference is not that of the two lengths beside it."""
    return "" if adds_up(*cells[1:4]) else f" {DIFFERENCES_ROUNDED}"


def _girth_tip(name: str) -> str:
    """Where a girth is measured on the garment, and against what of the body."""
    return next((words for head, words in _MEASURED.items() if name.startswith(head)), name)


def _seam_told_of(row: LedgerRow, unit: LengthUnit) -> _Told:
    cells = _cells_of(row, unit)
    return cells, f"{row.name}: {_TOLD[row.verdict]}.{_of_difference(cells)}"


def _girth_told_of(row: GirthRow, unit: LengthUnit) -> _Told:
    cells = (
        _bare(row, unit),
        NOT_TAKEN if row.body is None else _length(row.body, unit),
        _length(row.finished, unit),
        "" if row.ease is None else _length(row.ease, unit, signed=True),
    )
    return cells, numbers.retold(_girth_tip(row.name), unit) + _of_difference(cells)


def _cells_of(row: LedgerRow, unit: LengthUnit) -> tuple[str, ...]:
    if row.verdict == "broken":
        return (row.name, "", "", "", "", VERDICTS[row.verdict])
    return (
        row.name,
        _length(row.length_a, unit),
        _length(row.length_b, unit),
        _length(row.difference, unit, signed=True),
        _length(row.ease, unit),
        VERDICTS[row.verdict],
    )


def _length(mm: float, unit: LengthUnit, *, signed: bool = False) -> str:
    return numbers.bare(mm, unit, numbers.DECIMALS[unit], signed=signed)


def _bare(row: GirthRow, unit: LengthUnit) -> str:
    """A girth's name in a unit; the head of the table tells which."""
    told = numbers.retold(girth_called(row.name), unit, exact=row.exact)
    return told.replace(f" {numbers.decimal(unit)} ", " ")


def _seams_title(pattern: Pattern) -> str:
    wrong = sum(row.verdict != "match" for row in pattern.ledger)
    if not pattern.ledger:
        return "Seam ledger"
    return "Seam ledger   ✓ all match" if wrong == 0 else f"Seam ledger   ▲ {wrong} to look at"


_seam_told = remembered(_seam_told_of, 800)
_girth_told = remembered(_girth_told_of, 64)
"""Under the hand most rows are those shown already."""
