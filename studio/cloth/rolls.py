"""Pieces on one clean roll, on as little of its length as can be found, by `spyrrow`.

What it does not know is made good here. Its gap keeps off the border too: instead pieces are grown
by half the gap, and the strip with them. It does not mirror: each hand is an item of its own. It
panics on what can not fit: that is sought out before. It can not be stopped: it runs in a thread of
a process that may end. It reckons in floats of 32 bits: each layout is checked before it is given.
"""

from __future__ import annotations

import math
import time
from collections.abc import Iterator
from threading import Thread
from typing import TYPE_CHECKING

import msgspec
from shapely import Polygon
from shapely.affinity import rotate, translate

from studio.cloth.clearance import beyond, too_near
from studio.cloth.task import Candidate, Field, Found, Laid, Merit, Pose, Task

if TYPE_CHECKING:
    import spyrrow

    from studio.design.cloth import Place

_SPARE = 0.03
"""Mm that pieces are grown beyond half the gap, for thinned corners and floats of 32 bits."""
_PLAIN = 0.02
_BOX = 1e-6
"""Share of its box that a usable area may lack and still be a clean rectangle."""
_LOOK_SECONDS = 0.05
_LONGEST_SECONDS = 3600


class TooLong(msgspec.Struct, frozen=True):
    """The pieces need a longer roll than there is: the shortest length found, mm."""

    length: float


class Alike(msgspec.Struct, frozen=True):
    """Candidates that are laid alike: one shape, the turns in which it fits across the roll."""

    candidates: tuple[int, ...]
    pose: Pose
    turns: tuple[float, ...]


class Strip(msgspec.Struct, frozen=True):
    """A clean roll as a strip along +x, what is to lie on it, and where it lies on the roll."""

    alike: tuple[Alike, ...]
    height: float
    length: float
    right: float
    low: float


def strip_of(task: Task) -> Strip | None:
    """The strip of a task that is one clean roll on which every candidate fits across; None for any
    other task, which is then for `search`.
    """
    if len(task.fields) != 1 or not task.candidates or not _is_clean(task.fields[0]):
        return None
    if not all(_is_one_size(candidate) for candidate in task.candidates):
        return None
    left, low, right, high = task.fields[0].usable.bounds
    half = task.gap / 2.0
    height = right - left + task.gap
    together: dict[tuple[Pose, ...], list[int]] = {}
    for index, candidate in enumerate(task.candidates):
        together.setdefault(_upward(candidate), []).append(index)
    alike: list[Alike] = []
    for poses, candidates in together.items():
        turns = tuple(pose.turn for pose in poses if _breadth(task, pose) <= height)
        if not turns:
            return None
        alike.append(Alike(tuple(candidates), poses[0], turns))
    return Strip(tuple(alike), height, high - low, right + half, low - half)


def roll_search(
    task: Task, strip: Strip, *, seed: int = 0, seconds: float = 60.0
) -> Iterator[Found | TooLong | None]:
    """Each shorter layout as it is found, None as a tick between; at last how long a roll would be
    needed when none fitted on this one. The same seed does not give the same layouts: the clock has
    a part in it.

    Raises:
        RuntimeError: it refused the pieces, with its reason.
    """
    solving = _Solving(task, strip, seed, seconds)
    solving.start()
    shortest, fits = math.inf, False
    while solving.is_alive() or not solving.drained:
        newest = solving.newest()
        if newest is not None and newest.width < shortest:
            shortest = newest.width
            found = _found(task, strip, newest)
            if found is not None:
                fits = True
                yield found
        yield None
        time.sleep(_LOOK_SECONDS)
    if solving.failure:
        raise RuntimeError(solving.failure)
    if not fits:
        yield TooLong(shortest - task.gap)


class _Solving(Thread):
    """One run of the solver; it ends by itself only when its time is over."""

    def __init__(self, task: Task, strip: Strip, seed: int, seconds: float) -> None:
        super().__init__(daemon=True)
        import spyrrow

        self.failure = ""
        self.drained = False
        self._queue = spyrrow.ProgressQueue()
        self._feasible = (spyrrow.ReportType.ExplFeas, spyrrow.ReportType.CmprFeas)
        self._instance = spyrrow.StripPackingInstance(
            "lay",
            strip.height,
            [
                spyrrow.Item(str(index), _shape(task, kind.pose), len(kind.candidates), kind.turns)
                for index, kind in enumerate(strip.alike)
            ],
        )
        self._config = spyrrow.StripPackingConfig(
            early_termination=True,
            total_computation_time=max(1, min(round(seconds), _LONGEST_SECONDS)),
            num_workers=1,
            seed=seed,
        )

    def run(self) -> None:
        try:
            self._instance.solve(self._config, progress=self._queue)
        # Its panics are no `Exception`.
        except BaseException as refusal:
            self.failure = str(refusal) or type(refusal).__name__

    def newest(self) -> spyrrow.StripPackingSolution | None:
        """The newest feasible solution since the last look."""
        ended = not self.is_alive()
        reports = self._queue.drain()
        self.drained = ended
        feasible = [solution for kind, solution in reports if kind in self._feasible]
        return feasible[-1] if feasible else None


def _is_clean(field: Field) -> bool:
    left, low, right, high = field.usable.bounds
    return field.roll and field.usable.area >= (right - left) * (high - low) * (1.0 - _BOX)


def _is_one_size(candidate: Candidate) -> bool:
    """Whether all its poses of one face are of one figure: cloth that shrinks unevenly is cut
    another size for each direction.
    """
    faces = {(pose.flipped, pose.figure) for pose in candidate.poses[0]}
    return len({flipped for flipped, _ in faces}) == len(faces)


def _upward(candidate: Candidate) -> tuple[Pose, ...]:
    """Its poses of one hand: of a piece that may lie face down, those face up."""
    poses = candidate.poses[0]
    return tuple(pose for pose in poses if pose.figure == poses[0].figure)


def _grown(task: Task, pose: Pose) -> Polygon:
    figure = Polygon(task.figures[pose.figure])
    return figure.buffer(task.gap / 2.0 + _SPARE, quad_segs=6).simplify(_PLAIN)


def _breadth(task: Task, pose: Pose) -> float:
    left, _, right, _ = rotate(_grown(task, pose), pose.turn, origin=(0.0, 0.0)).bounds
    return float(right - left)


def _shape(task: Task, pose: Pose) -> list[Place]:
    """A grown figure with its warp along +x, as the strip lies."""
    return [(y, -x) for x, y in _grown(task, pose).exterior.coords[:-1]]


def _found(task: Task, strip: Strip, solution: spyrrow.StripPackingSolution) -> Found | None:
    """A solution on its roll; None when it is too long for it, or not clear when looked at."""
    length = solution.width - task.gap
    if length > strip.length:
        return None
    waiting = {index: list(kind.candidates) for index, kind in enumerate(strip.alike)}
    laid: list[Laid] = []
    for placed in solution.placed_items:
        along, across = placed.translation
        at = (strip.right - across, strip.low + along)
        index = int(placed.id)
        flipped = strip.alike[index].pose.flipped
        laid.append(Laid(waiting[index].pop(0), 0, at, placed.rotation, flipped))
    if any(waiting.values()) or not _clear(task, strip, laid):
        return None
    worth = sum(candidate.worth for candidate in task.candidates)
    left, _, right, _ = task.fields[0].usable.bounds
    leftover = (strip.length - length) * (right - left)
    merit = Merit(round(worth, 3), -1, 0.0, round(leftover, 3))
    return Found(tuple(sorted(laid, key=lambda one: one.candidate)), (), merit)


def _clear(task: Task, strip: Strip, laid: list[Laid]) -> bool:
    figures = {one: kind.pose.figure for kind in strip.alike for one in kind.candidates}
    lines: list[Polygon] = []
    for one in laid:
        line = Polygon(task.figures[figures[one.candidate]])
        lines.append(translate(rotate(line, one.turn, origin=(0.0, 0.0)), *one.at))
    usable = task.fields[0].usable
    return all(
        beyond(line, usable) is None
        and all(too_near(line, other, task.gap) is None for other in lines[:index])
        for index, line in enumerate(lines)
    )
