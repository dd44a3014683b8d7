"""A picked piece: how it is cut, how each free edge is finished, its corners, its stitching."""

from __future__ import annotations

from functools import partial

from msgspec.structs import replace
from PySide6.QtWidgets import (
    QComboBox,
    QGridLayout,
    QVBoxLayout,
    QWidget,
)

from studio.canvas.length_field import LengthField
from studio.canvas.plain_tip import plain_tip
from studio.canvas.type_size import size_with_letters
from studio.cloth.stash_edit import cutting_of
from studio.cut.parts.band_facing import facings_beside
from studio.design.joins import Corner, EdgeRef, Finish
from studio.design.pieces import PieceRecipe
from studio.numbers import LengthUnit, decimal
from studio.sew.allowance import finish_allowance
from studio.sew.constructions import FINISHES, finished
from studio.sew.edge_words import start_words
from studio.sew.sewn import SewnPiece
from studio.window.choice_box import ChoiceBox
from studio.window.cut_form import CutForm
from studio.window.cutting_form import CuttingForm
from studio.window.document import Document
from studio.window.rows_form import RowsForm
from studio.window.take_away import piece_button
from studio.window.widgets import emptied, faint, head, wrapped

_ALLOWANCE_WIDE = 74
"""Pixels of a field for an allowance: the rest is for the words of the finish."""

_NOTHING = "nothing said"
_USUAL = "as usual"
_CORNERS = {
    "mitred": "mitred",
    "squared-to-before": "square to the first",
    "squared-to-after": "square to the second",
}


class PieceForm(QWidget):
    """Made anew for another piece and whenever its edges are joined otherwise."""

    def __init__(self, document: Document, name: str, unit: LengthUnit) -> None:
        super().__init__()
        self._document = document
        self._name = name
        self._unit = unit
        self._shape: object = None
        self.finishes: dict[str, QComboBox] = {}
        self.turn_ups: dict[str, LengthField] = {}
        self.corners: dict[tuple[str, str], QComboBox] = {}
        self.cut: CutForm | None = None
        self.cutting: CuttingForm | None = None
        self.rows: RowsForm | None = None
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 6, 0, 0)
        self._column.setSpacing(4)
        self.refresh()

    def refresh(self) -> None:
        """Show the piece as it is now."""
        sewn = self._sewn()
        design = self._document.design
        shape = (
            None if sewn is None else tuple(edge.name for edge in sewn.piece.outline),
            self._recipe(),
            facings_beside(design, self._name),
            design.cloths,
            cutting_of(design, self._name),
            tuple((stock.name, stock.cloth) for stock in design.stash),
            design.joins,
            design.finishes,
            design.corners,
            design.standard_allowance,
        )
        if shape != self._shape:
            self._shape = shape
            self._build(sewn)
        elif self.rows is not None:
            self.rows.refresh()

    def set_finish(self, edge: str, how: str) -> None:
        """Finish an edge, or say nothing of it."""
        design = self._document.history.design
        kept = tuple(one for one in design.finishes if one.edge != EdgeRef(self._name, edge))
        if how in FINISHES:
            kept += (Finish(EdgeRef(self._name, edge), how),)
        self._document.change(f"Finish {self._name}:{edge}", replace(design, finishes=kept))

    def set_allowance(self, edge: str, mm: float | None) -> None:
        """Give a finished edge its allowance."""
        design = self._document.history.design
        finishes = tuple(
            replace(one, allowance=mm) if one.edge == EdgeRef(self._name, edge) else one
            for one in design.finishes
        )
        label = f"Allowance of {self._name}:{edge}"
        self._document.change(label, replace(design, finishes=finishes))

    def set_turn_up(self, edge: str, mm: float | None) -> None:
        """Let a turn-up stand so high; what is turned in inside stays as it was."""
        design = self._document.history.design
        mine = EdgeRef(self._name, edge)
        finishes = tuple(_stood(one, mm) if one.edge == mine else one for one in design.finishes)
        label = f"Turn-up of {self._name}:{edge}"
        self._document.change(label, replace(design, finishes=finishes))

    def set_corner(self, before: str, after: str, how: str) -> None:
        """Make a corner of the cut line so, or as is usual."""
        design = self._document.history.design
        kept = tuple(
            one
            for one in design.corners
            if (one.piece, one.before, one.after) != (self._name, before, after)
        )
        if how in _CORNERS:
            kept += (Corner(self._name, before, after, how),)  # type: ignore[arg-type]
        self._document.change(f"Corner of {self._name}", replace(design, corners=kept))

    def _sewn(self) -> SewnPiece | None:
        return next((s for s in self._document.pattern.pieces if s.piece.name == self._name), None)

    def _recipe(self) -> PieceRecipe | None:
        return next((one for one in self._document.design.pieces if one.name == self._name), None)

    def _build(self, sewn: SewnPiece | None) -> None:
        emptied(self._column)
        self.finishes, self.turn_ups, self.corners, self.rows = {}, {}, {}, None
        recipe = self._recipe()
        if recipe is not None:
            self.cut = CutForm(self._document, recipe, self._unit)
            self._column.addWidget(self.cut)
            self.cutting = CuttingForm(self._document, recipe)
            self._column.addWidget(self.cutting)
        if sewn is not None:
            self._add_edges(sewn)
            self._add_corners(sewn)
            self._add_stitching(sewn)
        button = None if recipe is None else piece_button(self._document, recipe)
        if button is not None:
            self._column.addWidget(button)

    def _add_edges(self, sewn: SewnPiece) -> None:
        self._column.addWidget(head("Edges"))
        grid = _grid(self._column)
        design = self._document.design
        joined: dict[str, list[str]] = {}
        for join in design.joins:
            for edge in dict.fromkeys(ref.edge for ref in join.refs if ref.piece == self._name):
                joined.setdefault(edge, []).append(join.name)
        known = {one.edge.edge: one for one in design.finishes if one.edge.piece == self._name}
        row = -1
        for edge in dict.fromkeys(e.name for e in sewn.piece.outline):
            row += 1
            if edge in joined:
                grid.addWidget(faint(self._called(edge)), row, 0)
                grid.addWidget(faint(f"in {', '.join(joined[edge])}"), row, 1, 1, 2)
                continue
            grid.addWidget(wrapped(self._called(edge)), row, 0)
            box = ChoiceBox()
            box.setAccessibleName(f"Finish of {edge}")
            box.addItem(_NOTHING, "")
            for word, kind in FINISHES.items():
                box.addItem(kind.title, word)
            finish = known.get(edge)
            box.setCurrentIndex(0 if finish is None else box.findData(finish.how))
            box.setSizeAdjustPolicy(
                QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon
            )
            box.setToolTip(plain_tip(box.currentText()))
            box.activated.connect(partial(self._finish_chosen, edge, box))
            grid.addWidget(box, row, 1)
            self.finishes[edge] = box
            if finish is not None:
                field = LengthField(f"Allowance of {edge}", partial(self.set_allowance, edge))
                field.set_unit(self._unit)
                field.show_mm(finish_allowance(finish, design.standard_allowance))
                _as_wide_as_allowances(field)
                grid.addWidget(field, row, 2)
                if finished(finish).turn_up > 0.0:
                    row += 1
                    self._add_turn_up(grid, row, edge, finished(finish).turn_up)

    def _add_turn_up(self, grid: QGridLayout, row: int, edge: str, high: float) -> None:
        label = f"Turn-up of {edge}, high"
        field = LengthField(label, partial(self.set_turn_up, edge), least=1.0)
        field.set_unit(self._unit)
        field.show_mm(high)
        _as_wide_as_allowances(field)
        grid.addWidget(faint("its height"), row, 1)
        grid.addWidget(field, row, 2)
        self.turn_ups[edge] = field

    def _called(self, edge: str) -> str:
        """An edge of the piece's own needs no more than what comes after the name of the piece."""
        return edge.removeprefix(f"{self._name}.")

    def _finish_chosen(self, edge: str, box: QComboBox, _at: int) -> None:
        self.set_finish(edge, box.currentData())

    def _add_corners(self, sewn: SewnPiece) -> None:
        edges = [edge.name for edge in sewn.piece.outline]
        if len(edges) < 2:
            return
        self._column.addWidget(head("Corners of the cut line"))
        grid = _grid(self._column)
        asked = {
            (one.before, one.after): one.how
            for one in self._document.design.corners
            if one.piece == self._name
        }
        for row, (before, after) in enumerate(zip(edges, (*edges[1:], edges[0]), strict=True)):
            grid.addWidget(wrapped(f"{self._called(before)}, {self._called(after)}"), row, 0)
            box = ChoiceBox()
            box.setAccessibleName(f"Corner of {before} and {after}")
            box.addItem(_USUAL, "")
            for word, said in _CORNERS.items():
                box.addItem(said, word)
            box.setSizeAdjustPolicy(
                QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon
            )
            box.setCurrentIndex(max(0, box.findData(asked.get((before, after), ""))))
            box.activated.connect(partial(self._corner_chosen, before, after, box))
            grid.addWidget(box, row, 1)
            self.corners[before, after] = box

    def _corner_chosen(self, before: str, after: str, box: QComboBox, _at: int) -> None:
        self.set_corner(before, after, box.currentData())

    def _add_stitching(self, sewn: SewnPiece) -> None:
        self._column.addWidget(head(f"Topstitching, {decimal(self._unit)} from the edge"))
        piece = sewn.piece
        names = [one.name for one in (*piece.outline, *piece.marks)]
        edges = {name: start_words(piece.outline, name) for name in names}
        self.rows = RowsForm(self._document, self._name, self._unit, edges)
        self._column.addWidget(self.rows)


def _stood(finish: Finish, mm: float | None) -> Finish:
    """A finish with its turn-up so high; an allowance that was typed changes by both layers."""
    made = replace(finish, turn_up=mm)
    if finish.allowance is None:
        return made
    more = finished(made).turn_up - finished(finish).turn_up
    return replace(made, allowance=finish.allowance + 2.0 * more)


def _grid(column: QVBoxLayout) -> QGridLayout:
    grid = QGridLayout()
    grid.setContentsMargins(0, 0, 0, 0)
    grid.setVerticalSpacing(3)
    grid.setColumnStretch(1, 1)
    column.addLayout(grid)
    return grid


def _as_wide_as_allowances(field: LengthField) -> None:
    size_with_letters(field, minimumWidth=_ALLOWANCE_WIDE, maximumWidth=_ALLOWANCE_WIDE)
