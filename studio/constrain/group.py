"""What an equation group is: many rows of one form at once, residual and gradient side by side.

Everything is a complex number: a place x + iy, and a gradient g with dr = Re(conj(g) dP). A group
writes its gradients by place; `structure` spreads them over the columns the places are made of.
"""

from __future__ import annotations

from typing import Protocol, TypeAlias

import msgspec
import numpy as np
from numpy.typing import NDArray

Floats: TypeAlias = NDArray[np.float64]
Complexes: TypeAlias = NDArray[np.complex128]
Integers: TypeAlias = NDArray[np.intp]


class State(msgspec.Struct):
    """Where everything is: all places; and of every slide its cubic, the parameter and the controls
    there, and as `on_cubics` the weights of the controls and what they come to.
    """

    places: Complexes
    slides: Floats
    cubics: Integers
    parameters: Floats
    controls: Complexes
    weights: Floats
    on_runs: Complexes


class Written(msgspec.Struct):
    """Residuals (mm) of a group, gradients by place entry and derivatives by slide entry."""

    residuals: Floats
    gradients: Complexes
    by_slide: Floats


class Group(Protocol):
    """Rows of one form. `rows_of` and `slides_of` say which row each entry belongs to."""

    count: int
    rows_of: Integers
    slide_rows: Integers
    slides_of: Integers

    def places_of(self, cubics: Integers) -> Integers:
        """The place of each entry, with the slides on these cubics."""

    def write(self, state: State) -> Written:
        """Residuals and gradients."""


NO_ROWS = np.zeros(0, dtype=np.intp)
NO_SLIDES = np.zeros(0)

_BY_POWERS = (
    np.array(
        [
            # 1, t, t^2, t^3 in the weights of the four controls: of the point, of B', of B''.
            [[1, -3, 3, -1], [0, 3, -6, 3], [0, 0, 3, -3], [0, 0, 0, 1]],
            [[-3, 6, -3, 0], [3, -12, 9, 0], [0, 6, -9, 0], [0, 0, 3, 0]],
            [[6, -6, 0, 0], [-12, 18, 0, 0], [6, -18, 0, 0], [0, 6, 0, 0]],
        ],
        dtype=float,
    )
    .reshape(12, 4)
    .T
)


def on_cubics(controls: Complexes, t: Floats) -> tuple[Floats, Complexes]:
    """Weights of the four controls in B(t), B'(t) and B''(t) of each cubic, and these three."""
    powers = np.empty((len(t), 4))
    powers[:, 0] = 1.0
    powers[:, 1] = t
    np.multiply(t, t, out=powers[:, 2])
    np.multiply(powers[:, 2], t, out=powers[:, 3])
    weights = (powers @ _BY_POWERS).reshape(-1, 3, 4)
    return weights, np.matmul(weights, controls[:, :, None])[:, :, 0]
