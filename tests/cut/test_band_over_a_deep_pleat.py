"""A shaped waistband over a deep dart near the centre front, as under a pleat, can be cut."""

from __future__ import annotations

import numpy as np
import pytest
import shapely
from msgspec.structs import replace

from studio.cut.parts import ShapedWaistband
from studio.design import Body, FoldPleat, OnEdge, OpenDart
from studio.design.plain import plain_design
from studio.pattern import evaluate, with_parts
from studio.sew.cut_line import cut_outline_points

# Invented measures.
STOUT = Body(name="Stout", waist_girth=1180.0, hip_girth=1260.0, inside_leg=800.0, body_rise=310.0)


@pytest.mark.parametrize("towards_rise", [50.0, 70.0])
def test_its_edges_bend_no_tighter_than_its_allowance_is_wide(towards_rise):
    deep = OpenDart(
        "front",
        "deep",
        OnEdge("front.waist", "front.rise", mm=towards_rise),
        OnEdge("front.hem", "front.side", share=0.5),
        40.0,
        300.0,
    )
    plain = replace(plain_design(STOUT), alterations=(deep, FoldPleat("front", "deep")))
    pattern = evaluate(with_parts(plain, ShapedWaistband(width=45.0, overlap=0.0)))
    assert not [one for one in pattern.findings if one.gravity == "grave"]
    band = pattern.piece("band-front")
    # shapely and numpy, independently of the program's own curvature and crossings.
    assert shapely.Polygon(cut_outline_points(band.cut_line, 0.001)).is_valid
    for name in ("front.waist", "band-front"):
        chain = band.piece.outline.edge(name).chain
        for cubic in chain.cubics:
            corners = np.array([(p.x, p.y) for p in (cubic.p0, cubic.p1, cubic.p2, cubic.p3)])
            assert _tightest(corners) > 2.0 * 12.0


def _tightest(corners: np.ndarray) -> float:
    """The least radius of a cubic, by the closed form of its curvature, mm."""
    t = np.linspace(0.0, 1.0, 401)[:, None]
    one, two, three = np.diff(corners, axis=0)
    first = 3.0 * ((1 - t) ** 2 * one + 2 * (1 - t) * t * two + t**2 * three)
    second = 6.0 * ((1 - t) * (two - one) + t * (three - two))
    cross = first[:, 0] * second[:, 1] - first[:, 1] * second[:, 0]
    speed = np.hypot(first[:, 0], first[:, 1])
    return float((speed**3 / np.maximum(np.abs(cross), 1e-12)).min())
