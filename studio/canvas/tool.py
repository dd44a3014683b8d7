"""What every tool of the canvas answers."""

from __future__ import annotations

from typing import Protocol

from studio.canvas.gesture import Pointer


class Tool(Protocol):
    """Handlers say whether they did something."""

    def enter(self) -> None:
        """The tool is taken up."""

    def leave(self) -> None:
        """The tool is put down; an unfinished edit is undone."""

    def press(self, pointer: Pointer) -> bool:
        """The left button went down."""

    def drag(self, pointer: Pointer) -> bool:
        """The pointer moved with the button down."""

    def drop(self, pointer: Pointer) -> bool:
        """The button came up after a drag."""

    def click(self, pointer: Pointer) -> bool:
        """The button came up where it went down."""

    def double(self, pointer: Pointer) -> bool:
        """Clicked twice."""

    def hover(self, pointer: Pointer) -> str:
        """What a press here would take hold of: "grip", "line", "draw" or nothing."""

    def cancel(self) -> bool:
        """Escape, lost focus, lost release."""

    def nudge(self, right: int, up: int, step: float) -> bool:
        """An arrow key."""

    def delete(self) -> bool:
        """The Delete key."""

    def toggle(self) -> bool:
        """Smooth or corner."""

    def cycle(self, step: int) -> bool:
        """Tab."""
