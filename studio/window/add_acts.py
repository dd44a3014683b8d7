"""What a maker adds by asking for it: a yoke, a part, a join of edges."""

from __future__ import annotations

from msgspec.structs import replace
from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QWidget

from studio.canvas.selection import Selection
from studio.check import sentence_in_unit
from studio.cut.divide import is_off_panel
from studio.cut.parts import Part
from studio.cut.yoke_cut import with_yoke
from studio.design import Design, Join, PanelPiece, ShapePiece
from studio.errors import YokewrightError
from studio.numbers import LengthUnit
from studio.pattern import with_parts
from studio.window import dialogs
from studio.window.document import Document
from studio.window.join_dialog import JoinDialog
from studio.window.part_dialog import PartDialog
from studio.window.yoke_dialog import YokeDialog


class AddActs(QObject):
    """Each is one step of the history; `over` is the widget that questions are asked over.

    `added` tells that there is something new, which may lie outside of what is in view.
    """

    added = Signal()

    def __init__(self, document: Document, over: QWidget) -> None:
        super().__init__(over)
        self._document = document
        self._over = over
        self.unit: LengthUnit = "mm"

    def cut_yoke(self) -> None:
        """Ask for a yoke's numbers and cut it."""
        panels = {panel.name: panel for panel in self._document.pattern.panels}
        dialog = YokeDialog(list(panels), self.unit, self._over)
        while dialog.exec():
            asked = dialog.yoke()
            try:
                made = with_yoke(self._document.history.design, panels[asked.panel], asked)
            except YokewrightError as problem:
                self._tell("The yoke could not be cut.", problem)
                continue
            if self._document.change(f"Cut {asked.name}", made):
                self._show_added(asked.name)
            return

    def join_edges(self) -> None:
        """Ask for two runs of edges and join them."""
        pattern = self._document.pattern
        dialog = JoinDialog(pattern.pieces, pattern.design.joins, self._over, self.unit)
        if dialog.exec():
            self.take_join(dialog.join())

    def take_join(self, join: Join) -> None:
        """Add a join and pick it."""
        design = self._document.history.design
        changed = replace(design, joins=(*design.joins, join))
        if self._document.change(f"Join: {join.name}", changed):
            self._document.select(Selection("join", join.name))

    def add_part(self, kind: type[Part]) -> None:
        """Ask for the numbers of a part and add it."""
        pattern = self._document.pattern
        dialog = PartDialog(
            kind,
            [panel.name for panel in pattern.panels],
            [cloth.name for cloth in pattern.design.cloths],
            self.unit,
            self._over,
            _laid_on(pattern.design),
            kind().fitting({panel.name: panel for panel in pattern.panels}),  # type: ignore[call-arg]
        )
        while dialog.exec():
            if self.take_part(dialog.part()):
                return

    def take_part(self, part: Part) -> bool:
        """Add a part; False, and the reason told, when it cannot be."""
        try:
            made = with_parts(self._document.history.design, part)
        except YokewrightError as problem:
            self._tell("The part could not be added.", problem)
            return False
        if self._document.change(f"Add {part.name}", made):
            self._show_added(part.name)
        return True

    def _show_added(self, name: str) -> None:
        """What was added is picked, to be put in its place: its line, else its piece."""
        self.added.emit()
        design = self._document.design
        if any(line.name == name for line in design.lines):
            self._document.select(Selection("line", name))
        elif any(piece.name == name for piece in design.pieces):
            self._document.select(Selection("piece", name))

    def _tell(self, what: str, problem: YokewrightError) -> None:
        """What could not be done, and why, with its lengths in the unit chosen."""
        why = sentence_in_unit(problem.sentence, self._document.design, self.unit)
        dialogs.tell(self._over, what, why)


def _laid_on(design: Design) -> list[str]:
    """What a patch may be laid on beside the leg: other patches, and bearers, bags and panels that
    lie inside or on top, as a pocket for coins lies on the bearer of a hand pocket.
    """
    kinds = {line.name: line.kind for line in design.lines}
    return [
        piece.name
        for piece in design.pieces
        if isinstance(piece, ShapePiece)
        or (
            isinstance(piece, PanelPiece)
            and not is_off_panel(piece)
            and any(kinds.get(bound.line) in ("mark", "patch") for bound in piece.bounds)
        )
    ]
