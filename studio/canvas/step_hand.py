"""The hand on a picked step: its handles found, pulled and let go."""

from __future__ import annotations

import msgspec

from studio import numbers
from studio.alter import Handle, kind_of
from studio.canvas.context import CanvasContext
from studio.canvas.gesture import Pointer
from studio.canvas.snap import Snap, snap_on_edge
from studio.curves import Point, Vector
from studio.design.alterations import Alteration
from studio.design.lines import OnEdge
from studio.design.recipe import step_changed
from studio.errors import GeometryRefused
from studio.pattern import StepMade


class StepHand:
    """Holds one handle of the picked step at a time."""

    def __init__(self, context: CanvasContext) -> None:
        self._context = context
        self._held: Handle | None = None
        self._off = Vector(0.0, 0.0)

    def handle_at(self, pointer: Pointer) -> Handle | None:
        """The nearest handle of the picked step within reach."""
        made = self.picked()
        if made is None or made.before is None:
            return None
        place = self._on_panel(made.step, pointer.at)
        near = [
            (place.distance_to(handle.at), number, handle)
            for number, handle in enumerate(kind_of(made.step).handles(made.before, made.step))
            if place.distance_to(handle.at) <= pointer.reach
        ]
        return min(near, key=lambda found: found[:2])[2] if near else None

    def picked(self) -> StepMade | None:
        """The picked step as it was done; None when no step is picked."""
        selection = self._context.selection
        steps = self._context.pattern.steps
        if selection.kind != "step" or int(selection.name) >= len(steps):
            return None
        return steps[int(selection.name)]

    def hold(self, handle: Handle, pointer: Pointer) -> None:
        """Take hold of a handle."""
        made = self.picked()
        assert made is not None
        self._held = handle
        self._off = handle.at - self._on_panel(made.step, pointer.at)

    def drag(self, pointer: Pointer) -> None:
        """Pull what is held; the pattern follows."""
        made = self.picked()
        if self._held is None or made is None or made.before is None:
            return
        to = self._on_panel(made.step, pointer.at) + self._off
        snap = self._snap(made, to, pointer)
        to = to if snap is None else snap.at
        self._context.show_snap(made.step.panel, snap)
        try:
            step = kind_of(made.step).dragged(made.before, made.step, self._held.field, to)
        except GeometryRefused:
            return
        at = int(self._context.selection.name)
        self._context.preview(step_changed(self._context.pattern.design, at, step))
        value = getattr(step, self._held.field, None)
        told = kind_of(step).sentence(step)
        exact = msgspec.structs.astuple(step)
        if isinstance(value, float):
            told = f"{numbers.length(value)}: {told}"
        self._context.hint(
            f"{told} Escape puts it back.", [one for one in exact if isinstance(one, float)]
        )

    def drop(self) -> None:
        """Let go: one step in the history."""
        self._context.show_snap("", None)
        made = self.picked()
        title = "Change a step" if made is None else kind_of(made.step).title
        self._held = None
        self._context.commit(f"Drag: {title}")
        self._context.hint("")

    def _snap(self, made: StepMade, to: Point, pointer: Pointer) -> Snap | None:
        """What a place in hand snaps to on its edge; lengths and Control snap to nothing."""
        assert self._held is not None
        assert made.before is not None
        place = getattr(made.step, self._held.field, None)
        if pointer.control or not isinstance(place, OnEdge):
            return None
        return snap_on_edge(made.before, place.edge, to, pointer.reach)

    def _on_panel(self, step: Alteration, at: Point) -> Point:
        shift = self._context.shift_of_panel(step.panel)
        return Point(at.x - shift.x, at.y - shift.y)
