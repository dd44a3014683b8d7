"""A sketch compiled: the state, its rows, and the normal equations of a step of least movement.

The state is one complex number a node or handle and one parameter a slide. A step solves
(J W Jt + damping) y = rhs with W the inverse weights; the matrix is banded after a reverse
Cuthill-McKee ordering of the rows, and is assembled from pairs of entries listed once.
"""

from __future__ import annotations

from functools import cached_property, lru_cache

import msgspec
import numpy as np
from msgspec.structs import replace

from studio.constrain import limits
from studio.constrain.group import Complexes, Floats, Group, Integers, State, on_cubics
from studio.constrain.groups import GROUPS
from studio.constrain.length_group import Lengths
from studio.constrain.rows import Columns, Rows
from studio.constrain.sketch import PointRef, Sketch
from studio.curves import Point, Vector


class Unsolvable(Exception):
    """The normal matrix of a ruined state cannot be factored: the step is to be rejected."""


class Spot(msgspec.Struct):
    """A state of the unknowns: columns (mm) and slides."""

    columns: Complexes
    slides: Floats


class Sheet(msgspec.Struct):
    """Residuals and Jacobian entries at a spot."""

    residuals: Floats
    values: Floats
    structure: Structure

    @property
    def worst(self) -> float:
        """Largest residual, mm."""
        return float(np.abs(self.residuals).max(initial=0.0))


class Structure:
    """Which entry of the Jacobian stands where, for slides on given cubics."""

    def __init__(self, system: System, cubics: Integers) -> None:
        rows_of, columns, sources, factors = [], [], [], []
        slide_rows, slide_columns = [], []
        row, source = 0, 0
        for group in system.groups:
            places = group.places_of(cubics)
            for which in (0, 2):
                column = system.place_columns[places, which]
                factor = system.place_factors[places, which // 2]
                kept = np.flatnonzero(~system.held[column] & (factor != 0.0))
                rows_of.append(group.rows_of[kept] + row)
                columns.append(system.number_of[column[kept]])
                sources.append(kept + source)
                factors.append(factor[kept])
            slide_rows.append(group.slide_rows + row)
            slide_columns.append(system.slides_from + group.slides_of)
            row += group.count
            source += len(places)
        flat = np.concatenate(rows_of)
        numbers = np.concatenate(columns)
        self.sources = np.concatenate(sources)
        self.factors = np.concatenate(factors)
        self.rows = np.concatenate([flat, flat, *slide_rows])
        self.columns = np.concatenate([2 * numbers, 2 * numbers + 1, *slide_columns])
        self.count = row
        order = _order(self.rows.tobytes(), self.columns.tobytes(), self.count, system.unknowns)
        self.place_of, self.first, self.second, self.targets, self.band = order
        self.pair_columns = self.columns[self.first]

    def times(self, values: Floats, step: Floats) -> Floats:
        """J step, in the rows' own order."""
        return np.asarray(np.bincount(self.rows, values * step[self.columns], self.count), float)

    def back(self, values: Floats, multipliers: Floats, unknowns: int) -> Floats:
        """Jt y."""
        return np.asarray(
            np.bincount(self.columns, values * multipliers[self.rows], unknowns), float
        )

    def multipliers(self, values: Floats, weights: Floats, rhs: Floats, damping: float) -> Floats:
        """Y of (J W Jt + damping) y = rhs; raises Unsolvable."""
        from scipy.linalg.lapack import dpbtrf, dpbtrs  # Slow to load.

        products = values[self.first] * values[self.second] * weights[self.pair_columns]
        band = np.bincount(self.targets, products, self.band * self.count)
        band = band.reshape(self.band, self.count)
        band[0] += damping
        factored, trouble = dpbtrf(band, lower=1)
        if trouble:
            raise Unsolvable
        found, trouble = dpbtrs(factored, self._placed(rhs), lower=1)
        if trouble or not np.isfinite(found).all():
            raise Unsolvable
        return found[self.place_of]  # type: ignore[no-any-return]

    def _placed(self, rhs: Floats) -> Floats:
        placed = np.empty(self.count)
        placed[self.place_of] = rhs
        return placed


@lru_cache(maxsize=64)
def _order(
    rows_read: bytes, columns_read: bytes, count: int, unknowns: int
) -> tuple[Integers, Integers, Integers, Integers, int]:
    """The rows' places in a band, the pairs of entries that make it with their places in it, and
    its breadth. Sketches differ by their numbers from frame to frame, but hardly by this.
    """
    from scipy.sparse import coo_array  # Slow to load, and few designs hold anything.
    from scipy.sparse.csgraph import reverse_cuthill_mckee

    rows, columns = (np.frombuffer(read, dtype=np.intp) for read in (rows_read, columns_read))
    pattern = coo_array((np.ones(len(rows)), (rows, columns)), shape=(count, unknowns))
    joined = (pattern @ pattern.T).tocsr()
    order = reverse_cuthill_mckee(joined, symmetric_mode=True)
    place_of = np.empty(count, dtype=np.intp)
    place_of[order] = np.arange(count)
    placed = place_of[rows]
    by_column = np.argsort(columns, kind="stable")
    bounds = np.flatnonzero(np.diff(columns[by_column])) + 1
    firsts, seconds = [np.zeros(0, dtype=np.intp)], [np.zeros(0, dtype=np.intp)]
    for entries in np.split(by_column, bounds):
        one = np.repeat(entries, len(entries))
        two = np.tile(entries, len(entries))
        lower = placed[one] >= placed[two]
        firsts.append(one[lower])
        seconds.append(two[lower])
    first, second = np.concatenate(firsts), np.concatenate(seconds)
    below = placed[first] - placed[second]
    targets = below * count + placed[second]
    return place_of, first, second, targets, int(below.max(initial=0)) + 1


class System:
    """A sketch ready to be solved; raises BadInput as `Rows` does."""

    def __init__(self, sketch: Sketch) -> None:
        self.sketch = sketch
        self.rows = rows = Rows(sketch)
        known = rows.columns
        self.held = np.array(known.held, dtype=bool)
        self.is_handle = np.array(known.is_handle, dtype=bool)
        free = np.flatnonzero(~self.held)
        self.free = free
        self.free_nodes = free[~self.is_handle[free]]
        self.free_handles = free[self.is_handle[free]]
        self.number_of = np.zeros(len(self.held), dtype=np.intp)
        self.number_of[free] = np.arange(len(free))
        self.slides_from = 2 * len(free)
        self.unknowns = 2 * len(free) + len(sketch.slides)
        table = np.array(rows.places, dtype=float).reshape(-1, 4)
        self.place_columns = table.astype(np.intp)
        self.place_factors = table[:, (1, 3)]
        self.run_first = np.array(rows.first_cubic, dtype=np.intp)[rows.slide_run]
        self.run_cubics = np.array(rows.cubic_count, dtype=np.intp)[rows.slide_run]
        named = [(name, make(rows)) for name, make in GROUPS if rows.owners.get(name)]
        self._controls = np.array(rows.controls, dtype=np.intp).reshape(-1, 4)
        self.groups: list[Group] = [group for _, group in named]
        self.owners = np.array(
            [owner for name, _ in named for owner in rows.owners[name]], dtype=np.intp
        )
        self._free_slides = self._on_free_runs()
        self._structures: dict[bytes, Structure] = {}
        self.base = Spot(np.array(known.values, dtype=complex), np.array(sketch.slides))
        self.weights = self._weights()

    @cached_property
    def base_sheet(self) -> Sheet:
        """The sheet of the sketch as it was given."""
        return self.sheet(self.base)

    def sheet(self, spot: Spot) -> Sheet:
        """Residuals and Jacobian entries at a spot."""
        state = self._state(spot)
        structure = self._structure(state.cubics)
        residuals, gradients, by_slide = [], [], []
        for group in self.groups:
            written = group.write(state)
            residuals.append(written.residuals)
            gradients.append(written.gradients)
            by_slide.append(written.by_slide)
        if not residuals:
            return Sheet(np.zeros(0), np.zeros(0), structure)
        spread = np.concatenate(gradients)[structure.sources] * structure.factors
        values = np.concatenate([spread.real, spread.imag, *by_slide])
        return Sheet(np.concatenate(residuals), values, structure)

    def worst(self, spot: Spot) -> float:
        """Largest residual at a spot, mm."""
        state = self._state(spot)
        return max(
            (float(np.abs(group.write(state).residuals).max()) for group in self.groups),
            default=0.0,
        )

    def correct(self, spot: Spot) -> None:
        """Put the quadrature of lengths right at a spot."""
        state = self._state(spot)
        for group in self.groups:
            if isinstance(group, Lengths):
                group.correct(state)

    def moved(self, spot: Spot, step: Floats) -> Spot:
        """The spot after a step of the unknowns: nodes capped, handles turned and scaled so that
        they never vanish or flip, slides kept on their runs.
        """
        change = np.zeros(len(self.held), dtype=complex)
        pairs = step[: self.slides_from]
        change[self.free] = pairs[::2] + 1j * pairs[1::2]
        nodes = np.abs(change[self.free_nodes]).max(initial=0.0)
        cap = min(1.0, limits.STEP_MM / nodes) if nodes > 0.0 else 1.0
        columns = spot.columns + cap * change
        handles = self.free_handles
        if len(handles):
            old = spot.columns[handles]
            turning = cap * change[handles] / np.where(np.abs(old) > 0.0, old, 1.0)
            size = np.abs(turning)
            turning *= np.minimum(1.0, limits.HANDLE_TURN / np.maximum(size, 1e-300))
            columns[handles] = old * np.exp(turning)
        ahead = np.minimum(np.maximum(cap * step[self.slides_from :], -0.5), 0.5)
        return Spot(columns, np.minimum(np.maximum(spot.slides + ahead, 0.0), self.run_cubics))

    def towards(self, spot: Spot, anchor: Spot) -> Floats:
        """The step of the unknowns from a spot to another; `moved` would take it in one.

        A handle's step is its turn and the logarithm of its growth, times its length: going home
        by a straight line it would pass through nothing.
        """
        change = (anchor.columns - spot.columns)[self.free]
        handles = self.is_handle[self.free]
        if handles.any():
            here, there = spot.columns[self.free][handles], anchor.columns[self.free][handles]
            known = (here != 0.0) & (there != 0.0)
            ratio = np.where(known, there, 1.0) / np.where(known, here, 1.0)
            change[handles] = here * np.log(ratio)
        step = np.empty(self.unknowns)
        step[: self.slides_from : 2] = change.real
        step[1 : self.slides_from : 2] = change.imag
        step[self.slides_from :] = anchor.slides - spot.slides
        return step

    def stretch(self, spot: Spot) -> Floats:
        """By coordinate of nodes and handles: the square of how much longer a handle was at the
        base than it is at a spot; a step of the spot counts for so much in the way to the base.
        """
        ratios = np.ones(len(self.held))
        handles = self.free_handles
        here = np.abs(spot.columns[handles])
        base = np.abs(self.base.columns[handles])
        ratios[handles] = np.where(here > 0.0, base / np.where(here > 0.0, here, 1.0), 1.0) ** 2
        return np.repeat(ratios[self.free], 2)

    def sketch_at(self, spot: Spot) -> Sketch:
        """The sketch with its nodes, handles and slides at a spot."""
        of = self.rows.columns.of
        nodes = []
        for index, node in enumerate(self.sketch.nodes):
            if node.held:
                nodes.append(node)
                continue
            at = spot.columns[of[index, "node"]]
            incoming, outgoing = of.get((index, "in")), of.get((index, "out"))
            nodes.append(
                replace(
                    node,
                    at=Point(float(at.real), float(at.imag)),
                    handle_in=None if incoming is None else _vector(spot.columns[incoming]),
                    handle_out=None if outgoing is None else _vector(spot.columns[outgoing]),
                )
            )
        slides = tuple(float(slide) for slide in spot.slides)
        return replace(self.sketch, nodes=tuple(nodes), slides=slides)

    def spot_of(self, sketch: Sketch) -> Spot | None:
        """The free nodes, handles and the slides of another sketch of the same form; None for one
        that has others.
        """
        known = Columns(sketch)
        if known.of != self.rows.columns.of or len(sketch.slides) != len(self.base.slides):
            return None
        columns = self.base.columns.copy()
        columns[self.free] = np.array(known.values, dtype=complex)[self.free]
        return Spot(columns, np.minimum(np.array(sketch.slides), self.run_cubics))

    def column_of(self, ref: PointRef) -> int:
        """The column of a node or handle."""
        return self.rows.columns.of[ref.node, ref.part]

    def _weights(self) -> Floats:
        """Inverse weights of the unknowns: 1 for nodes and for handles of some length."""
        sizes = np.abs(self.base.columns[self.free])
        light = np.where(
            self.is_handle[self.free], np.minimum(1.0, (sizes / limits.HANDLE_MM) ** 2), 1.0
        )
        light[self.is_handle[self.free] & (sizes < limits.NO_HANDLE_MM)] = 0.0
        slides = np.full(len(self.sketch.slides), 1.0 / limits.SLIDE_WEIGHT)
        return np.concatenate([np.repeat(light, 2), slides])

    def _state(self, spot: Spot) -> State:
        columns = self.place_columns
        places = (
            self.place_factors[:, 0] * spot.columns[columns[:, 0]]
            + self.place_factors[:, 1] * spot.columns[columns[:, 2]]
        )
        index = np.minimum(spot.slides.astype(np.intp), self.run_cubics - 1)
        cubics = self.run_first + index
        parameters = spot.slides - index
        controls = places[self._controls[cubics]]
        weights, on_runs = on_cubics(controls, parameters)
        return State(places, spot.slides, cubics, parameters, controls, weights, on_runs)

    def _structure(self, cubics: Integers) -> Structure:
        key = cubics[self._free_slides].tobytes()
        known = self._structures.get(key)
        if known is None:
            known = self._structures[key] = Structure(self, cubics)
        return known

    def _on_free_runs(self) -> Integers:
        """Slides whose run has a control point that may move: crossing a joint of such a run
        changes which unknowns meet.
        """
        rows = self.rows
        found = [slide for slide, run in enumerate(rows.slide_run) if not rows.is_held(run)]
        return np.array(found, dtype=np.intp)


def _vector(value: complex) -> Vector:
    return Vector(float(value.real), float(value.imag))
