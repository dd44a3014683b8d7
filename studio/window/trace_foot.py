"""The line under what is traced: what to do next, where the pointer is, undo and redo."""

from __future__ import annotations

from PySide6.QtWidgets import QHBoxLayout, QLabel, QWidget

from studio import numbers
from studio.canvas.trace_hand import TraceHand
from studio.numbers import LengthUnit
from studio.window.buttons import with_sign
from studio.window.widgets import wrapped

_GUIDE = {
    "move": "Drag points. Double-click on an edge for one more; Del takes the picked one away.",
    "outline": "Click along the edge of the cloth. Enter or the first point closes it.",
    "grain": "Click two places on one thread of the warp, the lower one first.",
    "hole": "Click round the hole; Enter closes it.",
    "stain": "Click round the stain; Enter closes it.",
    "worn": "Click round the worn place; Enter closes it.",
    "seam": "Click along the middle of the seam; Enter ends it.",
}


class TraceFoot(QWidget):
    """Follows a `TraceHand`."""

    def __init__(self, hand: TraceHand, unit: LengthUnit) -> None:
        super().__init__()
        self._hand, self._unit = hand, unit
        self.told = ""
        line = QHBoxLayout(self)
        line.setContentsMargins(14, 6, 14, 6)
        line.setSpacing(8)
        self.hint = wrapped()
        line.addWidget(self.hint, 1)
        self._place = QLabel()
        self._place.setProperty("role", "faint")
        line.addWidget(self._place)
        self.undo = with_sign("↶", hand.undo, tip="Undo")
        self.redo = with_sign("↷", hand.redo, tip="Redo")
        line.addWidget(self.undo)
        line.addWidget(self.redo)

    def tell(self, sentence: str) -> None:
        """Say why something is not done."""
        self.told = sentence
        self.hint.setText(f"▲ {sentence}")

    def refresh(self) -> None:
        """Show what to do next; what was told is over."""
        self.told = ""
        self.undo.setEnabled(self._hand.can_undo)
        self.redo.setEnabled(self._hand.can_redo)
        self.hint.setText(self._guide())

    def show_place(self, x: float, y: float) -> None:
        """Where the pointer is: a pixel of the photograph, or mm on the cloth."""
        if self._hand.stage == "scale":
            self._place.setText(f"pixel {numbers.plain(x, 1)}, {numbers.plain(y, 1)}")
            return
        across, up = (numbers.length(mm, self._unit, numbers.ROUGH[self._unit]) for mm in (x, y))
        self._place.setText(f"{across} across, {up} up")

    def _guide(self) -> str:
        if self._hand.stage == "draw":
            return _GUIDE[self._hand.tool]
        marks, wanted = len(self._hand.state.marks), self._hand.wanted
        if marks == wanted:
            return (
                "Drag the marks until they are exact; arrow keys move the picked one, Alt finely."
            )
        what = "a corner of the sheet" if wanted == 4 else "one end of the known distance"
        return (
            f"Click mark {marks + 1} of {wanted}: {what}. "
            "The wheel brings it nearer, the space bar moves the picture."
        )
