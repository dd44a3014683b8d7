"""The road's frame budget, as ratios to a peer in the same run. Asked for by name."""

from __future__ import annotations

import gc
import statistics
import time

import msgspec

from studio import pattern as road
from studio.demo import demo_design
from studio.design import OnEdge
from tests.bench.shapely_road import pieces_by_shapely

ROUNDS = 40


def timed(run, rounds=ROUNDS):
    """Median milliseconds of a run."""
    times = []
    for k in range(rounds):
        start = time.perf_counter()
        run(k)
        times.append((time.perf_counter() - start) * 1e3)
    return statistics.median(times)


def dragged(design, name, edge, corner, mm):
    line = design.line(name)
    path = msgspec.structs.replace(line.path, end=OnEdge(edge, corner, mm=mm))
    return design.with_line(msgspec.structs.replace(line, path=path))


def test_the_whole_pattern_and_a_dragged_line_against_polylines():
    design = demo_design()
    pattern = road.evaluate(design)
    gc.collect()
    gc.freeze()

    def whole(_):
        road.forget()
        road.evaluate(design)

    full = timed(whole)
    road.evaluate(design)
    drags = {
        "hand-pocket": timed(
            lambda k: road.evaluate(
                dragged(design, "hand-pocket", "front.side", "front.waist", 150.0 + 0.37 * k)
            )
        ),
        "knee-panel": timed(
            lambda k: road.evaluate(
                dragged(design, "knee-panel", "front.side", "front.hem", 230.0 + 0.37 * k)
            )
        ),
        "yoke": timed(
            lambda k: road.evaluate(
                dragged(design, "yoke", "back.side", "back.waist", 28.0 + 0.21 * k)
            )
        ),
    }
    peer = timed(lambda _: pieces_by_shapely(pattern), 15)
    gc.unfreeze()
    print(f"\nwhole pattern {full:.2f} ms, peer {peer:.2f} ms, {peer / full:.1f} times faster")
    for name, milliseconds in drags.items():
        print(f"dragged {name}: {milliseconds:.2f} ms")
    assert full <= 10.0
    assert statistics.median(drags.values()) <= 2.0
    assert peer / full >= 5.0
