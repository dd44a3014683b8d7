"""The panes of the main window, and how it shares its room out among them when it opens."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QSplitter, QWidget

from studio.canvas.type_size import grown

_SMALL = QSize(1280, 752)
"""Up to this size all but the sheet is as small as is of use, pixels."""

_ROAD, _LEGS, _LEDGER = 262, 330, 232
"""Pixels for the road at the left, the legs on the wearer at the right and the ledger below in a
small window.
"""

_MORE_ROAD, _MORE_LEGS, _MORE_LEDGER = 0.12, 0.2, 0.25
"""Shares of what a window is larger when it opens; the rest is the sheet's."""


class Panes(QSplitter):
    """Road, sheet, legs over details from the left, and the ledger below them; parted by lines that
    can be dragged. Later only the sheet grows and shrinks with the window.
    """

    def __init__(
        self, road: QWidget, sheet: QWidget, legs: QWidget, details: QWidget, ledger: QWidget
    ) -> None:
        super().__init__(Qt.Orientation.Vertical)
        self._details = details
        self._was_shown = False
        self._right = QSplitter(Qt.Orientation.Vertical)
        self._upper = QSplitter(Qt.Orientation.Horizontal)
        for splitter, panes in (
            (self._right, (legs, details)),
            (self._upper, (road, sheet, self._right)),
            (self, (self._upper, ledger)),
        ):
            for pane in panes:
                splitter.addWidget(pane)
            splitter.setChildrenCollapsible(False)
            splitter.setHandleWidth(1)
        self._right.setSizes([360, 300])
        self._upper.setStretchFactor(1, 1)
        self.setStretchFactor(0, 1)
        self._share_out(QSize(1440, 852))

    def showEvent(self, event: QShowEvent) -> None:
        """A large window has more room for its lists too."""
        super().showEvent(event)
        if not self._was_shown:
            self._was_shown = True
            self._share_out(self.size())

    def _share_out(self, whole: QSize) -> None:
        more = (whole - _SMALL).expandedTo(QSize(0, 0))
        road = grown(_ROAD) + round(_MORE_ROAD * more.width())
        legs = max(_LEGS, self._details.minimumSizeHint().width())
        legs += round(_MORE_LEGS * more.width())
        self._upper.setSizes([road, max(1, whole.width() - road - legs), legs])
        ledger = _LEDGER + round(_MORE_LEDGER * more.height())
        self.setSizes([max(1, whole.height() - ledger), ledger])
