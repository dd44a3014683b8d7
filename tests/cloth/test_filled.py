"""No piece stays in the tray for which the program itself says that there is room."""

import numpy as np
import pytest
from msgspec.structs import replace
from shapely import MultiPolygon, box

from studio.cloth.bed import Bed, bed_of
from studio.cloth.board import Board
from studio.cloth.filled import filled
from studio.cloth.groups import groups_of
from studio.cloth.items import items_in
from studio.cloth.layout import layout_of
from studio.cloth.merit import merit_of
from studio.cloth.referee import faults
from studio.cloth.repair import Repair
from studio.cloth.room import at_best, free_beds
from studio.cloth.search import search
from studio.cloth.squeeze import squeezed
from studio.cloth.task import Found
from studio.demo import demo_design
from studio.design.cloth import Flaw, Lay, Placement, SalvagedPanel
from studio.pattern import evaluate
from tests.cloth.planted import planted
from tests.cloth.rectangles import item_of, panel, rectangle
from tests.cloth.shapes import item
from tests.cloth.shapes import rectangle as corners
from tests.window.stashes import LEG

PATTERN = evaluate(demo_design())

SOME = ("front-leg", "yoke", "back-pocket", "belt-loop")


def items_on(stash):
    """Ten copies of four pieces, large and small, and the beds of a stash."""
    design = replace(PATTERN.design, stash=stash, cutting=())
    items = [one for one in items_in(design, PATTERN.pieces) if one.piece in SOME]
    return items, [bed_of(stock) for stock in stash]


def square(x, y, side):
    return ((x, y), (x + side, y), (x + side, y + side), (x, y + side))


def old_legs(seed, count=3):
    """Opened legs of several sizes, each with two holes. Invented."""
    rng = np.random.default_rng(seed)
    made = []
    for index in range(count):
        size = rng.uniform(0.86, 1.0)
        holes = tuple(
            Flaw("hole", square(rng.uniform(120.0, 380.0), rng.uniform(100.0, 800.0), side))
            for side in rng.uniform(20.0, 50.0, 2)
        )
        outline = tuple((x * size, y * size) for x, y in LEG)
        grain = ((270.0 * size, 60.0), (280.0 * size, 900.0))
        made.append(SalvagedPanel(f"old-{index}", "main", outline, grain, holes))
    return tuple(made)


def with_room(lay, items, beds):
    """Copies that lie nowhere and of which the maker would be told that there is room."""
    laid = {(one.piece, one.copy) for one in lay.placements}
    free = free_beds(beds, items, lay.placements, lay.gap)
    left = [one for one in items if (one.piece, one.copy) not in laid]
    best = {(one.piece, one.copy): at_best(one, PATTERN.piece(one.piece), free) for one in left}
    return [key for key, there in best.items() if there.beside is not None and there.beside.fits]


@pytest.mark.parametrize("seed", [3, 4])
def test_a_lay_that_was_given_up_early_is_filled_with_all_that_has_room(seed):
    items, beds = items_on(old_legs(seed))
    (group,) = groups_of(items, beds, Lay())
    first = next(found for found in search(group.task, seed=seed) if found is not None)
    some = Lay(layout_of(group, first).placements[:2])
    assert with_room(some, items, beds)
    lay = filled(some, items, beds, PATTERN.pieces)
    assert lay.placements[:2] == some.placements
    assert with_room(lay, items, beds) == []
    assert faults(items, beds, lay.placements, lay.gap) == ()
    assert filled(some, items, beds, PATTERN.pieces) == lay
    assert filled(lay, items, beds, PATTERN.pieces) is lay


@pytest.mark.parametrize(("seed", "cell"), [(4, 3.0), (5, 6.0)])
def test_a_search_itself_leaves_no_small_piece_in_the_tray(seed, cell):
    """Without squeezing in, 3 and 8 small copies were left out after as many steps, dropped when
    those beside them did not come clear, and never tried again.
    """
    design = replace(PATTERN.design, stash=old_legs(seed, 4), cutting=())
    items = [one for one in items_in(design, PATTERN.pieces) if one.ways]
    beds = [bed_of(stock) for stock in design.stash]
    (group,) = groups_of(items, beds, Lay())
    layout = None
    for found in search(group.task, seed=seed, cell=cell, steps=6000):
        if found is not None:
            layout = layout_of(group, found)
    assert {piece for piece, _ in layout.left_out} <= {"front-leg", "back-leg"}
    assert faults(items, beds, layout.placements, 2.0) == ()


def test_room_less_than_a_cell_is_used():
    sewn = rectangle(200.0, 300.0)
    # 200 and 300 with twice 12 round them: 0.3 of play, a tenth of a cell.
    bed = panel(224.3, 324.3)
    lay = filled(Lay(), [item_of(sewn, bed)], [bed], [sewn])
    assert [one.piece for one in lay.placements] == ["r"]
    assert faults([item_of(sewn, bed)], [bed], lay.placements, lay.gap) == ()


def test_no_piece_is_laid_over_a_hole_or_too_near_to_another():
    sewn = rectangle(200.0, 300.0)
    ground = box(0.0, 0.0, 240.0, 340.0)
    holed = Bed("p", "main", 90.0, ground, MultiPolygon([ground.difference(box(90, 90, 120, 120))]))
    assert filled(Lay(), [item_of(sewn, holed)], [holed], [sewn]).placements == ()
    bed = panel(449.0, 330.0)
    items = [replace(item_of(sewn, bed), copy=copy) for copy in range(2)]
    fixed = Placement("r", 0, bed.name, (112.0, 165.0), locked=True)
    # 449 are twice 224 and 1 more: enough for a gap of 1, not for one of 2.
    assert len(filled(Lay((fixed,), 2.0), items, [bed], [sewn]).placements) == 1
    two = filled(Lay((fixed,), 0.9), items, [bed], [sewn])
    assert two.placements[0] == fixed
    assert len(two.placements) == 2
    assert faults(items, [bed], two.placements, 0.9) == ()


@pytest.mark.parametrize("cell", [3.0, 6.0])
def test_what_was_taken_out_of_a_clear_set_is_squeezed_in_again(cell):
    task = planted(1, pieces=11, panels=5, used=(0.70, 0.76))
    (group,) = groups_of(task.items, task.beds, task.lay)
    board = Board(group.task, cell)
    rng = np.random.default_rng(0)
    repair = Repair(board, rng)
    wanted = list(range(len(task.items)))
    spots: dict = {}
    # The largest and a small one lie; the others are squeezed in as far as they have room.
    found = dict(_run(squeezed(board, repair, rng, spots, wanted)))
    assert len(found) >= 8
    laid = tuple(board.laid(one, spot) for one, spot in found.items())
    layout = layout_of(group, Found(laid, (), merit_of(board, found)))
    assert faults(task.items, task.beds, layout.placements, task.lay.gap) == ()
    # What lies there is of the set again, whichever is taken out.
    for one in list(found)[:3]:
        rest = {other: spot for other, spot in found.items() if other != one}
        assert set(_run(squeezed(board, repair, rng, rest, list(found)))) == set(found)


def test_a_piece_is_not_squeezed_in_where_there_is_no_room():
    ground = box(0.0, 0.0, 200.0, 200.0)
    bed = Bed("p", "main", 90.0, ground, MultiPolygon([ground]))
    items = [item(f"half {n}", corners(190.0, 110.0), ("p",)) for n in range(2)]
    (group,) = groups_of(items, [bed], Lay())
    board = Board(group.task, 3.0)
    rng = np.random.default_rng(0)
    repair = Repair(board, rng)
    found = _run(squeezed(board, repair, rng, {}, [0, 1]))
    assert len(found) == 1
    # A look at the one piece that lies clear is one step of a search.
    before = board.tally.count
    assert repair.on(board, 0, found) == found
    assert board.tally.count == before + 1


def _run(steps):
    """What a generator of ticks returns."""
    while True:
        try:
            next(steps)
        except StopIteration as ended:
            return ended.value
