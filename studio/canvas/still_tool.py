"""The tool while a seam is walked: nothing can be taken hold of."""

from __future__ import annotations

from studio.canvas.gesture import Pointer


class StillTool:
    """Answers every gesture with nothing."""

    def enter(self) -> None:
        """Nothing to prepare."""

    def leave(self) -> None:
        """Nothing to undo."""

    def press(self, _pointer: Pointer) -> bool:
        """Nothing is under the pointer."""
        return False

    drag = drop = click = double = press

    def hover(self, _pointer: Pointer) -> str:
        """Nothing to take hold of."""
        return ""

    def cancel(self) -> bool:
        """Nothing to cancel."""
        return False

    def nudge(self, _right: int, _up: int, _step: float) -> bool:
        """Nothing to nudge."""
        return False

    def delete(self) -> bool:
        """Nothing to delete."""
        return False

    def toggle(self) -> bool:
        """Nothing to toggle."""
        return False

    def cycle(self, _step: int) -> bool:
        """Nothing to go through."""
        return False
