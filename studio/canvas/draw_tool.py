"""Draw a style line: click an edge, click where it should pass, click an edge to end it."""

from __future__ import annotations

import itertools
from collections.abc import Callable

from msgspec.structs import replace

from studio import numbers
from studio.block.panel import Panel
from studio.canvas.context import CanvasContext
from studio.canvas.gesture import Pointer
from studio.canvas.selection import Selection
from studio.canvas.snap import marks_of, snap_free
from studio.curves import Affine, Point, Vector
from studio.design.lines import AnchoredPath, Node, OnEdge, StyleLine

EDGE_REACH = 1.6
"""An edge is met from further off than a grip, so many times."""


class DrawTool:
    """From a start on an edge to an end on an edge of the same panel; `done` is called after."""

    def __init__(self, context: CanvasContext, done: Callable[[], None]) -> None:
        self._context = context
        self._done = done
        self._panel = ""
        self._start: OnEdge | None = None
        self._points: list[Point] = []

    def enter(self) -> None:
        """Nothing drawn yet."""
        self._clear()
        self._context.hint("Click on an edge of a panel to start the line.")

    def leave(self) -> None:
        """What was begun is dropped."""
        self._clear()
        self._context.hint("")

    def press(self, pointer: Pointer) -> bool:
        """A press is a click here."""
        del pointer
        return True

    def drag(self, pointer: Pointer) -> bool:
        """The line under way follows."""
        self._trace(pointer)
        return True

    def drop(self, pointer: Pointer) -> bool:
        """A dragged click counts where it ends."""
        return self.click(pointer)

    def click(self, pointer: Pointer) -> bool:
        """Start, pass through, or end."""
        met = self._edge_at(pointer)
        if self._start is None:
            if met is None:
                self._context.hint("A line starts on an edge of a panel: click nearer to one.")
                return False
            panel, place, at = met
            self._panel, self._start, self._points = panel.name, place, [at]
            self._context.hint(
                "Click where it should pass, and on an edge to end it. Escape gives up."
            )
            return True
        if met is not None and met[0].name == self._panel:
            return self._finish(met[1], met[2])
        self._points.append(self._passed(pointer))
        return True

    def double(self, pointer: Pointer) -> bool:
        """The second click has been counted as a click of its own."""
        return self.click(pointer)

    def hover(self, pointer: Pointer) -> str:
        """Show the line as it would run."""
        self._trace(pointer)
        return "draw"

    def cancel(self) -> bool:
        """Drop what was begun; with nothing begun, put the tool down."""
        begun = self._start is not None
        self._clear()
        if begun:
            self._context.hint("Click on an edge of a panel to start the line.")
        else:
            self._done()
        return begun

    def nudge(self, right: int, up: int, step: float) -> bool:
        """Nothing to nudge."""
        del right, up, step
        return False

    def delete(self) -> bool:
        """Take the last point back."""
        if len(self._points) > 1:
            self._points.pop()
            return True
        return False

    def toggle(self) -> bool:
        """Nothing to toggle."""
        return False

    def cycle(self, step: int) -> bool:
        """Nothing to go through."""
        del step
        return False

    def _clear(self) -> None:
        self._start, self._panel, self._points = None, "", []
        self._context.trace(())
        self._context.show_snap("", None)

    def _finish(self, end: OnEdge, at: Point) -> bool:
        assert self._start is not None
        first = self._points[0]
        if at.distance_to(first) < 5.0:
            self._context.hint("The end falls on the start: click further along.")
            return False
        back = Affine.frame(first, at - first).inverse()
        nodes = []
        for point in self._points[1:]:
            inside = back(point)
            nodes.append(Node(Vector(inside.x, inside.y)))
        design = self._context.begin()
        line = StyleLine(
            _free_name({known.name for known in design.lines}),
            self._panel,
            "mark",
            AnchoredPath(self._start, end, tuple(nodes)),
        )
        self._context.preview(replace(design, lines=(*design.lines, line)))
        self._context.commit(f"Draw {line.name}")
        self._clear()
        self._done()
        self._context.select(Selection("line", line.name))
        return True

    def _edge_at(self, pointer: Pointer) -> tuple[Panel, OnEdge, Point] | None:
        """The nearest edge within reach, the place on it, told from its nearer corner."""
        best: tuple[float, Panel, OnEdge, Point] | None = None
        reach = EDGE_REACH * pointer.reach
        for panel in self._context.pattern.panels:
            if self._start is not None and panel.name != self._panel:
                continue
            shift = self._context.shift_of_panel(panel.name)
            at = Point(pointer.at.x - shift.x, pointer.at.y - shift.y)
            edges = panel.outline.edges
            for index, edge in enumerate(edges):
                if not edge.chain.box.is_near(at, reach):
                    continue
                along, gap = edge.chain.nearest(at)
                if gap <= reach and (best is None or gap < best[0]):
                    from_start = along <= edge.length / 2.0
                    corner = edges[index - 1 if from_start else (index + 1) % len(edges)].name
                    mm = round(along if from_start else edge.length - along, 1)
                    place = OnEdge(edge.name, corner, mm=mm)
                    best = (gap, panel, place, edge.chain.at(along))
        return None if best is None else best[1:]

    def _on_panel(self, at: Point) -> Point:
        shift = self._context.shift_of_panel(self._panel)
        return Point(at.x - shift.x, at.y - shift.y)

    def _passed(self, pointer: Pointer) -> Point:
        """Where the line would pass, snapped; what it snaps to is shown."""
        at = self._on_panel(pointer.at)
        pattern = self._context.pattern
        panel = pattern.panel(self._panel)
        if panel is None:
            return at
        marks = marks_of(pattern, panel, None, tuple(self._points))
        snap = None if pointer.control else snap_free(marks, at, pointer.reach)
        self._context.show_snap(self._panel, snap)
        return at if snap is None else snap.at

    def _trace(self, pointer: Pointer) -> None:
        if self._start is None:
            return
        points = (*self._points, self._passed(pointer))
        shift = self._context.shift_of_panel(self._panel)
        self._context.trace([Point(p.x + shift.x, p.y + shift.y) for p in points])
        length = sum(one.distance_to(two) for one, two in itertools.pairwise(points))
        self._context.hint(f"About {numbers.length(length)} so far.", (length,))


def _free_name(taken: set[str]) -> str:
    count = 1
    while f"line-{count}" in taken:
        count += 1
    return f"line-{count}"
