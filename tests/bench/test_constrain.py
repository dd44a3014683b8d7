"""The solver beside its peers on the same sketches in the same run. Asked for by name.

`shared` holds what all sides can say: points, distances, levels. The peers solve it as they can:
scipy's least squares with the dragged point as one more residual, and the PyPI package slvs with
the dragged point marked so.
"""

from __future__ import annotations

import statistics
import time

import numpy as np
import pytest
from msgspec.structs import replace
from scipy.optimize import least_squares

from studio.constrain import Drag, PointRef, Run, Sketch, solved, with_slides
from studio.constrain.kinds import (
    Distance,
    FromEnd,
    Mirror,
    OnLine,
    OnRun,
    RunLength,
    SameLength,
    Smooth,
    Square,
)
from studio.curves import Point
from tests.constrain.sketches import EDGES, edges, node, tower, yoke
from tests.constrain.wild_drags import ends_well

R = PointRef


def trousers(points):
    """Lines from rise to side of four nodes each, square, smooth, each as long as the one below;
    `points` in all, the edges' six among them.
    """
    nodes, runs, asked = list(edges()), list(EDGES), []
    count = (points - 6) // 4
    for k in range(count):
        first = len(nodes)
        up = 20.0 + 190.0 * k / count
        nodes += [
            node(-10.0, up, None, (50, 3)),
            node(80.0, up + 4.0, (-40, 0), (40, 0)),
            node(170.0, up + 9.0, (-40, 0), (40, 0)),
            node(255.0, up + 10.0, (-40, 0), None),
        ]
        name = f"line {k}"
        runs.append(Run(name, tuple(range(first, first + 4))))
        asked += [
            OnRun(name=f"{name} start", point=R(first), run="rise"),
            FromEnd(name=f"{name} end", point=R(first + 3), run="side", mm=up + 12.0),
            Square(name=f"{name} square", run=name, from_end=False, other="rise", left=False),
            Smooth(name=f"{name} smooth", node=first + 1),
            Smooth(name=f"{name} smooth too", node=first + 2),
        ]
        if k == 0:
            asked.append(RunLength(name="length", run=name, mm=285.0))
        else:
            asked.append(
                SameLength(name=f"{name} alike", run=name, other=f"line {k - 1}", ease=0.2)
            )
    sketch = Sketch(tuple(nodes), tuple(runs), tuple(asked))
    slides = tuple(0.0 for one in asked if one.slides)
    return with_slides(replace(sketch, slides=slides))


def frames(sketch, ref, steps):
    """Milliseconds of each frame of a drag."""
    drag = Drag(sketch, ref)
    start = sketch.point(ref)
    times, worst = [], 0.0
    for dx, dy in steps:
        begun = time.perf_counter()
        drag.to(Point(start.x + dx, start.y + dy))
        times.append((time.perf_counter() - begun) * 1e3)
        worst = max(worst, drag.worst_mm)
    ended = drag.release()
    return times, worst, drag, ended


CIRCLE = [(12.0 * np.cos(a) - 12.0, 12.0 * np.sin(a)) for a in np.linspace(0.0, 6.2, 60)]
AWAY = [(0.0, 6.0 * k) for k in range(60)]


@pytest.mark.parametrize(("points", "limit"), [(60, 2.0), (200, 4.0)])
def test_a_frame_of_a_drag(points, limit):
    sketch = solved(trousers(points)).sketch
    times, worst, _, _ = frames(sketch, R(7), CIRCLE)
    held, worst_held, drag, _ = frames(sketch, R(6), AWAY)
    print(
        f"\n{len(sketch.nodes)} points, {len(sketch.constraints)} constraints: "
        f"median {statistics.median(times):.2f} ms, p95 {np.percentile(times, 95):.2f}; "
        f"against a limit median {statistics.median(held):.2f}, worst {max(held):.2f}; "
        f"residual {max(worst, worst_held):.1e} mm"
    )
    assert drag.held_back
    assert max(worst, worst_held) <= 1e-4
    assert statistics.median(times) <= limit
    assert max(held) <= 12.0


def scipy_frames(sketch, ref, steps):
    """The tower by scipy: penalties on its rows, the mouse, a little of where it was."""
    base = np.array([(n.at.x, n.at.y) for n in sketch.nodes])
    held = 4
    pairs = np.array([(c.a.node, c.b.node) for c in sketch.constraints if isinstance(c, Mirror)])
    apart = [c for c in sketch.constraints if isinstance(c, Distance)]
    ends = np.array([(c.a.node, c.b.node) for c in apart])
    beside = [c for c in sketch.constraints if isinstance(c, OnLine)]
    corners = np.array([(c.point.node, c.start.node, c.end.node) for c in beside])
    values = np.array([c.mm for c in apart]), np.array([c.mm for c in beside])

    def residuals(z, mouse, before):
        p = np.vstack([base[:held], z.reshape(-1, 2)])
        post = p[ends[:, 1]] - p[ends[:, 0]]
        along, to = p[corners[:, 2]] - p[corners[:, 1]], p[corners[:, 0]] - p[corners[:, 1]]
        off = (along[:, 0] * to[:, 1] - along[:, 1] * to[:, 0]) / np.hypot(*along.T)
        return np.concatenate(
            [
                100.0 * (p[pairs[:, 1], 1] - p[pairs[:, 0], 1]),
                50.0 * (p[pairs[:, 1], 0] + p[pairs[:, 0], 0]),
                100.0 * (np.hypot(*post.T) - values[0]),
                100.0 * (off - values[1]),
                p[ref] - mouse,
                0.05 * (z - before),
            ]
        )

    z, start, times = base[held:].ravel(), sketch.nodes[ref].at, []
    for dx, dy in steps:
        mouse = np.array([start.x + dx, start.y + dy])
        begun = time.perf_counter()
        z = least_squares(residuals, z, method="lm", args=(mouse, z), xtol=1e-8, ftol=1e-8).x
        times.append((time.perf_counter() - begun) * 1e3)
    return times


def slvs_frames(sketch, ref, steps):
    """The tower by slvs, its dragged point marked so."""
    slvs = pytest.importorskip("slvs")
    slvs.clear_sketch()
    plane = slvs.add_base_2d(1)
    points = [slvs.add_point_2d(1 if n.held else 2, n.at.x, n.at.y, plane) for n in sketch.nodes]
    axis = slvs.add_line_2d(1, points[0], points[1], plane)
    for one in sketch.constraints:
        if isinstance(one, Mirror):
            slvs.symmetric(2, points[one.a.node], points[one.b.node], axis, plane)
        elif isinstance(one, Distance):
            slvs.distance(2, points[one.a.node], points[one.b.node], one.mm, plane)
        else:
            line = slvs.add_line_2d(2, points[one.start.node], points[one.end.node], plane)
            slvs.distance(2, points[one.point.node], line, one.mm, plane)
    slvs.dragged(2, points[ref], plane)
    start, times = sketch.nodes[ref].at, []
    for dx, dy in steps:
        slvs.set_param_value(points[ref]["param"][0], start.x + dx)
        slvs.set_param_value(points[ref]["param"][1], start.y + dy)
        begun = time.perf_counter()
        slvs.solve_sketch(2, False)
        times.append((time.perf_counter() - begun) * 1e3)
    return times


@pytest.mark.parametrize("storeys", [28, 98])
def test_a_frame_beside_the_peers(storeys):
    sketch = solved(tower(storeys)).sketch
    ref = 2 * storeys + 2
    steps = [(-6.0 + 6.0 * np.cos(a), 3.0 * np.sin(a) - 0.2) for a in np.linspace(0.0, 6.2, 30)]
    ours, _, _, _ = frames(sketch, R(ref), steps)
    theirs = {
        "scipy least_squares": scipy_frames(sketch, ref, steps[:8]),
        "slvs": slvs_frames(sketch, ref, steps),
    }
    mine = statistics.median(ours)
    for name, times in theirs.items():
        ratio = statistics.median(times) / mine
        print(
            f"\n{len(sketch.nodes)} points: ours {mine:.2f} ms, {name} "
            f"{statistics.median(times):.2f} ms, {ratio:.1f} times faster"
        )
        assert ratio >= 5.0


def test_a_thousand_wild_drags_end_well():
    """As many as were asked for; the suite has time for the first 400."""
    start = solved(yoke()).sketch
    for seed in range(1000):
        ends_well(start, seed)
