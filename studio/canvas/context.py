"""What a tool may see and do: the pattern, the selection, and one edit at a time."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Protocol

from studio.canvas.selection import Selection
from studio.canvas.snap import Snap
from studio.curves import Point, Vector
from studio.design import Design
from studio.pattern import Pattern


class CanvasContext(Protocol):
    """The narrow door between a tool and the rest of the program."""

    @property
    def pattern(self) -> Pattern:
        """The pattern as shown."""

    @property
    def selection(self) -> Selection:
        """What is picked."""

    def select(self, selection: Selection) -> None:
        """Pick something."""

    def begin(self) -> Design:
        """Start an edit; returns the design it starts from."""

    def preview(self, design: Design) -> None:
        """Show a design without taking a step."""

    def commit(self, label: str, merge: str = "") -> None:
        """End the edit: what is shown becomes one step."""

    def rollback(self) -> None:
        """End the edit: what was there before is there again."""

    def shift_of_panel(self, name: str) -> Vector:
        """Where a panel lies on the sheet."""

    def piece_at(self, place: Point) -> str:
        """The piece under a place on the sheet; empty for none."""

    def trace(self, points: Sequence[Point]) -> None:
        """Show a line under way through points of the sheet; none with an empty one."""

    def show_snap(self, panel: str, snap: Snap | None) -> None:
        """Show what a dragged point of a panel has snapped to; nothing with None."""

    def hint(self, sentence: str, exact: Sequence[float] = ()) -> None:
        """Say what the gesture does; `exact` are lengths it speaks of, mm, unrounded."""
