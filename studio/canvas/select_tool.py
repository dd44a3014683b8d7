"""Pick things, drag grips, nudge them with the arrow keys."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from enum import Enum, auto

from studio import numbers
from studio.canvas.context import CanvasContext
from studio.canvas.gesture import Pointer
from studio.canvas.held_hand import held_drag
from studio.canvas.selection import NOTHING, Selection
from studio.canvas.snap import Snap, snapped
from studio.canvas.step_hand import StepHand
from studio.curves import Chain, Point, Vector
from studio.cut import HeldDrag, edit
from studio.cut.drawn import DrawnLine
from studio.cut.edit import Grip
from studio.design import Design, StyleLine
from studio.errors import YokewrightError

SNAPPED_MM = 0.05
"""A grip this near to where it snapped is told to lie there: half of the last digit shown."""

_LABELS = {
    "start": "Move the start of {}",
    "end": "Move the end of {}",
    "node": "Move a node of {}",
    "handle-in": "Bend {}",
    "handle-out": "Bend {}",
    "shape": "Move {}",
}


class State(Enum):
    """What the hand is doing."""

    IDLE = auto()
    HOLDING = auto()
    DRAGGING = auto()


class SelectTool:
    """The one tool of the first road."""

    def __init__(self, context: CanvasContext) -> None:
        self._context = context
        self.state = State.IDLE
        self._grip: Grip | None = None
        self._off = Vector(0.0, 0.0)
        self._steps = StepHand(context)
        self._on_step = False
        self._held: HeldDrag | None = None

    def enter(self) -> None:
        """The tool is taken up."""
        self.state = State.IDLE

    def leave(self) -> None:
        """The tool is put down."""
        self.cancel()

    def press(self, pointer: Pointer) -> bool:
        """Take hold of a grip of the picked line, or of a line or piece."""
        handle = self._steps.handle_at(pointer)
        self._on_step = handle is not None
        if handle is not None:
            self._steps.hold(handle, pointer)
            self.state = State.HOLDING
            return True
        grip = self.grip_at(pointer)
        if grip is None:
            line = self.line_at(pointer)
            if line is not None:
                self._context.select(Selection("line", line))
                grip = self.grip_at(pointer)
        if grip is not None:
            self._hold(grip, pointer)
            return True
        if self._context.selection.kind != "line" or self.line_at(pointer) is None:
            self._context.select(self._under(pointer))
        return False

    def drag(self, pointer: Pointer) -> bool:
        """Move what is held; the pattern follows."""
        if self.state is not State.IDLE and self._on_step:
            self.state = State.DRAGGING
            self._steps.drag(pointer)
            return True
        if self.state is State.IDLE or self._grip is None:
            return False
        self.state = State.DRAGGING
        drawn = self._context.pattern.drawn(self._grip.line)
        if drawn is None:
            return True
        to = self._on_panel(drawn.panel, pointer.at) + self._off
        snap = self._snap(drawn, to, pointer)
        to = to if snap is None else snap.at
        if self._held is not None:
            self._context.preview(_with_lines(self._context.begin(), self._held.to(to)))
        else:
            self._context.preview(self._moved(self._context.pattern.design, drawn, to))
        self._context.show_snap(drawn.panel, snap if self._lies_at(to) else None)
        self._tell()
        return True

    def drop(self, _pointer: Pointer) -> bool:
        """Let go: one step in the history."""
        if self.state is State.DRAGGING and self._on_step:
            self._steps.drop()
            self.state = State.IDLE
            return True
        if self.state is not State.DRAGGING or self._grip is None:
            self.state = State.IDLE
            return False
        if self._held is not None:
            self._context.preview(_with_lines(self._context.begin(), self._held.release()))
            self._held = None
        self._context.commit(_LABELS[self._grip.kind].format(self._grip.line))
        self.state = State.IDLE
        self._context.show_snap("", None)
        self._context.hint("")
        return True

    def click(self, pointer: Pointer) -> bool:
        """A press without a drag only picks."""
        self.state = State.IDLE
        return self.grip_at(pointer) is not None

    def cancel(self) -> bool:
        """Escape, lost focus, lost release: everything as it was before the press."""
        held = self.state is State.DRAGGING
        if held:
            self._context.rollback()
        self.state = State.IDLE
        self._context.show_snap("", None)
        self._context.hint("")
        return held

    def hover(self, pointer: Pointer) -> str:
        """What a press here would take hold of: "grip", "line" or nothing."""
        if self._steps.handle_at(pointer) is not None or self.grip_at(pointer) is not None:
            return "grip"
        return "line" if self.line_at(pointer) is not None else ""

    def double(self, pointer: Pointer) -> bool:
        """Add a node to the line under the pointer."""
        name = self.line_at(pointer)
        drawn = self._context.pattern.drawn(name) if name else None
        if name is None or drawn is None:
            return False
        self._change(
            f"Add a node to {name}",
            lambda design: edit.with_node(design, drawn, self._on_panel(drawn.panel, pointer.at)),
        )
        return True

    def nudge(self, right: int, up: int, step: float) -> bool:
        """Move the grip in hand by `step` mm along the axes of the sheet; with none in hand a
        picked patch is moved whole.
        """
        grip = self._context.selection.grip or self._whole()
        drawn = self._context.pattern.drawn(grip.line) if grip else None
        if grip is None or drawn is None:
            return False
        self._grip = grip
        try:
            place = edit.place_of_grip(self._context.pattern.design.line(grip.line), drawn, grip)
        except KeyError:
            return False
        to = place + self._along_edge(drawn, grip, place, Vector(right * step, up * step))
        self._change(
            _LABELS[grip.kind].format(grip.line),
            lambda design: self._moved(design, drawn, to),
            merge=f"nudge {grip.line} {grip.kind} {grip.index}",
        )
        return True

    def _whole(self) -> Grip | None:
        """The grip that moves all of the picked line; None where its ends lie on edges."""
        selection = self._context.selection
        drawn = self._context.pattern.drawn(selection.name) if selection.kind == "line" else None
        if drawn is None:
            return None
        line = self._context.pattern.design.line(selection.name)
        return next((grip for grip, _ in edit.grips(line, drawn) if grip.kind == "shape"), None)

    def delete(self) -> bool:
        """Take the node in hand away."""
        grip = self._context.selection.grip
        if grip is None:
            return False
        return self._change(
            f"Take a node of {grip.line} away", lambda design: edit.without_node(design, grip)
        )

    def toggle(self) -> bool:
        """Make the node in hand smooth or a corner."""
        grip = self._context.selection.grip
        if grip is None:
            return False
        return self._change(
            f"Smooth or corner on {grip.line}", lambda design: edit.toggled(design, grip)
        )

    def cycle(self, step: int) -> bool:
        """Take the next or the last grip of the picked line in hand; after the last of them none,
        and Tab goes on to the rest of the window.
        """
        selection = self._context.selection
        drawn = self._context.pattern.drawn(selection.name) if selection.kind == "line" else None
        if drawn is None:
            return False
        line = self._context.pattern.design.line(selection.name)
        known = [grip for grip, _ in edit.grips(line, drawn)]
        first = 0 if step > 0 else len(known) - 1
        at = known.index(selection.grip) + step if selection.grip in known else first
        if not 0 <= at < len(known):
            self._context.select(Selection("line", selection.name))
            return False
        self._context.select(Selection("line", selection.name, known[at]))
        return True

    def grip_at(self, pointer: Pointer) -> Grip | None:
        """The nearest grip of the picked line within reach."""
        selection = self._context.selection
        drawn = self._context.pattern.drawn(selection.name) if selection.kind == "line" else None
        if drawn is None:
            return None
        place = self._on_panel(drawn.panel, pointer.at)
        line = self._context.pattern.design.line(selection.name)
        near = [
            (place.distance_to(at), number, grip)
            for number, (grip, at) in enumerate(edit.grips(line, drawn))
            if place.distance_to(at) <= pointer.reach
        ]
        return min(near)[2] if near else None

    def line_at(self, pointer: Pointer) -> str | None:
        """The nearest style line within reach."""
        lines = ((drawn.name, drawn.panel, drawn.chain) for drawn in self._context.pattern.lines)
        return self._nearest(pointer, lines)

    def edge_at(self, pointer: Pointer) -> str | None:
        """The nearest edge of a panel within reach."""
        edges = (
            (edge.name, panel.name, edge.chain)
            for panel in self._context.pattern.panels
            for edge in panel.outline
        )
        return self._nearest(pointer, edges)

    def _nearest(self, pointer: Pointer, known: Iterable[tuple[str, str, Chain]]) -> str | None:
        """The name of the nearest of (name, panel, chain) within reach."""
        near = []
        for name, panel, chain in known:
            place = self._on_panel(panel, pointer.at)
            if chain.box.is_near(place, pointer.reach):
                gap = chain.nearest(place)[1]
                if gap <= pointer.reach:
                    near.append((gap, name))
        return min(near)[1] if near else None

    def _under(self, pointer: Pointer) -> Selection:
        """What lies under the pointer where there is no line: a panel's edge, a piece, nothing."""
        edge = self.edge_at(pointer)
        if edge is not None:
            return Selection("edge", edge)
        name = self._context.piece_at(pointer.at)
        return Selection("piece", name) if name else NOTHING

    def _hold(self, grip: Grip, pointer: Pointer) -> None:
        drawn = self._context.pattern.drawn(grip.line)
        if drawn is None:
            return
        line = self._context.pattern.design.line(grip.line)
        place = edit.place_of_grip(line, drawn, grip)
        self._grip = grip
        self._off = place - self._on_panel(drawn.panel, pointer.at)
        self.state = State.HOLDING
        self._context.select(Selection("line", grip.line, grip))
        self._held = held_drag(self._context.pattern, grip)

    def _snap(self, drawn: DrawnLine, to: Point, pointer: Pointer) -> Snap | None:
        """What the grip in hand snaps to; nothing while Control is held."""
        assert self._grip is not None
        if pointer.control:
            return None
        return snapped(self._context.pattern, drawn, self._grip, to, pointer.reach)

    def _lies_at(self, place: Point) -> bool:
        """Whether the grip in hand came to lie at a place; holds may keep it from there."""
        assert self._grip is not None
        drawn = self._context.pattern.drawn(self._grip.line)
        if drawn is None:
            return False
        line = self._context.pattern.design.line(self._grip.line)
        return edit.place_of_grip(line, drawn, self._grip).distance_to(place) < SNAPPED_MM

    def _moved(self, design: Design, drawn: DrawnLine, to: Point) -> Design:
        assert self._grip is not None
        return edit.moved(design, drawn, self._context.pattern.panel_of(drawn), self._grip, to)

    def _along_edge(self, drawn: DrawnLine, grip: Grip, place: Point, step: Vector) -> Vector:
        """An end is nudged along its edge by the whole step, whichever way the edge leans."""
        if grip.kind not in ("start", "end"):
            return step
        panel = self._context.pattern.panel_of(drawn)
        end = drawn.ends[0 if grip.kind == "start" else 1]
        edge = panel.outline.edge(end.edge)
        tangent = edge.chain.tangent(end.distance)
        sign = 1.0 if step.dot(tangent) >= 0.0 else -1.0
        return edge.chain.at(end.distance + sign * step.length) - place

    def _change(self, label: str, change: Callable[[Design], Design], merge: str = "") -> bool:
        design = self._context.begin()
        try:
            self._context.preview(change(design))
        except YokewrightError:
            self._context.rollback()
            raise
        self._context.commit(label, merge)
        return True

    def _on_panel(self, panel: str, at: Point) -> Point:
        shift = self._context.shift_of_panel(panel)
        return Point(at.x - shift.x, at.y - shift.y)

    def _tell(self) -> None:
        assert self._grip is not None
        if self._held is not None and self._held.held_back:
            self._context.hint("The holds on this line keep it from there. Escape puts it back.")
            return
        drawn = self._context.pattern.drawn(self._grip.line)
        if drawn is not None:
            self._context.hint(
                f"{self._grip.line}: {numbers.length(drawn.chain.length)} long. "
                "Escape puts it back.",
                (drawn.chain.length,),
            )


def _with_lines(design: Design, lines: Iterable[StyleLine]) -> Design:
    for line in lines:
        design = design.with_line(line)
    return design
