"""Rolls laid against sets of known or published optimum; see `nesting/README.md`.

The published densities are from memory of the literature on these sets.
"""

import json
import os
from pathlib import Path

import pytest
from shapely import Polygon

from studio.cloth.bed import bed_of
from studio.cloth.groups import groups_of
from studio.cloth.layout import layout_of
from studio.cloth.referee import faults
from studio.cloth.rolls import TooLong, roll_search, strip_of
from studio.design.cloth import Lay, Roll
from tests.cloth.shapes import item

OURS = Path(__file__).parent / "nesting" / "bands.json"
BROUGHT = os.environ.get("YOKEWRIGHT_NESTING_SETS", "")
PUBLISHED = {"trousers": 91.0, "shirts": 89.0, "swim": 75.9, "marques": 90.6, "dagli": 89.5}
"""Best density known to us, per cent."""

WIDTH = 1500.0
"""Sets in other units are scaled to a roll so wide, mm."""

SECONDS = 10.0
SHORT_OF_BEST = 4.0
"""Per cent that a run of `SECONDS` may lie below the best, on a busy machine too."""


def read(path, width=None):
    """Items, and a roll on which all find room, of a set in a file."""
    told = json.loads(path.read_text(encoding="utf-8"))
    scale = width / told["strip_height"] if width else 1.0
    items, area, longest = [], 0.0, 0.0
    for each in told["items"]:
        points = [(scale * y, -scale * x) for x, y in each["shape"]["data"]]
        if points[0] == points[-1]:
            points.pop()
        shape = Polygon(points)
        if not shape.exterior.is_ccw:
            points.reverse()
        turns = tuple(each["allowed_orientations"] or (0.0,))
        items += [
            item(f"piece {each['id']}", tuple(points), ("roll",), copy=copy, turns=turns)
            for copy in range(each["demand"])
        ]
        area += shape.area * each["demand"]
        longest = max(longest, shape.length)
    across = scale * told["strip_height"]
    length = 3.0 * area / across + longest
    return items, bed_of(Roll("roll", "main", across, length, selvedge=0.0)), area


def shortest(items, bed, gap, seconds):
    """The shortest layout found in so many seconds, verified."""
    (group,) = groups_of(items, [bed], Lay(gap=gap))
    best = None
    for found in roll_search(group.task, strip_of(group.task), seconds=seconds):
        assert not isinstance(found, TooLong)
        best = found or best
    layout = layout_of(group, best)
    assert layout.left_out == ()
    assert faults(items, [bed], layout.placements, gap) == ()
    return layout.lengths["roll"]


# Known by construction: the band they were cut from is 800 long.
def test_our_own_set_is_laid_near_its_known_optimum():
    items, bed, area = read(OURS)
    # The area of every piece with half the gap round it, less its corners, must find room.
    least = sum(Polygon(each.ways[0].stance.cut).buffer(1.0).area for each in items) / 602.0 - 2.0
    assert 770.0 < least < 800.0
    assert area / (600.0 * 800.0) > 0.96
    length = shortest(items, bed, 2.0, 3.0)
    assert least < length < 800.0 * 1.15


@pytest.mark.skipif(not BROUGHT, reason="Sets from the literature are brought by hand.")
@pytest.mark.parametrize("name", sorted(PUBLISHED))
def test_sets_from_the_literature_come_near_the_best_published(name):
    path = Path(BROUGHT) / f"{name}.json"
    if not path.exists():
        pytest.skip(f"{path} is not there.")
    items, bed, area = read(path, WIDTH)
    density = 100.0 * area / (WIDTH * shortest(items, bed, 0.0, SECONDS))
    print(f"{name}: {density:.1f} per cent, best published {PUBLISHED[name]:.1f}")
    assert PUBLISHED[name] - SHORT_OF_BEST < density < 100.0
