"""Style lines under holds: solved as one sketch, and read back as the maker's lines."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from contextlib import suppress

import msgspec
from msgspec.structs import replace

from studio.block.panel import Panel
from studio.block.places import place_at, place_on_edge
from studio.constrain import Drag, PointRef, Sketch
from studio.constrain.effort import Effort
from studio.constrain.limits import DRAG_MM
from studio.constrain.solve import solution_of
from studio.constrain.system import System
from studio.curves import Affine, Point, Vector, tolerance
from studio.cut.bound import Bound, bound
from studio.design import holds
from studio.design.holds import Hold, LinePoint
from studio.design.lines import AnchoredPath, Node, StyleLine
from studio.errors import BadInput, GeometryRefused

_OF_A_FRAME = 20
"""States of a sketch that are looked at in one frame: about 4 ms for a yoke."""


def linked(lines: Sequence[StyleLine], asked: Sequence[Hold]) -> list[list[str]]:
    """Names of lines that active holds tie together, group by group, in the lines' order."""
    known = {line.name for line in lines}
    group: dict[str, set[str]] = {}
    for hold in asked:
        if not hold.active:
            continue
        names = {name for name in holds.lines_in(hold) if name in known}
        merged = set(names).union(*(group.get(name, set()) for name in names))
        for name in merged:
            group[name] = merged
    found: list[list[str]] = []
    for line in lines:
        if line.name in group and not any(line.name in one for one in found):
            found.append([other.name for other in lines if other.name in group[line.name]])
    return found


def tied_to(lines: Sequence[StyleLine], asked: Sequence[Hold], line: str) -> list[str]:
    """The names of the lines that active holds tie to a line, itself among them; none where nothing
    holds on it.
    """
    return next((names for names in linked(lines, asked) if line in names), [])


def held(
    lines: Sequence[StyleLine], panels: Mapping[str, Panel], asked: Sequence[Hold]
) -> tuple[StyleLine, ...]:
    """The lines moved as little as it takes to meet all active holds, within 1e-9 mm; lines that
    meet them within 1e-4 already, as in a drag, are given back as they are.

    Raises:
        GeometryRefused: as `bound`, or the holds cannot all be met; the sentence names them.
    """
    found = lines_held(lines, panels, asked)
    if found.lines is None:
        raise GeometryRefused(found.why_not, where=lines[0].name)
    return found.lines


class LinesHeld(msgspec.Struct, frozen=True):
    """Lines with what holds on them met, or why they cannot be. It `is_whole` unless it was found
    in haste and might be bettered: they might move less yet, or all might hold. It is told as a
    sketch too, `near` which that of the next frame is to be sought.
    """

    lines: tuple[StyleLine, ...] | None
    why_not: str = ""
    is_whole: bool = True
    near: Sketch | None = None


def lines_held(
    lines: Sequence[StyleLine],
    panels: Mapping[str, Panel],
    asked: Sequence[Hold],
    hasty: bool = False,
    near: Sketch | None = None,
) -> LinesHeld:
    """As `held`; what is `hasty` takes no more than a frame of a drag has time for, and starts
    from lines that are `near`, where there are any.

    Raises:
        GeometryRefused: as `bound`, or a hold names what is not there.
    """
    tied = bound(lines, panels, asked)
    try:
        system = System(tied.sketch)
        if system.base_sheet.worst <= DRAG_MM:
            return LinesHeld(tuple(lines))
        effort = Effort(_OF_A_FRAME if hasty else None)
        found = solution_of(system, effort, near)
    except BadInput as problem:
        raise GeometryRefused(problem.message, where=problem.where or lines[0].name) from problem
    # Work that was cut short goes on in the next frame.
    following = found.sketch if found.met or effort.cut_short else None
    if not found.met:
        is_whole = not hasty or (near is None and not effort.cut_short)
        return LinesHeld(None, cannot_all_hold(found.unmet), is_whole, following)
    try:
        return LinesHeld(read_back(tied, found.sketch), "", not hasty, following)
    except GeometryRefused as problem:
        return LinesHeld(None, problem.sentence, not hasty)


def cannot_all_hold(names: Sequence[str]) -> str:
    """What a maker is told of requests that cannot all be met."""
    return f"These cannot all hold: {'; '.join(names)}. Switch one off or change its number."


def read_back(tied: Bound, sketch: Sketch) -> tuple[StyleLine, ...]:
    """The lines as the sketch has them, their nodes and handles set.

    Raises:
        GeometryRefused: the two ends of a line have come to one place.
    """
    return tuple(
        _read(tied, sketch, line, panel)
        for line, panel in zip(tied.lines, tied.panels, strict=True)
    )


class HeldDrag:
    """A point of a line dragged while all holds on it, and on the lines tied to it, keep."""

    def __init__(
        self,
        lines: Sequence[StyleLine],
        panels: Mapping[str, Panel],
        asked: Sequence[Hold],
        point: LinePoint,
    ) -> None:
        """Take hold of a point; raises GeometryRefused as `held` does."""
        self._lines = held(lines, panels, asked)
        self._tied = bound(self._lines, panels, asked)
        ref = PointRef(self._tied.first[point.line] + point.node, point.part)
        try:
            self._drag = Drag(self._tied.sketch, ref)
        except BadInput as problem:
            raise GeometryRefused(problem.message, where=point.line) from problem

    @property
    def held_back(self) -> bool:
        """True when the holds keep the point from the mouse."""
        return self._drag.held_back

    def to(self, mouse: Point) -> tuple[StyleLine, ...]:
        """The lines with the point as near to a place on its panel as the holds allow; as they were
        where that would bring the two ends of one together.
        """
        return self._read(self._drag.to(mouse))

    def release(self) -> tuple[StyleLine, ...]:
        """The lines with all holds met within 1e-9 mm."""
        return self._read(self._drag.release())

    def _read(self, sketch: Sketch) -> tuple[StyleLine, ...]:
        with suppress(GeometryRefused):
            self._lines = read_back(self._tied, sketch)
        return self._lines


def _read(tied: Bound, sketch: Sketch, line: StyleLine, panel: Panel) -> StyleLine:
    path = line.path
    assert isinstance(path, AnchoredPath)
    first = tied.first[line.name]
    nodes = sketch.nodes[first : first + len(path.nodes) + 2]
    start = place_at(panel, path.start, _along(panel, path.start.edge, nodes[0].at))
    end = place_at(panel, path.end, _along(panel, path.end.edge, nodes[-1].at))
    feet = [
        panel.outline.edge(place.edge).chain.at(place_on_edge(panel, place).distance)
        for place in (start, end)
    ]
    if feet[0].distance_to(feet[1]) <= tolerance.NOTHING_MM:
        # Inner nodes are told along the line between its ends: there is none.
        raise GeometryRefused(f"The two ends of {line.name} fall together.", where=line.name)
    back = Affine.frame(feet[0], feet[1] - feet[0]).inverse()

    def handle(step: Vector | None) -> Vector | None:
        return None if step is None else back.vector(step)

    inner = []
    for old, node in zip(path.nodes, nodes[1:-1], strict=True):
        at = back(node.at)
        inner.append(
            Node(Vector(at.x, at.y), old.smooth, handle(node.handle_in), handle(node.handle_out))
        )
    return replace(
        line,
        path=AnchoredPath(
            start, end, tuple(inner), handle(nodes[0].handle_out), handle(nodes[-1].handle_in)
        ),
    )


def _along(panel: Panel, edge: str, at: Point) -> float:
    return panel.outline.edge(edge).chain.nearest(at)[0]
