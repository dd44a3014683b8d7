"""The curve kernel beside its peers on the same work in the same run. Asked for by name.

Each side starts from control points: objects are made, then asked. Nothing is remembered from
one run to the next.
"""

from __future__ import annotations

import statistics
import time

import numpy as np
import pytest
import shapely
import svgpathtools

from studio.curves import Chain, Cubic, Point, kernel, meetings, offset_left


def realistic(count=200, seed=11):
    """Control points of curves like a pattern's: about 240 mm long, gently bent."""
    draw = np.random.default_rng(seed)
    found = []
    for _ in range(count):
        chord = np.array([draw.uniform(60, 400), 0.0])
        bow = draw.normal(0.0, 0.12, 2) * chord[0]
        points = np.array(
            [
                [0.0, 0.0],
                [chord[0] * draw.uniform(0.25, 0.42), bow[0]],
                [chord[0] * draw.uniform(0.58, 0.75), bow[1]],
                chord,
            ]
        )
        angle = draw.uniform(0.0, 2.0 * np.pi)
        turn = np.array([[np.cos(angle), -np.sin(angle)], [np.sin(angle), np.cos(angle)]])
        found.append(points @ turn.T + draw.uniform(-300, 300, 2))
    return found


CURVES = realistic()
OURS = [[Point(float(x), float(y)) for x, y in points] for points in CURVES]


def microseconds(run, rounds=9):
    """Median microseconds a curve."""
    times = []
    for _ in range(rounds):
        start = time.perf_counter()
        run()
        times.append((time.perf_counter() - start) / len(CURVES) * 1e6)
    return statistics.median(times)


def told(what, ours, peer):
    print(f"\n{what}: {ours:.2f} us, peer {peer:.2f} us, {peer / ours:.1f} times faster")
    return peer / ours


def test_arc_length_against_bezier():
    bezier = pytest.importorskip("bezier")
    peers = [bezier.Curve(np.asfortranarray(points.T), degree=3) for points in CURVES]
    for points, peer in zip(OURS, peers, strict=True):
        assert abs(Cubic(*points).length - peer.length) < 1e-6

    twins = [Cubic(*points).twin for points in OURS]
    made = told(
        "arc length at 1e-9, objects made beforehand",
        microseconds(lambda: [kernel.length(twin) for twin in twins]),
        microseconds(lambda: [peer.length for peer in peers]),
    )
    told(
        "arc length, from control points",
        microseconds(lambda: [Cubic(*points).length for points in OURS]),
        microseconds(
            lambda: [bezier.Curve(np.asfortranarray(c.T), degree=3).length for c in CURVES]
        ),
    )
    assert made >= 10.0


def test_inverse_length_against_svgpathtools():
    few = OURS[:20]
    peers = [svgpathtools.CubicBezier(*(complex(p.x, p.y) for p in points)) for points in few]

    def ours():
        for points in few:
            cubic = Cubic(*points)
            cubic.parameter_at(cubic.length * 0.37)

    def peer():
        for curve in peers:
            curve.ilength(curve.length() * 0.37)

    assert told("inverse length", microseconds(ours), microseconds(peer, 3)) >= 5.0


def test_meetings_against_bezier():
    bezier = pytest.importorskip("bezier")
    pairs = [(OURS[k], OURS[k + 1]) for k in range(0, 120, 2)]
    crossing = []
    for one, two in pairs:
        middle = Cubic(*one).at(0.5)
        other = Cubic(*two)
        shift = middle - other.at(0.5)
        crossing.append((one, [point + shift for point in two]))
    twins = [
        tuple(
            bezier.Curve(np.asfortranarray([[p.x for p in c], [p.y for p in c]]), degree=3)
            for c in pair
        )
        for pair in crossing
    ]

    def ours():
        for one, two in crossing:
            meetings(Chain((Cubic(*one),)), Chain((Cubic(*two),)))

    def peer():
        for one, two in twins:
            one.intersect(two)

    told("meetings", microseconds(ours), microseconds(peer))
    for (one, two), pair in zip(crossing, twins, strict=True):
        found = meetings(Chain((Cubic(*one),)), Chain((Cubic(*two),)))
        assert len(found) == pair[0].intersect(pair[1]).shape[1]


def test_parallels_against_shapely():
    lines = [shapely.LineString(Cubic(*points).polyline(0.01)) for points in OURS]

    def ours():
        for points in OURS:
            offset_left(Cubic(*points), 12.0)

    def peer():
        for line in lines:
            line.offset_curve(12.0, quad_segs=32)

    assert told("parallels", microseconds(ours), microseconds(peer)) >= 2.0
