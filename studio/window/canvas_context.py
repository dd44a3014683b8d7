"""The narrow door through which a tool sees the open design and the sheet."""

from __future__ import annotations

from collections.abc import Sequence

from studio.canvas.scene import Sheet
from studio.canvas.selection import Selection
from studio.canvas.snap import Snap
from studio.check import sentence_in_unit
from studio.curves import Point, Vector
from studio.design import Design
from studio.pattern import Pattern
from studio.window.document import Document


class DocumentContext:
    """A `CanvasContext` over a document and its sheet."""

    def __init__(self, document: Document, sheet: Sheet) -> None:
        self._document = document
        self._sheet = sheet

    @property
    def pattern(self) -> Pattern:
        """The pattern as shown."""
        return self._document.pattern

    @property
    def selection(self) -> Selection:
        """What is picked."""
        return self._document.selection

    def select(self, selection: Selection) -> None:
        """Pick something."""
        self._document.select(selection)

    def begin(self) -> Design:
        """Start an edit."""
        return self._document.begin()

    def preview(self, design: Design) -> None:
        """Show a design without taking a step."""
        self._document.preview(design)

    def commit(self, label: str, merge: str = "") -> None:
        """End the edit with one step."""
        self._document.commit(label, merge)

    def rollback(self) -> None:
        """End the edit with nothing changed."""
        self._document.rollback()

    def shift_of_panel(self, name: str) -> Vector:
        """Where a panel lies on the sheet."""
        return self._sheet.shift_of_panel(name)

    def piece_at(self, place: Point) -> str:
        """The piece under a place; empty for none."""
        return self._sheet.piece_at(place)

    def trace(self, points: Sequence[Point]) -> None:
        """Show a line under way."""
        self._sheet.show_trace(points)

    def show_snap(self, panel: str, snap: Snap | None) -> None:
        """Show what a dragged point has snapped to."""
        self._sheet.show_snap(panel, snap)

    def hint(self, sentence: str, exact: Sequence[float] = ()) -> None:
        """Say what the gesture does, in the unit of the sheet: its lengths are those measured, not
        what is left of them when they are told in mm.
        """
        design, unit = self._document.design, self._sheet.unit
        self._document.told.emit(sentence_in_unit(sentence, design, unit, exact))
