"""How long it takes to tell what is short, which joins help, and whether a lay still holds."""

import gc
from time import process_time

from msgspec.structs import replace

from studio.cloth.bed import bed_of
from studio.cloth.items import items_of
from studio.cloth.scrap_places import SewnDesign
from studio.cloth.scraps import joins_offered
from studio.cloth.shortfall import cleared, least_loss, nests_of
from studio.cloth.verdict import verdict
from studio.demo import demo_design
from studio.design.cloth import Flaw, SalvagedPanel
from studio.pattern import evaluate

RUNS = 9


def opened_legs():
    """Six legs of invented old garments, narrower at the hem, two of them with a hole."""
    hole = Flaw("hole", ((100, 300), (130, 300), (130, 340), (100, 340)))
    sizes = ((250, 330, 1000), (240, 320, 980), (260, 380, 900), (300, 400, 800), (240, 300, 1050))
    stash = []
    for k, (hem, top, high) in enumerate((*sizes, (280, 420, 1020))):
        middle = top / 2.0
        outline = (
            (middle - hem / 2.0, 0),
            (middle + hem / 2.0, 0),
            (top, high * 0.75),
            (top * 0.8, high),
            (0, high),
            (0, high * 0.75),
        )
        flaws = (hole,) if k > 3 else ()
        grain = ((middle, 10), (middle, 200))
        stash.append(SalvagedPanel(f"leg {k + 1}", "main", outline, grain, flaws))
    return stash


def timed(run):
    """Median of several runs, ms of the processor, after one to warm up: others use it too."""
    run()
    found = []
    for _ in range(RUNS):
        start = process_time()
        run()
        found.append(process_time() - start)
    return sorted(found)[RUNS // 2] * 1000.0


def test_the_shortfall_of_a_leg_over_six_panels():
    pattern, stash = evaluate(demo_design()), opened_legs()
    beds = [bed_of(one) for one in stash]
    items = items_of(pattern.pieces, pattern.design.cloths, (), stash)
    gc.freeze()
    for name in ("back-leg", "front-leg"):
        item = next(one for one in items if one.piece == name)
        sewn = pattern.piece(name)

        def whole(item=item, sewn=sewn):
            found = least_loss(item, sewn, beds, nests_of(item, sewn))
            assert found is not None
            assert found.missing

        took = timed(whole)
        print(f"\n{name} over {len(beds)} panels: {took:.0f} ms")
        # Asked for: 300 ms.
        assert took <= 300.0
    gc.unfreeze()


def test_all_joins_of_a_leg_on_empty_cloth():
    pattern, stash = evaluate(demo_design()), opened_legs()
    beds = [bed_of(one) for one in stash]
    items = items_of(pattern.pieces, pattern.design.cloths, (), stash)
    within = SewnDesign(pattern.design, pattern.panels, pattern.lines, pattern.pieces)
    legs = [one for one in items if one.piece == "front-leg"]
    assert joins_offered(within, legs, beds)
    took = timed(lambda: joins_offered(within, legs, beds))
    print(f"\nall joins of both front legs over {len(beds)} panels: {took:.0f} ms")
    # Asked for: 500 ms.
    assert took <= 500.0


def test_the_verdict_on_a_lay_while_a_line_is_dragged():
    design = demo_design()
    pattern = evaluate(design)
    outline = ((0, 0), (430, 0), (430, 1120), (0, 1120))
    stash = [SalvagedPanel(f"panel {k}", "main", outline, ((9, 9), (9, 300))) for k in range(6)]
    beds = [bed_of(one) for one in stash]
    names = ("front-leg", "back-leg", "yoke", "bearer")
    items = items_of([pattern.piece(name) for name in names], design.cloths, (), stash)
    placements = []
    for item in sorted(items, key=lambda one: names.index(one.piece)):
        free = cleared(beds, items, placements, 2.0)
        found = least_loss(item, pattern.piece(item.piece), free)
        if found.fits:
            placements.append(found.placement)
    assert len(placements) >= 6
    line = design.line("yoke")
    for moved in (82.0, 140.0):
        start = replace(line.path.start, mm=moved)
        dragged = evaluate(design.with_line(replace(line, path=replace(line.path, start=start))))
        pieces = [dragged.piece(name) for name in names]
        after = items_of(pieces, design.cloths, (), stash)

        def judge(pieces=pieces, after=after):
            assert verdict(pieces, after, beds, placements, 2.0, before=items) is not None

        took = timed(judge)
        print(f"\nverdict with the yoke at {moved:.0f}: {took:.0f} ms")
        # Asked for: half a second.
        assert took <= 500.0
