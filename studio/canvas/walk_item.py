"""A walked seam on the sheet."""

from __future__ import annotations

from collections.abc import Mapping

from PySide6.QtCore import QRectF
from PySide6.QtGui import QPainter

from studio.canvas.sheet_item import SheetItem
from studio.canvas.theme import Theme
from studio.exchange.paint.walk import WalkStyle, box_of_walk, paint_walk
from studio.sew.sewn import SewnPiece
from studio.sew.walk import Step, Walk


class WalkItem(SheetItem):
    """Shown alone: side a where it lies, side b where it has rolled to."""

    def __init__(self, theme: Theme) -> None:
        super().__init__(theme)
        self._walk: Walk | None = None
        self._step: Step | None = None
        self._pieces: Mapping[str, SewnPiece] = {}
        self.setVisible(False)

    def show_walk(self, walk: Walk | None, pieces: Mapping[str, SewnPiece]) -> None:
        """Show a walk from its start, or nothing."""
        self._walk, self._pieces = walk, pieces
        self._step = None if walk is None else walk.at(0.0)
        self.setVisible(walk is not None)
        self._take_rect(
            QRectF()
            if walk is None
            else box_of_walk(walk, pieces).adjusted(-60.0, -60.0, 60.0, 60.0)
        )

    def show_step(self, step: Step) -> None:
        """Show a moment of the walk."""
        self._step = step
        self.update()

    def draw(self, painter: QPainter) -> None:
        """In the colours of the theme."""
        if self._walk is None or self._step is None:
            return
        theme = self.theme
        style = WalkStyle(
            ink=theme.ink,
            still=theme.seam if theme.is_dark else "#d7e0e5",
            rolling=theme.work if theme.is_dark else "#f2dcc8",
            faint=theme.faint,
            work=theme.work,
        )
        paint_walk(painter, self._walk, self._step, self._pieces, style)
