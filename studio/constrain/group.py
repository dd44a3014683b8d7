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
    """Where everything is: all places, and for every slide its cubic and its parameter there."""

    places: Complexes
    slides: Floats
    cubics: Integers
    parameters: Floats


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
