"""How long a draft takes: on 507 measured bodies, and beside a general least-squares solver.

Run by name: `pytest tests/bench/test_block.py -s`.
"""

from __future__ import annotations

import statistics
import time

import msgspec
import numpy as np
import numpy.typing as npt
import pytest
from scipy.optimize import least_squares

from studio.block import balance, draft
from studio.block.balance import UNKNOWNS, Wanted, balanced, measured
from studio.block.drafting import start_of
from studio.block.proportions import PanelNumbers
from studio.design.body import Fit
from tests.block.bodies import MIDDLE
from tests.outside import bdims

MOST_MS = 40.0
ROUNDS = 30


@pytest.mark.bench
def test_a_measured_body_drafts_in_forty_milliseconds() -> None:
    times = []
    for body in bdims.bodies():
        began = time.perf_counter()
        draft(body, Fit())
        times.append(1000.0 * (time.perf_counter() - began))
    print(
        f"\n{len(times)} bodies: median {statistics.median(times):.2f} ms, "
        f"95 of 100 under {np.percentile(times, 95):.2f} ms, longest {max(times):.2f} ms"
    )
    assert statistics.median(times) <= MOST_MS


@pytest.mark.bench
def test_the_solve_beside_scipy_least_squares_on_the_same_conditions() -> None:
    body = msgspec.structs.replace(MIDDLE, crotch_length=700.0, thigh_girth=620.0)
    fit = Fit()
    levels, front, back = start_of(body, fit)
    wanted = Wanted(0.0, 700.0, 620.0 + fit.thigh_ease)
    start = np.array([getattr((front, back)[u.panel], u.field) for u in UNKNOWNS])
    ready = np.array([u.ready for u in UNKNOWNS])

    def panels(values: npt.NDArray[np.float64]) -> tuple[PanelNumbers, PanelNumbers]:
        one, two = front, back
        for unknown, value in zip(UNKNOWNS, values.tolist(), strict=True):
            if unknown.panel == 0:
                one = msgspec.structs.replace(one, **{unknown.field: value})
            else:
                two = msgspec.structs.replace(two, **{unknown.field: value})
        return one, two

    def penalties(values: npt.NDArray[np.float64]) -> npt.NDArray[np.float64]:
        one, two = (measured(panel, levels) for panel in panels(values))
        gaps = [
            one.inseam - two.inseam,
            one.rise + two.rise - 700.0,
            one.thigh + two.thigh - 620.0 - fit.thigh_ease,
        ]
        return np.concatenate([1000.0 * np.array(gaps), (values - start) / ready])

    def ours() -> float:
        found = balanced(front, back, levels, balance.REFERENCE_HIP, wanted)
        return max(found.missing.values())

    def theirs() -> float:
        found = least_squares(penalties, start, x_scale=ready)
        return float(np.abs(found.fun[:3]).max() / 1000.0)

    seconds = {}
    for name, solve in (("ours", ours), ("least_squares", theirs)):
        missing = solve()
        began = time.perf_counter()
        for _ in range(ROUNDS):
            solve()
        seconds[name] = (time.perf_counter() - began) / ROUNDS
        print(f"\n{name}: {1000.0 * seconds[name]:.2f} ms, misses by {missing:.1e} mm", end="")
    print(f"\nratio ours / least_squares: {seconds['ours'] / seconds['least_squares']:.3f}")
    assert ours() < 1e-6
    assert seconds["ours"] < seconds["least_squares"]
