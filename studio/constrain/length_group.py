"""The equation group of lengths along curves."""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from studio.constrain.group import Complexes, Floats, Integers, State, Written, on_cubics
from studio.constrain.rows import Along, Rows
from studio.curves import Cubic, Point

_NODES, _WEIGHTS = np.polynomial.legendre.leggauss(16)
_GAUSS = (_NODES + 1.0) / 2.0
_GAUSS_WEIGHTS = _WEIGHTS / 2.0
_BY_CONTROL = 3.0 * np.array([[-1.0, 1, 0, 0], [0, -1, 1, 0], [0, 0, -1, 1]], dtype=complex)
"""What the three steps between controls, times 3, have of the four controls."""


class Lengths:
    """Sum of factor * arc length = value; ds/dP_i is the integral of (B'/|B'|) b_i', ds/dt is
    |B'(t)|. Every cubic of a run is summed up to where the slide leaves it; of a run that is held
    only the cubic that the slide is on, as what lies before it never changes.
    """

    def __init__(self, rows: Rows) -> None:
        self.count = len(rows.length_values)
        self._missed: Floats = np.zeros(self.count)
        self._all_controls = np.array(rows.controls, dtype=np.intp).reshape(-1, 4)
        terms = [(k, term) for k, row in enumerate(rows.length_terms) for term in row]
        held = [one for one in terms if rows.is_held(one[1].run)]
        moving = [one for one in terms if not rows.is_held(one[1].run)]
        self._read_moving(rows, moving)
        self._read_held(rows, held)
        self._rows = np.concatenate([self._moving_rows, self._cut_rows])
        self._factors = np.concatenate([self._moving_factors, self._cut_factors])
        self.rows_of = np.repeat(self._moving_rows, 4)
        self.slide_rows = np.concatenate([self._moving_rows[self._partial], self._cut_rows])
        self.slides_of = np.concatenate([self._moving_slides, self._cut_slides])

    def _read_moving(self, rows: Rows, terms: list[tuple[int, Along]]) -> None:
        """Cubics of runs that may move, one after the other."""
        items = [
            (k, term, cubic) for k, term in terms for cubic in range(rows.cubic_count[term.run])
        ]
        self._moving_rows = np.array([k for k, _, _ in items], dtype=np.intp)
        self._moving_factors = np.array([term.factor for _, term, _ in items])
        cubics = [rows.first_cubic[term.run] + cubic for _, term, cubic in items]
        self._controls = self._all_controls[np.array(cubics, dtype=np.intp)]
        cut = [(at, item) for at, item in enumerate(items) if item[1].slide is not None]
        self._partial = np.array([at for at, _ in cut], dtype=np.intp)
        self._moving_slides = np.array([term.slide for _, (_, term, _) in cut], dtype=np.intp)
        self._index = np.array([cubic for _, (_, _, cubic) in cut], dtype=float)
        self._last = np.array(
            [cubic == rows.cubic_count[term.run] - 1 for _, (_, term, cubic) in cut], dtype=bool
        )

    def _read_held(self, rows: Rows, terms: list[tuple[int, Along]]) -> None:
        """Runs that are held: the whole of them, and those that a slide cuts."""
        cut = [(k, term) for k, term in terms if term.slide is not None]
        self._cut_rows = np.array([k for k, _ in cut], dtype=np.intp)
        self._cut_factors = np.array([term.factor for _, term in cut])
        self._cut_slides = np.array([term.slide for _, term in cut], dtype=np.intp)
        self._before = np.zeros(len(rows.controls))
        self._values = np.array(rows.length_values)
        for run in {term.run for _, term in terms}:
            first, number = rows.first_cubic[run], rows.cubic_count[run]
            places = rows.place_values(self._all_controls[first : first + number])
            ends = np.cumsum([_length_to(tuple(four), 1.0) for four in places.tolist()])
            self._before[first + 1 : first + number] = ends[:-1]
            for k, term in terms:
                if term.run == run and term.slide is None:
                    self._values[k] -= term.factor * ends[-1]

    def places_of(self, cubics: Integers) -> Integers:
        """Always the same: a cubic beyond the slide has gradient zero."""
        del cubics
        return self._controls.ravel()

    def write(self, state: State) -> Written:
        """By 16 Gauss points a cubic, put right by the last `correct`."""
        controls, until, gone = self._cut(state)
        steps = 3.0 * (controls[:, 1:] - controls[:, :-1])
        lengths, by_step = _summed(steps, until)
        number = len(self._moving_rows)
        lengths[number:] += self._before[state.cubics[self._cut_slides]]
        sums = np.bincount(self._rows, self._factors * lengths, self.count)
        gradients = (self._moving_factors[:, None] * by_step[:number]) @ _BY_CONTROL
        return Written(
            sums + self._missed - self._values,
            gradients.ravel(),
            self._by_slide(state, controls, until, gone),
        )

    def correct(self, state: State) -> None:
        """Learn by how much the quadrature misses the lengths at this state, which near a cusp
        may be 1e-4 mm: from here on the rows are right there to 1e-9.
        """
        controls, until, _ = self._cut(state)
        close = _summed(3.0 * np.diff(controls), until)[0]
        exact = [
            _length_to(tuple(four), end)
            for four, end in zip(controls.tolist(), until.tolist(), strict=True)
        ]
        missed = np.bincount(self._rows, self._factors * (exact - close), self.count)
        self._missed = missed.astype(float)

    def _cut(self, state: State) -> tuple[Complexes, Floats, Floats]:
        """Controls of all cubics that are summed, the parameter up to which each is, and for those
        of runs that may move how far the slide has gone from the cubic's start.
        """
        until = np.ones(len(self._rows))
        number = len(self._moving_rows)
        gone = state.slides[self._moving_slides] - self._index
        if len(gone):
            until[self._partial] = np.minimum(np.maximum(gone, 0.0), 1.0)
        until[number:] = state.parameters[self._cut_slides]
        at_cuts = state.controls[self._cut_slides]
        return np.concatenate([state.places[self._controls], at_cuts]), until, gone

    def _by_slide(self, state: State, controls: Complexes, until: Floats, gone: Floats) -> Floats:
        """Speed where the slide is, for the one cubic it is on."""
        held = np.abs(state.on_runs[self._cut_slides, 1])
        if len(gone):
            part = self._partial
            here = (gone >= 0.0) & ((gone < 1.0) | (self._last & (gone <= 1.0)))
            speed = np.abs(on_cubics(controls[part], until[part])[1][:, 1])
            held = np.concatenate([np.where(here, speed, 0.0), held])
        factors = np.concatenate([self._moving_factors[self._partial], self._cut_factors])
        by_slide: Floats = factors * held
        return by_slide


def _summed(steps: Complexes, until: Floats) -> tuple[Floats, Complexes]:
    """Of cubics by the steps between their controls (times 3), up to a parameter: the length, and
    the integral of the unit tangent times each basis function of the speed.
    """
    t = until[:, None] * _GAUSS
    v = 1.0 - t
    basis = np.empty((len(steps), 3, len(_GAUSS)))
    np.multiply(v, v, out=basis[:, 0])
    np.multiply(t, 2.0 * v, out=basis[:, 1])
    np.multiply(t, t, out=basis[:, 2])
    speed = np.matmul(steps[:, None, :], basis)[:, 0]
    size = np.maximum(np.abs(speed), 1e-12)
    weights = until[:, None] * _GAUSS_WEIGHTS
    unit = weights * (speed / size)
    return np.add.reduce(size * weights, axis=1), np.matmul(basis, unit[:, :, None])[:, :, 0]


@lru_cache(maxsize=512)
def _length_to(controls: tuple[complex, ...], end: float) -> float:
    """Exact; the edges that lines end on are the same in every frame of a drag."""
    p0, p1, p2, p3 = (Point(place.real, place.imag) for place in controls)
    return Cubic(p0, p1, p2, p3).length_to(end)
