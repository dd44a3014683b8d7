"""What lifting a piece costs, and each move of it. Asked for by name."""

from __future__ import annotations

import statistics
import time
from itertools import combinations_with_replacement

import numpy as np

from studio.cloth.by_hand import Hand
from studio.cloth.no_fit import no_fit, shape_of
from studio.cloth.stance import stance_of
from studio.cloth.table import table_of
from studio.demo import demo_design
from studio.design.cloth import Cloth, Lay, Placement, Roll
from studio.pattern import evaluate

PATTERN = evaluate(demo_design())


def test_two_pieces_are_kept_apart_in_less_than_a_frame():
    shapes = [shape_of(stance_of(sewn).cut, 0.0, False) for sewn in PATTERN.pieces]
    times = []
    for one, other in combinations_with_replacement(shapes, 2):
        start = time.perf_counter()
        no_fit(one, other, 2.5)
        times.append((time.perf_counter() - start) * 1e3)
    times.sort()
    print(
        f"\na pair: median {statistics.median(times):.1f} ms, longest {times[-1]:.1f} ms, "
        f"{len(times)} pairs of the demo's pieces"
    )
    assert statistics.median(times) <= 16.0


def test_a_move_of_the_mouse_is_answered_in_a_fraction_of_a_frame():
    laid = tuple(
        Placement("bearer", copy, "roll", (200.0 + 300.0 * copy, 300.0)) for copy in range(2)
    )
    table = table_of(
        PATTERN.pieces,
        (Cloth("main", "#5f7d8c"),),
        (),
        (Roll("roll", "main", 1500.0, 3000.0),),
        Lay((*laid, Placement("front-leg", 0, "roll", (1000.0, 700.0)))),
    )
    held = Placement("back-leg", 1, "", (0.0, 0.0))
    hand = Hand(table, held)
    hand.over("roll", held, (700.0, 700.0))
    times = []
    for x, y in np.random.default_rng(1).uniform((0, 0), (1500, 3000), (400, 2)):
        start = time.perf_counter()
        hand.over("roll", held, (x, y))
        times.append((time.perf_counter() - start) * 1e3)
    times.sort()
    print(f"\na move: median {statistics.median(times):.2f} ms, longest {times[-1]:.2f} ms")
    assert times[int(len(times) * 0.95)] <= 4.0
