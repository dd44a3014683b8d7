"""The seams are balanced with the least change from the handbook."""

from __future__ import annotations

import msgspec
import numpy as np
import numpy.typing as npt
import pytest
from scipy.optimize import minimize

from studio.block.balance import REFERENCE_HIP, UNKNOWNS, Wanted, balanced, crotch_range, measured
from studio.block.drafting import start_of
from studio.block.proportions import Levels, PanelNumbers
from studio.design.body import Fit
from tests.block.bodies import MIDDLE

Panels = tuple[PanelNumbers, PanelNumbers]
READY = np.array([unknown.ready for unknown in UNKNOWNS])


@pytest.fixture
def start() -> tuple[Levels, PanelNumbers, PanelNumbers]:
    assert MIDDLE.hip_girth == REFERENCE_HIP
    return start_of(MIDDLE, Fit())


def values_of(panels: Panels) -> npt.NDArray[np.float64]:
    return np.array([getattr(panels[unknown.panel], unknown.field) for unknown in UNKNOWNS])


def with_values(panels: Panels, values: npt.NDArray[np.float64]) -> Panels:
    changed = list(panels)
    for unknown, value in zip(UNKNOWNS, values.tolist(), strict=True):
        changed[unknown.panel] = msgspec.structs.replace(
            changed[unknown.panel], **{unknown.field: value}
        )
    return changed[0], changed[1]


def cost(values: npt.NDArray[np.float64], anchor: npt.NDArray[np.float64]) -> float:
    return float((((values - anchor) / READY) ** 2).sum())


@pytest.mark.parametrize(("crotch", "thigh"), [(650.0, 620.0), (705.0, 690.0), (730.0, 720.0)])
def test_an_independent_optimiser_finds_no_smaller_change(
    start: tuple[Levels, PanelNumbers, PanelNumbers], crotch: float, thigh: float
) -> None:
    levels, *panels = start
    base = (panels[0], panels[1])
    anchor = values_of(base)
    wanted = Wanted(2.0, crotch, thigh)
    found = balanced(*base, levels, MIDDLE.hip_girth, wanted)
    assert max(found.missing.values()) < 1e-6

    def gaps(steps: npt.NDArray[np.float64]) -> list[float]:
        front, back = (measured(p, levels) for p in with_values(base, anchor + steps * READY))
        return [front.inseam - back.inseam - 2.0, front.rise + back.rise - crotch]

    def spare(steps: npt.NDArray[np.float64]) -> float:
        front, back = (measured(p, levels) for p in with_values(base, anchor + steps * READY))
        return front.thigh + back.thigh - thigh

    # SLSQP of scipy: D. Kraft, A software package for sequential quadratic programming, 1988.
    other = minimize(
        lambda steps: float(steps @ steps),
        np.zeros(len(UNKNOWNS)),
        method="SLSQP",
        bounds=[(u.least / u.ready, u.most / u.ready) for u in UNKNOWNS],
        constraints=[{"type": "eq", "fun": gaps}, {"type": "ineq", "fun": spare}],
        options={"ftol": 1e-12, "maxiter": 300},
    )
    assert other.success
    ours = cost(values_of((found.front, found.back)), anchor)
    assert ours == pytest.approx(float(other.fun), rel=0.02)


def test_nothing_moves_but_what_evens_the_inseams_when_no_more_is_known(
    start: tuple[Levels, PanelNumbers, PanelNumbers],
) -> None:
    levels, front, back = start
    found = balanced(front, back, levels, MIDDLE.hip_girth, Wanted(0.0))
    moved = np.abs(values_of((found.front, found.back)) - values_of((front, back)))
    assert moved.max() < 5.0


def test_what_is_out_of_reach_is_reported_and_stays_in_range(
    start: tuple[Levels, PanelNumbers, PanelNumbers],
) -> None:
    levels, front, back = start
    found = balanced(front, back, levels, MIDDLE.hip_girth, Wanted(0.0, 1200.0))
    least, most = crotch_range(front, back, levels, MIDDLE.hip_girth)
    assert least < measured(front, levels).rise + measured(back, levels).rise < most < 1200.0
    assert found.missing["crotch"] > 100.0
    moved = values_of((found.front, found.back)) - values_of((front, back))
    for unknown, step in zip(UNKNOWNS, moved.tolist(), strict=True):
        assert unknown.least - 1e-9 <= step <= unknown.most + 1e-9
