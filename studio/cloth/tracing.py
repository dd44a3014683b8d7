"""A panel being traced: outline, flaws and grain as far as they are drawn; every edit a new value.

Places are mm on the cloth as it lies there, y up.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from typing import Literal, TypeAlias

import msgspec
from msgspec.structs import replace
from shapely import Polygon

from studio.cloth.bed import bed_of, flaw_area
from studio.cloth.points import inserted, moved, removed
from studio.design.cloth import Flaw, FlawKind, Place, Roll, SalvagedPanel, Stock, Trace
from studio.errors import BadInput

What: TypeAlias = Literal["outline", "hole", "stain", "worn", "seam", "grain"]
"""What can be drawn."""

WORDS: dict[What, str] = {
    "outline": "outline",
    "hole": "hole",
    "stain": "stain",
    "worn": "worn place",
    "seam": "old seam",
    "grain": "grain",
}

SEAM_WIDE = 16.0
"""A felled seam with its crease on both sides, mm (common practice, no source)."""


class Handle(msgspec.Struct, frozen=True):
    """A point of what is drawn: of the outline, of the flaw numbered `flaw`, of the grain, or of
    the line under way.
    """

    of: Literal["outline", "flaw", "grain", "line"]
    point: int
    flaw: int = -1


class Tracing(msgspec.Struct, frozen=True):
    """What is drawn. `line` is under way, to become `what` once it is finished; `fixed` is an
    outline that is not for changing, that of a roll.
    """

    outline: tuple[Place, ...] = ()
    flaws: tuple[Flaw, ...] = ()
    grain: tuple[Place, ...] = ()
    line: tuple[Place, ...] = ()
    what: What = "outline"
    fixed: bool = False


def tracing_of(stock: Stock) -> Tracing:
    """Stock as something to be traced further; a panel that was photographed face down as it lay
    in the photograph.
    """
    if isinstance(stock, Roll):
        corners = ((0.0, 0.0), (stock.width, 0.0), (stock.width, stock.length), (0.0, stock.length))
        middle = stock.width / 2.0
        grain = ((middle, 0.0), (middle, stock.length))
        return Tracing(corners, stock.flaws, grain, fixed=True)
    warp: tuple[Place, ...] = stock.grain if stock.grain[0] != stock.grain[1] else ()
    drawn = Tracing(stock.outline, stock.flaws, warp)
    return turned_over(drawn) if stock.trace is not None and stock.trace.face_down else drawn


def blank(name: str, cloth: str, photograph: str = "") -> SalvagedPanel:
    """A panel of which nothing is drawn yet, over a photograph if one is named. It is no bed, and
    no design takes it, before `panel_of` has made a whole one of it.
    """
    trace = Trace(photograph, (), ()) if photograph else None
    return SalvagedPanel(name, cloth, (), ((0.0, 0.0), (0.0, 0.0)), trace=trace)


def panel_of(
    tracing: Tracing, name: str, cloth: str, trace: Trace | None = None, note: str = ""
) -> SalvagedPanel:
    """The panel that was traced, right side up: turned over when it was photographed face down.

    Raises:
        BadInput: no outline or grain yet, a line not finished, nothing to lay on.
    """
    if tracing.line:
        raise BadInput(f"The {WORDS[tracing.what]} is not finished: press Enter, or Escape.")
    if not tracing.outline:
        raise BadInput("Draw the outline first.")
    if len(tracing.grain) != 2:
        raise BadInput("Draw the grain: two places on one thread of the warp.")
    lies = turned_over(tracing) if trace is not None and trace.face_down else tracing
    ring = lies.outline if Polygon(lies.outline).exterior.is_ccw else lies.outline[::-1]
    grain = (lies.grain[0], lies.grain[1])
    panel = SalvagedPanel(name, cloth, ring, grain, lies.flaws, note, trace)
    if bed_of(panel).usable.is_empty:
        raise BadInput("Its flaws leave nothing to cut from.", where=name)
    return panel


def point_added(tracing: Tracing, what: What, place: Place) -> Tracing:
    """One more point of the line under way, which is begun when there is none.

    The second point finishes a grain.
    """
    if tracing.line and tracing.what != what:
        tracing = line_dropped(tracing)
    if what == "grain" and tracing.line:
        return replace(tracing, grain=(tracing.line[0], place), line=())
    return replace(tracing, line=(*tracing.line, place), what=what)


def line_finished(tracing: Tracing, wide: float = SEAM_WIDE) -> Tracing:
    """The line under way as what it was to become; an old seam as a band `wide` mm across.

    Raises:
        BadInput: too few points, or a line that crosses itself.
    """
    if not tracing.line:
        return tracing
    if tracing.what == "grain":
        raise BadInput("The grain needs a second place on the same thread.")
    flaw = _flaw(tracing, wide)
    _check_area(flaw, WORDS[tracing.what])
    if tracing.what == "outline":
        return replace(tracing, outline=tracing.line, line=())
    return replace(tracing, flaws=(*tracing.flaws, flaw), line=())


def line_dropped(tracing: Tracing) -> Tracing:
    """Without the line under way."""
    return replace(tracing, line=()) if tracing.line else tracing


def handle_moved(tracing: Tracing, handle: Handle, place: Place) -> Tracing:
    """With a point elsewhere; what becomes crossed by it is told when it is taken."""
    return _with_points(tracing, handle, moved(points_of(tracing, handle), handle.point, place))


def handle_inserted(tracing: Tracing, before: Handle, place: Place) -> Tracing:
    """With a point more before another, or after the last."""
    return _with_points(tracing, before, inserted(points_of(tracing, before), before.point, place))


def handle_removed(tracing: Tracing, handle: Handle) -> Tracing:
    """Without a point; a flaw or a grain of too few points goes as a whole.

    Raises:
        BadInput: three points of the outline are left.
    """
    points = removed(points_of(tracing, handle), handle.point)
    if handle.of == "grain":
        return replace(tracing, grain=())
    if handle.of == "flaw":
        flaw = tracing.flaws[handle.flaw]
        if len(points) < (2 if flaw.wide > 0.0 else 3):
            return flaw_removed(tracing, handle.flaw)
    if handle.of == "outline" and len(points) < 3:
        raise BadInput("An outline has three points at least.")
    return _with_points(tracing, handle, points)


def flaw_removed(tracing: Tracing, at: int) -> Tracing:
    """Without a flaw."""
    return replace(tracing, flaws=(*tracing.flaws[:at], *tracing.flaws[at + 1 :]))


def flaw_changed(tracing: Tracing, at: int, flaw: Flaw) -> Tracing:
    """With a flaw made so."""
    return replace(tracing, flaws=(*tracing.flaws[:at], flaw, *tracing.flaws[at + 1 :]))


def outline_removed(tracing: Tracing) -> Tracing:
    """Without its outline, to be drawn anew."""
    return tracing if tracing.fixed else replace(tracing, outline=())


def grain_removed(tracing: Tracing) -> Tracing:
    """Without its grain, to be drawn anew."""
    return tracing if tracing.fixed else replace(tracing, grain=())


def handle_at(tracing: Tracing, place: Place, reach: float) -> Handle | None:
    """The point nearest to a place, within `reach` mm."""
    near = [
        (math.dist(point, place), number, handle)
        for number, (handle, point) in enumerate(handles(tracing))
        if math.dist(point, place) <= reach
    ]
    return min(near)[2] if near else None


def edge_at(tracing: Tracing, place: Place, reach: float) -> Handle | None:
    """Before which point a place on an edge is to be inserted; None when none is in reach."""
    best: tuple[float, int, Handle] | None = None
    for number, (handle, one, two) in enumerate(_edges(tracing)):
        far = _distance(place, one, two)
        if far <= reach and (best is None or far < best[0]):
            best = (far, number, handle)
    return None if best is None else best[2]


def handles(tracing: Tracing) -> Iterator[tuple[Handle, Place]]:
    """Every point that can be taken hold of."""
    yield from ((Handle("line", at), point) for at, point in enumerate(tracing.line))
    for number, flaw in enumerate(tracing.flaws):
        yield from ((Handle("flaw", at, number), p) for at, p in enumerate(flaw.points))
    if not tracing.fixed:
        yield from ((Handle("grain", at), point) for at, point in enumerate(tracing.grain))
        yield from ((Handle("outline", at), point) for at, point in enumerate(tracing.outline))


def points_of(tracing: Tracing, handle: Handle) -> tuple[Place, ...]:
    """All points of what a handle is of."""
    if handle.of == "flaw":
        return tracing.flaws[handle.flaw].points
    found: tuple[Place, ...] = getattr(tracing, handle.of)
    return found


def carried(tracing: Tracing, move: Callable[[Place], Place]) -> Tracing:
    """All that is drawn, moved point by point."""

    def all_of(points: tuple[Place, ...]) -> tuple[Place, ...]:
        return tuple(move(point) for point in points)

    return replace(
        tracing,
        outline=all_of(tracing.outline),
        flaws=tuple(replace(flaw, points=all_of(flaw.points)) for flaw in tracing.flaws),
        grain=all_of(tracing.grain),
        line=all_of(tracing.line),
    )


def turned_over(tracing: Tracing) -> Tracing:
    """Seen from the other side: left and right change places."""
    return carried(tracing, lambda place: (-place[0], place[1]))


def _flaw(tracing: Tracing, wide: float) -> Flaw:
    """The line under way as a flaw; an outline is tried as if it were a hole."""
    kind: FlawKind = "hole"
    if tracing.what != "outline" and tracing.what != "grain":
        kind = tracing.what
    return Flaw(kind, tracing.line, wide if kind == "seam" else 0.0)


def _check_area(flaw: Flaw, word: str) -> None:
    least = 2 if flaw.wide > 0.0 else 3
    if len(flaw.points) < least:
        raise BadInput(f"The {word} needs {'two' if least == 2 else 'three'} points at least.")
    try:
        flaw_area(flaw)
    except BadInput as problem:
        told = "encloses nothing" if "encloses" in problem.message else "crosses itself"
        raise BadInput(f"The {word} {told}: move or remove its last points.") from problem


def _with_points(tracing: Tracing, handle: Handle, points: tuple[Place, ...]) -> Tracing:
    if handle.of == "flaw":
        flaw = tracing.flaws[handle.flaw]
        return flaw_changed(tracing, handle.flaw, replace(flaw, points=points))
    return replace(tracing, **{handle.of: points})


def _edges(tracing: Tracing) -> Iterator[tuple[Handle, Place, Place]]:
    """Every stretch between two points, with the handle before which a point on it comes."""
    for number, flaw in enumerate(tracing.flaws):
        ends = flaw.points[1:] if flaw.wide > 0.0 else (*flaw.points[1:], flaw.points[0])
        for at, (one, two) in enumerate(zip(flaw.points, ends, strict=False)):
            yield Handle("flaw", at + 1, number), one, two
    if not tracing.fixed and tracing.outline:
        ends = (*tracing.outline[1:], tracing.outline[0])
        for at, (one, two) in enumerate(zip(tracing.outline, ends, strict=True)):
            yield Handle("outline", at + 1), one, two


def _distance(place: Place, one: Place, two: Place) -> float:
    """From a place to a stretch."""
    along = (two[0] - one[0], two[1] - one[1])
    length = along[0] ** 2 + along[1] ** 2
    if length == 0.0:
        return math.dist(place, one)
    share = ((place[0] - one[0]) * along[0] + (place[1] - one[1]) * along[1]) / length
    share = min(1.0, max(0.0, share))
    return math.dist(place, (one[0] + along[0] * share, one[1] + along[1] * share))
