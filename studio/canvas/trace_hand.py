"""The hand that traces: presses, drags and keys into marks on a photograph, or into a tracing.

On the photograph places are pixels, y down; on the cloth mm, y up.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Literal, TypeAlias

import msgspec
from msgspec.structs import replace

from studio.cloth import tracing as trace
from studio.cloth.points import moved, removed
from studio.cloth.tracing import SEAM_WIDE, Handle, Tracing, What
from studio.design.cloth import Place
from studio.errors import BadInput

Tool: TypeAlias = Literal["move"] | What
Stage: TypeAlias = Literal["scale", "draw"]


class TraceState(msgspec.Struct, frozen=True):
    """What undo goes back to: marks on the photograph, in pixels, and what is drawn."""

    marks: tuple[Place, ...] = ()
    tracing: Tracing = Tracing()


class TraceHand:
    """Holds the states and what is in hand; `changed` is called whenever there is something else
    to show, `told` with a sentence for the maker.
    """

    def __init__(
        self, state: TraceState, changed: Callable[[], None], told: Callable[[str], None]
    ) -> None:
        self.state = state
        self.stage: Stage = "draw"
        self.tool: Tool = "move"
        self.wanted = 4
        self.seam_wide = SEAM_WIDE
        self.picked: Handle | int | None = None
        self._changed, self._told = changed, told
        self._held: Handle | int | None = None
        self._before: TraceState | None = None
        self._is_spent = False
        self._back: list[TraceState] = []
        self._forth: list[TraceState] = []

    @property
    def tracing(self) -> Tracing:
        """What is drawn."""
        return self.state.tracing

    @property
    def can_undo(self) -> bool:
        """Whether there is a step to take back."""
        return bool(self._back)

    @property
    def can_redo(self) -> bool:
        """Whether there is a step to do again."""
        return bool(self._forth)

    @property
    def is_setting(self) -> bool:
        """Whether the next press sets a point, or one is held."""
        return self._held is not None or (self.stage == "draw" and self.tool != "move")

    @property
    def picked_flaw(self) -> int | None:
        """The flaw of which a point is picked."""
        picked = self.picked
        return picked.flaw if isinstance(picked, Handle) and picked.of == "flaw" else None

    @property
    def picked_place(self) -> Place:
        """Where the picked point is, mm or pixels; the origin when none is picked."""
        if isinstance(self.picked, Handle):
            return trace.points_of(self.tracing, self.picked)[self.picked.point]
        return (0.0, 0.0) if self.picked is None else self.state.marks[self.picked]

    def pick_flaw(self, at: int) -> None:
        """Pick a flaw by its first point."""
        self.picked = Handle("flaw", 0, at)
        self._changed()

    def take(self, tool: Tool) -> None:
        """Take up another tool; a line under way is dropped."""
        if tool != self.tool:
            self.tool = tool
            if self.tracing.line:
                self.set_tracing(trace.line_dropped(self.tracing))
            self._changed()

    def set_stage(self, stage: Stage) -> None:
        """Work on the photograph, or on the cloth."""
        self._put_back()
        self.stage, self.picked, self._held = stage, None, None
        self._changed()

    def set_tracing(self, tracing: Tracing) -> None:
        """One step to another tracing."""
        self._step(replace(self.state, tracing=tracing))

    def set_marks(self, marks: tuple[Place, ...]) -> None:
        """One step to other marks."""
        self._step(replace(self.state, marks=marks))

    def carry(self, move: Callable[[Place], Place]) -> None:
        """Move all that was ever drawn with a new scale, so that undo finds it in place too.

        Raises:
            BadInput: something of it cannot be carried over; nothing is changed then.
        """

        def over(state: TraceState) -> TraceState:
            return replace(state, tracing=trace.carried(state.tracing, move))

        self._put_back()
        now, back = over(self.state), [over(state) for state in self._back]
        self.state, self._back, self._forth = now, back, []
        self._changed()

    def press(self, at: Place, reach: float) -> bool:
        """Take hold of a point within reach; False when there is none."""
        found = self._found(at, reach)
        self._held, self._is_spent = found, False
        self._before = None if found is None else self.state
        if found is not None:
            self.picked = found
            self._changed()
        return found is not None

    def drag(self, at: Place) -> None:
        """The held point goes along; no step until it is let go."""
        if self._held is None or self._before is None:
            return
        if isinstance(self._held, Handle):
            tracing = trace.handle_moved(self._before.tracing, self._held, at)
            self.state = replace(self._before, tracing=tracing)
        else:
            self.state = replace(self._before, marks=moved(self._before.marks, self._held, at))
        self._changed()

    def drop(self) -> None:
        """Let go; where it was dragged to becomes a step."""
        before, self._before, self._held = self._before, None, None
        self._is_spent = False
        if before is not None and before != self.state:
            now, self.state = self.state, before
            self._step(now)

    def click(self, at: Place) -> None:
        """A press and release in one place: a mark or a point more, or a line closed."""
        held, self._held, self._before = self._held, None, None
        if self._is_spent:
            self._is_spent = False
            return
        if self.stage == "scale":
            if held is None:
                self._mark(at)
            return
        line = self.tracing.line
        if isinstance(held, Handle):
            if held == Handle("line", 0) and len(line) > 1:
                self.finish()
            return
        if self.tool == "move":
            self.picked = None
            self._changed()
        elif self.tool == "outline" and self.tracing.outline:
            self._told("The outline is drawn. Double-click on it for another point.")
        else:
            self.set_tracing(trace.point_added(self.tracing, self.tool, at))
            self._go_on()

    def double(self, at: Place, reach: float) -> None:
        """A point more on the edge that was hit twice."""
        if self.stage == "scale" or self.tracing.line:
            return
        before = trace.edge_at(self.tracing, at, reach)
        if before is not None and trace.handle_at(self.tracing, at, reach) is None:
            self.set_tracing(trace.handle_inserted(self.tracing, before, at))
            self.picked = before
            self._changed()

    def finish(self) -> None:
        """Close the line under way; a sentence tells why it cannot be."""
        self._put_back()
        if not self.tracing.line:
            return
        try:
            self.set_tracing(trace.line_finished(self.tracing, self.seam_wide))
        except BadInput as problem:
            self._told(problem.message)
            return
        self._go_on()

    def cancel(self) -> bool:
        """Put a dragged point back, or drop the line under way; False when there was neither."""
        if self._before is not None:
            self._put_back()
            self._changed()
            return True
        if self.tracing.line and self.stage == "draw":
            self.set_tracing(trace.line_dropped(self.tracing))
            return True
        return False

    def delete(self) -> None:
        """Remove the picked point."""
        self._put_back()
        picked, self.picked = self.picked, None
        try:
            if isinstance(picked, Handle):
                self.set_tracing(trace.handle_removed(self.tracing, picked))
            elif picked is not None:
                self.set_marks(removed(self.state.marks, picked))
        except BadInput as problem:
            self._told(problem.message)

    def nudge(self, across: float, up: float) -> bool:
        """Move the picked point, in mm or pixels; False when none is picked."""
        self._put_back()
        x, y = self.picked_place
        if isinstance(self.picked, Handle):
            place = (x + across, y + up)
            self.set_tracing(trace.handle_moved(self.tracing, self.picked, place))
        elif self.picked is not None:
            self.set_marks(moved(self.state.marks, self.picked, (x + across, y - up)))
        return self.picked is not None

    def undo(self) -> None:
        """Go back a step."""
        self._go(self._back, self._forth)

    def redo(self) -> None:
        """Go forward a step."""
        self._go(self._forth, self._back)

    def _put_back(self) -> None:
        """A key that comes in the midst of a drag ends it: what is dragged is no step yet."""
        if self._before is not None:
            self.state = self._before
            self._before = self._held = None
            self._is_spent = True

    def _go(self, there: list[TraceState], here: list[TraceState]) -> None:
        self._put_back()
        if there:
            here.append(self.state)
            marks, self.state = self.state.marks, there.pop()
            self.picked = self._held = self._before = None
            if marks != self.state.marks:
                self.stage = "scale"
            self._changed()

    def _step(self, state: TraceState) -> None:
        if state == self.state:
            return
        self._back.append(self.state)
        self._forth.clear()
        self.state = state
        self._changed()

    def _found(self, at: Place, reach: float) -> Handle | int | None:
        if self.stage == "draw":
            return trace.handle_at(self.tracing, at, reach)
        near = [
            (abs(x - at[0]) + abs(y - at[1]), number)
            for number, (x, y) in enumerate(self.state.marks)
            if abs(x - at[0]) <= reach and abs(y - at[1]) <= reach
        ]
        return min(near)[1] if near else None

    def _mark(self, at: Place) -> None:
        if len(self.state.marks) >= self.wanted:
            self._told("All marks are set: drag one, or take one away with Del.")
            return
        self.set_marks((*self.state.marks, at))
        self.picked = len(self.state.marks) - 1
        self._changed()

    def _go_on(self) -> None:
        """After the outline the grain is drawn; after the grain points are moved."""
        if self.tracing.line:
            return
        if self.tool == "outline":
            self.tool = "move" if self.tracing.grain else "grain"
        elif self.tool == "grain":
            self.tool = "move"
        self.picked = None
        self._changed()
