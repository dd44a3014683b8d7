"""Equation groups over places alone: sums, distances, lines, mirrors."""

from __future__ import annotations

import numpy as np

from studio.constrain import limits
from studio.constrain.group import NO_ROWS, NO_SLIDES, Integers, State, Written
from studio.constrain.rows import Rows


class Linear:
    """Sum of a x + b y = value."""

    slide_rows = slides_of = NO_ROWS

    def __init__(self, rows: Rows) -> None:
        terms = [(k, *term) for k, row in enumerate(rows.linear_terms) for term in row]
        self.count = len(rows.linear_values)
        self.rows_of = np.array([k for k, _, _ in terms], dtype=np.intp)
        self._places = np.array([place for _, place, _ in terms], dtype=np.intp)
        self._factors = np.array([factor for _, _, factor in terms], dtype=complex)
        self._values = np.array(rows.linear_values)

    def places_of(self, cubics: Integers) -> Integers:
        """Always the same."""
        del cubics
        return self._places

    def write(self, state: State) -> Written:
        """Exact."""
        part = (self._factors.conj() * state.places[self._places]).real
        sums = np.bincount(self.rows_of, part, self.count)
        return Written(sums - self._values, self._factors, NO_SLIDES)


class FromLine:
    """cross(e - s, p - s) / |e - s| = value: with a = e - s and q = p - s the gradient by p is the
    left normal, by a it is (-iq - r a/|a|) / |a|.
    """

    slide_rows = slides_of = NO_ROWS

    def __init__(self, rows: Rows) -> None:
        table = rows.line_rows
        self.count = len(table)
        self.rows_of = np.tile(np.arange(self.count), 3)
        self._p, self._s, self._e = _columns([row[:3] for row in table], 3)
        self._places = np.concatenate([self._p, self._s, self._e])
        self._values = np.array([row[3] for row in table])

    def places_of(self, cubics: Integers) -> Integers:
        """Always the same."""
        del cubics
        return self._places

    def write(self, state: State) -> Written:
        """Exact."""
        start = state.places[self._s]
        along = state.places[self._e] - start
        to = state.places[self._p] - start
        size = np.maximum(np.abs(along), limits.NO_HANDLE_MM)
        normal = 1j * along / size
        away = (normal.conj() * to).real
        by_along = (-1j * to - away * along / size) / size
        gradients = np.concatenate([normal, -by_along - normal, by_along])
        return Written(away - self._values, gradients, NO_SLIDES)


class Apart:
    """|e - s| = value; the gradient is the unit vector."""

    slide_rows = slides_of = NO_ROWS

    def __init__(self, rows: Rows) -> None:
        table = rows.distance_rows
        self.count = len(table)
        self.rows_of = np.tile(np.arange(self.count), 2)
        self._s, self._e = _columns([row[:2] for row in table], 2)
        self._places = np.concatenate([self._s, self._e])
        self._values = np.array([row[2] for row in table])

    def places_of(self, cubics: Integers) -> Integers:
        """Always the same."""
        del cubics
        return self._places

    def write(self, state: State) -> Written:
        """Exact; two places that fall together are told apart along x."""
        step = state.places[self._e] - state.places[self._s]
        size = np.abs(step)
        unit = np.where(size > limits.NO_HANDLE_MM, step / np.maximum(size, 1e-300), 1.0)
        return Written(size - self._values, np.concatenate([-unit, unit]), NO_SLIDES)


class Mirrored:
    """(p - q) . u = 0 and cross(u, m - a) = 0, u along c = b - a, m the middle of p and q."""

    slide_rows = slides_of = NO_ROWS

    def __init__(self, rows: Rows) -> None:
        table = rows.mirror_rows
        self.count = 2 * len(table)
        across = 2 * np.arange(len(table))
        self.rows_of = np.concatenate([np.tile(across, 4), np.tile(across + 1, 4)])
        self._p, self._q, self._a, self._b = _columns(table, 4)
        self._places = np.tile(np.concatenate([self._p, self._q, self._a, self._b]), 2)

    def places_of(self, cubics: Integers) -> Integers:
        """Always the same."""
        del cubics
        return self._places

    def write(self, state: State) -> Written:
        """Exact."""
        places = state.places
        start = places[self._a]
        along = places[self._b] - start
        size = np.maximum(np.abs(along), limits.NO_HANDLE_MM)
        unit = along / size
        normal = 1j * unit
        pair = places[self._p] - places[self._q]
        middle = (places[self._p] + places[self._q]) / 2.0 - start
        square = (unit.conj() * pair).real
        off = (normal.conj() * middle).real
        turn = (pair - square * unit) / size
        lean = (-1j * middle - off * unit) / size
        residuals = np.column_stack([square, off]).ravel()
        half = normal / 2.0
        gradients = np.concatenate([unit, -unit, -turn, turn, half, half, -lean - normal, lean])
        return Written(residuals, gradients, NO_SLIDES)


def _columns(table: object, count: int) -> list[Integers]:
    return list(np.array(table, dtype=np.intp).reshape(-1, count).T)
