"""What a maker is told of a sketch: what clashes, what says nothing new, what is still free."""

from __future__ import annotations

import msgspec
import numpy as np

from studio.constrain import limits
from studio.constrain.group import Floats
from studio.constrain.restore import restored
from studio.constrain.sketch import NodePart, PointRef, Sketch
from studio.constrain.solve import Solution, solved, unmet_names
from studio.constrain.system import Sheet, Spot, System
from studio.errors import BadInput

_OF_THE_WAY = 1e-6
_MOST_TRIES = 60
_ASIDE = 0.02
_NUDGE = 1e-3
_STIFF = 1e-7
_HANDLES: tuple[NodePart, ...] = ("in", "out")


class Clash(msgspec.Struct, frozen=True):
    """A request that follows from others, or contradicts them: the newest, and the others."""

    newest: str
    others: tuple[str, ...]


class Diagnosis(msgspec.Struct, frozen=True):
    """`freedom` counts the unknowns left free; a locked point cannot move at all."""

    conflicts: tuple[Clash, ...]
    redundant: tuple[Clash, ...]
    freedom: int
    locked: tuple[PointRef, ...]


class Reached(msgspec.Struct, frozen=True):
    """How far a value could be brought: the value and the sketch there, and what stood against
    going on, by name; nothing when it was reached. Short of the value, the sketch holds but has
    not moved the least. Without `met`, the others clash whatever the value, and nothing has moved.
    """

    value: float
    sketch: Sketch
    against: tuple[str, ...]
    met: bool = True


def diagnosis(sketch: Sketch) -> Diagnosis:
    """Every request judged after those made before it; for edits, not for frames of a drag.

    A row that depends on earlier ones is redundant where it holds, a conflict where it does not.
    A flat place is told from a true dependence by a second look, 5 mm away within what is free.

    Raises:
        BadInput: a request names what is not there.
    """
    system = System(sketch)
    spot, sheet = restored(system, system.base)
    matrix, order = _ordered(system, sheet)
    dependent = _dependent(matrix)
    if dependent:
        again = _dependent(_ordered(system, system.sheet(_elsewhere(system, spot, matrix)))[0])
        dependent = {row: mix for row, mix in dependent.items() if row in again}
    residuals = np.abs(sheet.residuals)[order]
    owners = system.owners[order]
    conflicts: list[Clash] = []
    redundant: list[Clash] = []
    for row, mix in dependent.items():
        others = owners[[k for k, amount in mix.items() if abs(amount) > limits.NAMED]]
        names = sorted({int(owner) for owner in others} - {int(owners[row])})
        clash = Clash(
            sketch.constraints[owners[row]].name,
            tuple(sketch.constraints[owner].name for owner in names),
        )
        (conflicts if residuals[row] > limits.ACCEPT_MM else redundant).append(clash)
    left = _null_space(matrix)
    return Diagnosis(
        tuple(dict.fromkeys(conflicts)),
        tuple(dict.fromkeys(redundant)),
        left.shape[1],
        _locked(system, left),
    )


def reach(sketch: Sketch, name: str, value: float, whole: Solution | None = None) -> Reached:
    """Bring a request to a value, or as far towards it from its present measure as all others
    allow, to 1e-6 of the way. `whole` is the solution with that value, where it is known already.

    Raises:
        BadInput: there is no such request, or it has no number.
    """
    asked = sketch.constraint(name)
    if whole is None:
        whole = solved(sketch.with_constraint(asked.with_value(value)))
    if whole.met:
        return Reached(value, whole.sketch, ())
    now = measured(sketch, name)
    near, unmet, _ = _brought(sketch, name, now)
    if unmet:
        return Reached(now, sketch, unmet, False)
    way = _Way(whole.worst_mm)
    against = whole.unmet
    while not way.is_narrow:
        at = way.next_try()
        trial, unmet, worst = _brought(near, name, now + at * (value - now))
        if unmet:
            way.fails(at, worst)
            against = unmet
        else:
            way.holds(at)
            near = trial
    return Reached(now + way.low * (value - now), near, against)


class _Way:
    """The way from the present number, 0, which holds, to the one asked for, 1, which does not.

    Beyond the last place that holds, what is off grows about evenly: two places that fail tell
    where nothing would be off. It is tried on both sides of there, which is cheap, and not there
    itself, where the rows are met slowest; where that brings little, the way is halved.
    """

    def __init__(self, off: float) -> None:
        self.low, self.high = 0.0, 1.0
        self._failed = [(1.0, off)]
        self._widths = [1.0]

    @property
    def is_narrow(self) -> bool:
        """Whether the last place that holds is known, or sought long enough."""
        return self.high - self.low <= _OF_THE_WAY or len(self._widths) > _MOST_TRIES

    def holds(self, at: float) -> None:
        """All holds at a place."""
        self.low = at
        self._widths.append(self.high - self.low)

    def fails(self, at: float, off: float) -> None:
        """At a place so much is off, mm."""
        self.high = at
        self._failed = [self._failed[-1], (at, off)]
        self._widths.append(self.high - self.low)

    def next_try(self) -> float:
        """A place between the two to try."""
        middle = (self.low + self.high) / 2.0
        slow = len(self._widths) > 2 and self._widths[-1] > 0.5 * self._widths[-3]
        nought = None if slow else self._nothing_off()
        if nought is None:
            return middle
        aside = max(_ASIDE * (self.high - nought), 0.4 * _OF_THE_WAY)
        return next(
            (at for at in (nought - aside, nought + aside) if self.low < at < self.high), middle
        )

    def _nothing_off(self) -> float | None:
        if len(self._failed) < 2:
            return None
        (far, more), (close, less) = self._failed
        if not less < more:
            return None
        return close - less * (far - close) / (more - less)


def measured(sketch: Sketch, name: str) -> float:
    """What a request with a number measures now, in its unit; raises BadInput without one."""
    asked = sketch.constraint(name)
    value = asked.value
    if value is None:
        raise BadInput("This has no number.", where=name)
    off = _off(sketch, name, value)
    slope = (_off(sketch, name, value + _NUDGE) - off) / _NUDGE
    return value - off / slope


def _brought(sketch: Sketch, name: str, value: float) -> tuple[Sketch, tuple[str, ...], float]:
    """A sketch with a request brought to a value, not yet with the least movement, what is unmet,
    and by how much, mm.
    """
    system = System(sketch.with_constraint(sketch.constraint(name).with_value(value)))
    spot, sheet = restored(system, system.base)
    unmet = () if sheet.worst <= limits.EXACT_MM else unmet_names(system, sheet)
    return system.sketch_at(spot), unmet, sheet.worst


def _off(sketch: Sketch, name: str, value: float) -> float:
    """Residual of the last row of a request, with another number."""
    index = [asked.name for asked in sketch.constraints].index(name)
    system = System(sketch.with_constraint(sketch.constraint(name).with_value(value)))
    rows = np.flatnonzero(system.owners == index)
    return float(system.sheet(system.base).residuals[rows[-1]])


def _ordered(system: System, sheet: Sheet) -> tuple[Floats, np.ndarray]:
    """Normalised rows of the weighted Jacobian in the order in which they were asked."""
    structure = sheet.structure
    matrix = np.zeros((structure.count, system.unknowns))
    np.add.at(matrix, (structure.rows, structure.columns), sheet.values)
    matrix *= np.sqrt(system.weights)
    order = np.argsort(system.owners, kind="stable")
    matrix = matrix[order]
    sizes = np.linalg.norm(matrix, axis=1)
    return matrix / np.maximum(sizes, 1e-12)[:, None], order


def _dependent(matrix: Floats) -> dict[int, dict[int, float]]:
    """Rows that earlier rows add up to, each with the earlier rows' shares in it."""
    basis: list[Floats] = []
    mixes: list[Floats] = []
    found: dict[int, dict[int, float]] = {}
    for index, row in enumerate(matrix):
        rest = row.copy()
        mix = np.zeros(len(matrix))
        mix[index] = 1.0
        for _ in range(2):
            for unit, known in zip(basis, mixes, strict=True):
                share = float(unit @ rest)
                rest -= share * unit
                mix -= share * known
        size = float(np.linalg.norm(rest))
        if size < limits.DEPENDENT:
            found[index] = {k: float(-mix[k]) for k in range(index) if mix[k] != 0.0}
        else:
            basis.append(rest / size)
            mixes.append(mix / size)
    return found


def _null_space(matrix: Floats) -> Floats:
    """An orthonormal basis of the steps no row speaks against, one a column."""
    if not matrix.size:
        return np.eye(matrix.shape[1])
    _, sizes, right = np.linalg.svd(matrix)
    rank = int((sizes > limits.DEPENDENT).sum())
    return np.asarray(right[rank:].T)


def _elsewhere(system: System, spot: Spot, matrix: Floats) -> Spot:
    """A spot 5 mm away within what is free, in a direction chosen once for all."""
    left = _null_space(matrix)
    if not left.shape[1]:
        return spot
    step = left @ np.random.default_rng(7).normal(size=left.shape[1])
    step *= limits.SECOND_LOOK_MM / max(float(np.linalg.norm(step)), 1e-12)
    return restored(system, system.moved(spot, step * np.sqrt(system.weights)))[0]


def _locked(system: System, left: Floats) -> tuple[PointRef, ...]:
    found = []
    for index, node in enumerate(system.sketch.nodes):
        if node.held:
            continue
        foot = _freedom(system, left, index, "node")
        if foot < _STIFF:
            found.append(PointRef(index))
        known = system.rows.columns.of
        found += [
            PointRef(index, part)
            for part in _HANDLES
            if (index, part) in known and max(foot, _freedom(system, left, index, part)) < _STIFF
        ]
    return tuple(found)


def _freedom(system: System, left: Floats, node: int, part: NodePart) -> float:
    at = 2 * system.number_of[system.rows.columns.of[node, part]]
    return float(np.abs(left[at : at + 2]).max(initial=0.0))
