"""Equation groups along curves: on them, their lengths, their directions."""

from __future__ import annotations

import numpy as np

from studio.constrain import limits
from studio.constrain.group import Complexes, Floats, Integers, State, Written
from studio.constrain.rows import Rows, Tangent
from studio.curves import Cubic, Point

_NODES, _WEIGHTS = np.polynomial.legendre.leggauss(16)
_GAUSS = (_NODES + 1.0) / 2.0
_GAUSS_WEIGHTS = _WEIGHTS / 2.0
_BASIS = np.stack([(1.0 - _GAUSS) ** 2, 2.0 * _GAUSS * (1.0 - _GAUSS), _GAUSS * _GAUSS])


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

    def places_of(self, cubics: Integers) -> Integers:
        """The point and the controls of the cubic it is on, for x and for y."""
        controls = self._controls[cubics[self._slides]].ravel()
        return np.tile(np.concatenate([self._p, controls]), 2)

    def write(self, state: State) -> Written:
        """Exact."""
        t = state.parameters[self._slides]
        controls = state.places[self._controls[state.cubics[self._slides]]]
        weights = _bernstein(t)
        off = (weights * controls).sum(axis=1) - state.places[self._p]
        speed = _speed(controls, t)
        ones = np.full(len(t), -1.0 + 0.0j)
        flat = weights.ravel().astype(complex)
        return Written(
            np.column_stack([off.real, off.imag]).ravel(),
            np.concatenate([ones, flat, 1j * ones, 1j * flat]),
            np.concatenate([speed.real, speed.imag]),
        )


class Lengths:
    """Sum of factor * arc length = value; ds/dP_i is the integral of (B'/|B'|) b_i', ds/dt is
    |B'(t)|. Every cubic of a run is summed up to where the slide leaves it.
    """

    def __init__(self, rows: Rows) -> None:
        self.count = len(rows.length_values)
        self._values = np.array(rows.length_values)
        self._missed = np.zeros(self.count)
        items = [
            (k, term.factor, rows.first_cubic[term.run] + cubic, cubic, term.slide)
            for k, row in enumerate(rows.length_terms)
            for term in row
            for cubic in range(rows.cubic_count[term.run])
        ]
        self._rows = np.array([item[0] for item in items], dtype=np.intp)
        self._factors = np.array([item[1] for item in items])
        cubics = np.array([item[2] for item in items], dtype=np.intp)
        self._index = np.array([item[3] for item in items], dtype=float)
        self._slide = np.array([-1 if i[4] is None else i[4] for i in items], dtype=np.intp)
        self._partial = np.flatnonzero(self._slide >= 0)
        self._whole = np.flatnonzero(self._slide < 0)
        self._last = np.array(
            [
                item[3] == rows.cubic_count[rows.slide_run[item[4]]] - 1
                for item in items
                if item[4] is not None
            ],
            dtype=bool,
        )
        self._controls = np.array(rows.controls, dtype=np.intp).reshape(-1, 4)[cubics]
        self.rows_of = np.repeat(self._rows, 4)
        self._places = self._controls.ravel()
        self.slide_rows = self._rows[self._partial]
        self.slides_of = self._slide[self._partial]

    def places_of(self, cubics: Integers) -> Integers:
        """Always the same: a cubic beyond the slide has gradient zero."""
        del cubics
        return self._places

    def write(self, state: State) -> Written:
        """By 16 Gauss points a cubic, put right by the last `correct`."""
        controls = state.places[self._controls]
        steps = 3.0 * (controls[:, 1:] - controls[:, :-1])
        lengths = np.empty(len(steps))
        by_step = np.empty((len(steps), 3), dtype=complex)
        lengths[self._whole], by_step[self._whole] = _summed(steps[self._whole], _BASIS)
        gone = state.slides[self.slides_of] - self._index[self._partial]
        until = np.clip(gone, 0.0, 1.0)
        if len(until):
            u = until[:, None] * _GAUSS
            v = 1.0 - u
            part, part_by_step = _summed(
                steps[self._partial], np.stack([v * v, 2.0 * u * v, u * u])
            )
            lengths[self._partial] = until * part
            by_step[self._partial] = until[:, None] * part_by_step
        gradients = np.zeros((len(steps), 4), dtype=complex)
        gradients[:, :3] -= 3.0 * by_step
        gradients[:, 1:] += 3.0 * by_step
        sums = np.bincount(self._rows, self._factors * lengths, self.count)
        return Written(
            sums + self._missed - self._values,
            (self._factors[:, None] * gradients).ravel(),
            self._by_slide(controls, until, gone),
        )

    def correct(self, state: State) -> None:
        """Learn by how much the quadrature misses the lengths at this state, which near a cusp
        may be 1e-4 mm: from here on the rows are right there to 1e-9.
        """
        self._missed = np.zeros(self.count)
        close = self.write(state).residuals + self._values
        exact = np.zeros(self.count)
        until = np.ones(len(self._rows))
        gone = state.slides[self.slides_of] - self._index[self._partial]
        until[self._partial] = np.clip(gone, 0.0, 1.0)
        for row, factor, controls, end in zip(
            self._rows, self._factors, state.places[self._controls], until, strict=True
        ):
            p0, p1, p2, p3 = (Point(float(p.real), float(p.imag)) for p in controls)
            cubic = Cubic(p0, p1, p2, p3)
            exact[row] += factor * cubic.length_to(float(end))
        self._missed = exact - close

    def _by_slide(self, controls: Complexes, until: Floats, gone: Floats) -> Floats:
        """Speed where the slide is, for the one cubic it is on."""
        part = self._partial
        here = (gone >= 0.0) & ((gone < 1.0) | (self._last & (gone <= 1.0)))
        speed = np.abs(_speed(controls[part], until))
        return np.where(here, self._factors[part] * speed, 0.0)


class Angles:
    """100 mm * wrap(sum of factor * direction - value); d atan2(v) has the gradient iv / |v|^2."""

    def __init__(self, rows: Rows) -> None:
        self.count = len(rows.angle_values)
        self._values = np.array(rows.angle_values)
        straight = [
            (k, term)
            for k, row in enumerate(rows.angle_terms)
            for term in row
            if not isinstance(term, Tangent)
        ]
        curved = [
            (k, term)
            for k, row in enumerate(rows.angle_terms)
            for term in row
            if isinstance(term, Tangent)
        ]
        self._rows = np.array([k for k, _ in straight], dtype=np.intp)
        self._factors = np.array([term.factor for _, term in straight])
        self._s = np.array([term.start for _, term in straight], dtype=np.intp)
        self._e = np.array([term.end for _, term in straight], dtype=np.intp)
        self.slide_rows = np.array([k for k, _ in curved], dtype=np.intp)
        self._curved_factors = np.array([term.factor for _, term in curved])
        self.slides_of = np.array([term.slide for _, term in curved], dtype=np.intp)
        self._controls = np.array(rows.controls, dtype=np.intp).reshape(-1, 4)
        self.rows_of = np.concatenate([self._rows, self._rows, np.repeat(self.slide_rows, 4)])

    def places_of(self, cubics: Integers) -> Integers:
        """Ends of the straight terms, controls of the curved ones."""
        curved = self._controls[cubics[self.slides_of]].ravel()
        return np.concatenate([self._s, self._e, curved])

    def write(self, state: State) -> Written:
        """Exact."""
        step = state.places[self._e] - state.places[self._s]
        turn = limits.ANGLE_MM * self._factors * _turning(step)
        sums = np.bincount(self._rows, self._factors * np.angle(step), self.count)
        t = state.parameters[self.slides_of]
        controls = state.places[self._controls[state.cubics[self.slides_of]]]
        speed = _speed(controls, t)
        sums += np.bincount(self.slide_rows, self._curved_factors * np.angle(speed), self.count)
        bend = limits.ANGLE_MM * self._curved_factors * _turning(speed)
        gradients = np.concatenate([-turn, turn, (bend[:, None] * _speed_weights(t)).ravel()])
        by_slide = (bend.conj() * _acceleration(controls, t)).real
        over = sums - self._values
        wrapped = over - 2.0 * np.pi * np.round(over / (2.0 * np.pi))
        return Written(limits.ANGLE_MM * wrapped, gradients, by_slide)


def _summed(steps: Complexes, basis: Floats) -> tuple[Floats, Complexes]:
    """Of cubics by the steps between their controls (times 3): the mean speed, and the mean of
    the unit tangent times each basis function.
    """
    speed = steps[:, :1] * basis[0] + steps[:, 1:2] * basis[1] + steps[:, 2:] * basis[2]
    size = np.maximum(np.abs(speed), 1e-12)
    unit = speed / size
    by_step = np.empty((len(steps), 3), dtype=complex)
    for index, row in enumerate(_GAUSS_WEIGHTS * basis):
        by_step[:, index] = np.add.reduce(unit * row, axis=1)
    return np.add.reduce(size * _GAUSS_WEIGHTS, axis=1), by_step


def _bernstein(t: Floats) -> Floats:
    u = 1.0 - t
    return np.column_stack([u * u * u, 3.0 * u * u * t, 3.0 * u * t * t, t * t * t])


def _speed_weights(t: Floats) -> Floats:
    """Derivatives of the Bernstein weights."""
    u = 1.0 - t
    one, two, three = 3.0 * u * u, 6.0 * u * t, 3.0 * t * t
    return np.column_stack([-one, one - two, two - three, three])


def _speed(controls: Complexes, t: Floats) -> Complexes:
    speed: Complexes = (_speed_weights(t) * controls).sum(axis=1)
    return speed


def _acceleration(controls: Complexes, t: Floats) -> Complexes:
    u = 1.0 - t
    second = np.column_stack([6.0 * u, 6.0 * t - 12.0 * u, 6.0 * u - 12.0 * t, 6.0 * t])
    bent: Complexes = (second * controls).sum(axis=1)
    return bent


def _turning(step: Complexes) -> Complexes:
    size = np.maximum(np.abs(step), limits.NO_HANDLE_MM)
    turning: Complexes = 1j * step / (size * size)
    return turning
