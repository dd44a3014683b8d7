"""Equation groups along curves: on them, and their directions."""

from __future__ import annotations

import numpy as np

from studio.constrain import limits
from studio.constrain.group import Complexes, Integers, State, Written
from studio.constrain.rows import Rows, Tangent


class OnCubic:
    """B(t) - p = 0 in x and y; the gradient by control point i is its Bernstein weight."""

    def __init__(self, rows: Rows) -> None:
        table = rows.on_run_rows
        number = len(table)
        self.count = 2 * number
        across = 2 * np.arange(number)
        self._p = np.array([place for place, _ in table], dtype=np.intp)
        self._slides = np.array([slide for _, slide in table], dtype=np.intp)
        self._controls = np.array(rows.controls, dtype=np.intp).reshape(-1, 4)
        self.rows_of = np.concatenate(
            [across, np.repeat(across, 4), across + 1, np.repeat(across + 1, 4)]
        )
        self.slide_rows = np.concatenate([across, across + 1])
        self.slides_of = np.tile(self._slides, 2)
        self._ones = np.full(number, -1.0 + 0.0j)

    def places_of(self, cubics: Integers) -> Integers:
        """The point and the controls of the cubic it is on, for x and for y."""
        controls = self._controls[cubics[self._slides]].ravel()
        return np.tile(np.concatenate([self._p, controls]), 2)

    def write(self, state: State) -> Written:
        """Exact."""
        off = state.on_runs[self._slides, 0] - state.places[self._p]
        speed = state.on_runs[self._slides, 1]
        across = np.concatenate([self._ones, state.weights[self._slides, 0].ravel()])
        return Written(
            off.view(np.float64),
            np.concatenate([across, 1j * across]),
            np.concatenate([speed.real, speed.imag]),
        )


class Angles:
    """100 mm * wrap(sum of factor * direction - value); d atan2(v) has the gradient iv / |v|^2."""

    def __init__(self, rows: Rows) -> None:
        self.count = len(rows.angle_values)
        self._values = np.array(rows.angle_values)
        terms = [(k, term) for k, row in enumerate(rows.angle_terms) for term in row]
        straight = [(k, term) for k, term in terms if not isinstance(term, Tangent)]
        curved = [(k, term) for k, term in terms if isinstance(term, Tangent)]
        self._s = np.array([term.start for _, term in straight], dtype=np.intp)
        self._e = np.array([term.end for _, term in straight], dtype=np.intp)
        self._rows = np.array([k for k, _ in (*straight, *curved)], dtype=np.intp)
        self._factors = np.array(
            [term.factor for _, term in straight] + [term.factor for _, term in curved]
        )
        self.slide_rows = np.array([k for k, _ in curved], dtype=np.intp)
        self.slides_of = np.array([term.slide for _, term in curved], dtype=np.intp)
        self._controls = np.array(rows.controls, dtype=np.intp).reshape(-1, 4)
        ends = self._rows[: len(straight)]
        self.rows_of = np.concatenate([ends, ends, np.repeat(self.slide_rows, 4)])

    def places_of(self, cubics: Integers) -> Integers:
        """Ends of the straight terms, controls of the curved ones."""
        curved = self._controls[cubics[self.slides_of]].ravel()
        return np.concatenate([self._s, self._e, curved])

    def write(self, state: State) -> Written:
        """Exact."""
        step = state.places[self._e] - state.places[self._s]
        _, speed, bend = state.on_runs[self.slides_of].T
        ahead = np.concatenate([step, speed])
        directions = np.arctan2(ahead.imag, ahead.real)
        over = np.bincount(self._rows, self._factors * directions, self.count) - self._values
        wrapped = over - 2.0 * np.pi * np.round(over / (2.0 * np.pi))
        turn = limits.ANGLE_MM * self._factors * _turning(ahead)
        at_ends, along = turn[: len(step)], turn[len(step) :]
        by_control = along[:, None] * state.weights[self.slides_of, 1]
        return Written(
            limits.ANGLE_MM * wrapped,
            np.concatenate([-at_ends, at_ends, by_control.ravel()]),
            (along.conj() * bend).real,
        )


def _turning(step: Complexes) -> Complexes:
    size = np.maximum(np.abs(step), limits.NO_HANDLE_MM)
    turning: Complexes = 1j * step / (size * size)
    return turning
