"""The order of sewing: why one seam waits for another, and what the maker may choose."""

import itertools
import re

from msgspec.structs import replace

from studio.cut.parts import (
    BeltLoops,
    Fly,
    HandPocket,
    KneePanel,
    PatchPocket,
    ShapedWaistband,
    ToolLoop,
    Waistband,
)
from studio.demo import ORCHARD_BODY, demo_design
from studio.design.joins import Join, JoinSide
from studio.design.plain import plain_design, side
from studio.design.topstitch import Topstitch
from studio.exchange.work_sheet import work_sheet_of
from studio.pattern import evaluate, with_parts
from studio.sew import Parts, sewing_order
from studio.sew.order import reasons_for

PATTERN = evaluate(demo_design())


def holds(order):
    place = {name: k for k, name in enumerate(order.steps)}
    return all(place[one.first] < place[one.then] for one in order.reasons)


def comes(first, then, order=PATTERN.order):
    return order.steps.index(first) < order.steps.index(then)


def test_every_step_stands_once_and_every_reason_holds():
    design = PATTERN.design
    worked = [finish for finish in design.finishes if finish.how not in ("caught", "raw")]
    darted = [sewn for sewn in PATTERN.pieces if sewn.piece.darts]
    assert len(darted) == 2
    stitched = {one.piece for one in design.topstitching}
    assert len(stitched) == 2
    wanted = len(design.joins) + len(worked) + len(darted) + len(stitched)
    assert len(PATTERN.order.steps) == wanted
    assert len(set(PATTERN.order.steps)) == len(PATTERN.order.steps)
    assert holds(PATTERN.order)


def test_what_a_maker_knows_of_trousers():
    """Common practice, no source."""
    assert comes("yoke seam", "side seam")
    assert comes("yoke seam", "crotch seam")
    assert comes("inseam", "crotch seam")
    assert comes("knee panel", "side seam")
    assert comes("back pocket", "inseam")
    assert comes("pocket mouth", "side seam")
    assert comes("side seam", "waist")
    assert comes("crotch seam", "waist")
    assert comes("inseam", "front-leg:front.hem, hem")
    assert comes("back-pocket:back-pocket.top, turned", "back pocket")
    assert comes("waist", "waistband:waistband.top, turned")
    assert comes("fly edge", "waist")
    assert comes("twine-loop tube", "side seam")
    assert comes("darts of front-leg", "knee panel")
    assert comes("darts of front-leg", "inseam")
    assert comes("darts of knee-panel", "knee panel")


def test_a_wish_to_sew_darts_last_is_told_against():
    order = evaluate(replace(PATTERN.design, sewing=("inseam", "darts of front-leg"))).order
    assert comes("darts of front-leg", "inseam", order)
    (against,) = order.against
    assert against.then == "inseam"
    assert "lies flat" in against.why


def test_a_zip_waits_for_its_facing_its_shield_and_the_seam_below():
    """Common practice, no source."""
    why = {one.first: one.why for one in PATTERN.order.reasons if one.then == "fly shield"}
    for first in ("fly edge", "fly-facing:fly, bound", "fly-shield:fly-shield.end, turned"):
        assert comes(first, "fly shield")
        assert first in why
    assert "before the zip" in why["fly-facing:fly, bound"]
    assert "ends where crotch seam begins" in why["crotch seam"]
    assert comes("fly shield", "waist")
    assert comes("fly shield", "waist, other leg")


def test_a_wish_to_bind_the_facing_after_the_zip_is_told_against():
    wished = ("fly shield", "fly-facing:fly, bound")
    order = evaluate(replace(PATTERN.design, sewing=wished)).order
    assert comes("fly-facing:fly, bound", "fly shield", order)
    assert [one.first for one in order.against] == ["fly-facing:fly, bound"]


def test_reasons_are_told_in_plain_words():
    """No name that only the file knows: neither piece:edge nor panel.edge, nor an edge of a strip
    or a band as it is kept.
    """
    plain = plain_design(ORCHARD_BODY)
    designs = [
        demo_design(),
        with_parts(plain, HandPocket(), Fly(), ShapedWaistband()),
        with_parts(plain, PatchPocket(), KneePanel(), ToolLoop(), Waistband(), BeltLoops()),
    ]
    kept = re.compile(r"\w:\w|\w\.\w|\bhalf-\d|\bother end of\b")
    for design in designs:
        reasons = evaluate(design).order.reasons
        assert len(reasons) > 10
        assert [one.why for one in reasons if kept.search(one.why)] == []


def test_the_last_step_waited_for_is_told_first():
    told = reasons_for(PATTERN.order, "waist")
    places = [PATTERN.order.steps.index(one.first) for one in told]
    assert places == sorted(places, reverse=True)
    assert told[0].first == "fly shield"


def test_a_seam_that_stops_short_of_a_corner_does_not_end_in_what_is_beyond():
    """The crotch seam begins below the fly: only the fly's own seams end in the front's waist."""
    why = {(one.first, one.then): one.why for one in PATTERN.order.reasons}
    assert why["fly edge", "waist"].startswith("fly edge ends in the waist of front-leg")
    assert "waist of front-leg" not in why["crotch seam", "waist"]


def test_each_reason_says_why():
    why = {(one.first, one.then): one.why for one in PATTERN.order.reasons}
    assert "runs across" in why["yoke seam", "crotch seam"]
    assert "flat" in why["knee panel", "side seam"]
    assert "closes that end" in why["pocket mouth", "side seam"]


def test_rows_through_both_layers_wait_for_the_patch_and_are_waited_for_while_it_lies_flat():
    """Common practice, no source."""
    steps = PATTERN.order.steps
    assert steps.index("rows through knee-panel") == steps.index("knee panel") + 1
    pairs = {(one.first, one.then) for one in PATTERN.order.reasons}
    assert ("knee panel", "rows through knee-panel") in pairs
    for seam in ("side seam", "inseam", "crotch seam"):
        assert ("rows through knee-panel", seam) in pairs
    assert ("rows through knee-panel", "yoke seam") not in pairs


def test_rows_through_a_patch_are_moved_as_far_as_the_leg_lies_flat():
    """Later than the pocket of the back: that is followed. After the side seam: told against, and
    they stay before it. Before the patch is laid on: told too.
    """
    design = PATTERN.design
    steps = [step for step in PATTERN.order.steps if step != "rows through knee-panel"]
    steps.insert(steps.index("back pocket") + 1, "rows through knee-panel")
    order = evaluate(replace(design, sewing=tuple(steps))).order
    assert order.against == ()
    assert order.steps == tuple(steps)
    assert comes("rows through knee-panel", "side seam", order)
    for wished, first in (
        (("side seam", "rows through knee-panel"), "rows through knee-panel"),
        (("rows through knee-panel", "knee panel"), "knee panel"),
    ):
        order = evaluate(replace(design, sewing=wished)).order
        (against,) = order.against
        assert against.first == first
        assert holds(order)


def test_rows_on_a_piece_alone_come_before_its_seams_and_after_the_edge_they_are_measured_from():
    assert comes("rows on back-pocket", "back pocket")
    assert comes("back-pocket:back-pocket.top, turned", "rows on back-pocket")
    wished = ("back pocket", "rows on back-pocket")
    order = evaluate(replace(PATTERN.design, sewing=wished)).order
    (against,) = order.against
    assert "go through it alone" in against.why
    assert comes("rows on back-pocket", "back pocket", order)
    # Rows along a hem that is turned up last do not wait for it: it waits for the side seam.
    hem = Topstitch("front-leg", "front.hem", (60.0,))
    order = evaluate(replace(PATTERN.design, topstitching=(hem,))).order
    assert holds(order)
    assert comes("rows on front-leg", "pocket mouth", order)
    assert comes("darts of front-leg", "rows on front-leg", order)


def test_rows_of_which_no_wish_speaks_stay_beside_their_join_wherever_that_is_wished():
    """A project from before rows were steps: every other step wished for, in its own order."""
    design = PATTERN.design
    old = tuple(step for step in PATTERN.order.steps if not step.startswith("rows "))
    moved = ("inseam", *(step for step in old if step != "inseam"))
    for wished in (old, moved):
        steps = evaluate(replace(design, sewing=wished)).order.steps
        assert steps.index("rows through knee-panel") == steps.index("knee panel") + 1
        assert steps.index("rows on back-pocket") == steps.index("back pocket") - 1
        bare = [step for step in steps if not step.startswith("rows ")]
        without = evaluate(replace(design, sewing=wished, topstitching=())).order.steps
        assert bare == list(without)


def test_rows_of_a_patch_that_lies_nowhere_are_stitched_on_it_alone():
    lost = replace(PATTERN.design.topstitching[0], piece="yoke", along="back.rise")
    order = evaluate(replace(PATTERN.design, topstitching=(lost,))).order
    assert "rows on yoke" in order.steps
    assert "rows through yoke" not in order.steps
    gone = replace(lost, piece="nothing")
    assert evaluate(replace(PATTERN.design, topstitching=(gone,))).order.steps == tuple(
        step for step in order.steps if step != "rows on yoke"
    )


def test_a_wish_is_followed_where_nothing_speaks_against_it():
    design = PATTERN.design
    wished = ("side seam", "inseam", "yoke seam")
    order = evaluate(replace(design, sewing=wished)).order
    assert holds(order)
    assert comes("side seam", "inseam", order)
    assert comes("inseam", "side seam")
    (against,) = order.against
    assert (against.first, against.then) == ("yoke seam", "side seam")


def test_any_wish_gives_an_order_in_which_all_can_be_sewn():
    design = PATTERN.design
    names = [join.name for join in design.joins]
    for wished in itertools.islice(itertools.permutations(names), 0, 4000, 371):
        assert holds(evaluate(replace(design, sewing=wished)).order)


def test_a_circle_of_reasons_still_gives_every_step_once():
    parts = {
        name: Parts(name, tuple(f"{name}.{edge}" for edge in ("one", "two", "three")))
        for name in ("a", "b", "c")
    }
    joins = (
        Join("first", side(("a", "a.one"), ("b", "b.one")), side(("c", "c.one"))),
        Join("second", side(("b", "b.two"), ("c", "c.two")), side(("a", "a.two"))),
        Join("third", side(("c", "c.three"), ("a", "a.three")), side(("b", "b.three"))),
    )
    order = sewing_order(joins, (), parts)
    assert sorted(order.steps) == ["first", "second", "third"]


def test_a_join_without_edges_on_a_side_is_told_and_put_in_order_too():
    """As a file written by hand may have it: the fly beside it is still known as one."""
    empty = Join("empty", PATTERN.design.joins[0].a, JoinSide(()))
    for construction in ("plain", "faced"):
        added = replace(empty, construction=construction)
        design = replace(PATTERN.design, joins=(added, *PATTERN.design.joins))
        pattern = evaluate(design)
        assert "empty" in pattern.order.steps
        assert comes("fly edge", "fly shield", pattern.order)
        assert pattern.ledger[0].verdict == "broken"
        assert "one side only" in next(f.message for f in pattern.findings if f.where == "empty")
        assert len(work_sheet_of(pattern).stages) > len(pattern.order.steps) - 10


def test_a_bag_is_turned_at_its_mouth_and_faced_before_it_is_closed():
    """Common practice, no source: what is stitched on a closed bag goes through what lies behind it
    as well.
    """
    for panel in ("front", "back"):
        pair = with_parts(plain_design(ORCHARD_BODY), HandPocket(panel=panel, facing=30.0))
        order = evaluate(pair).order
        assert holds(order)
        facing = "hand-pocket-facing on hand-pocket-bag"
        assert comes(facing, "hand-pocket mouth", order)
        assert comes("hand-pocket mouth", "hand-pocket bag", order)
        why = [one.why for one in reasons_for(order, "hand-pocket bag")]
        assert any("is open only until hand-pocket bag is sewn" in one for one in why)
        wished = evaluate(replace(pair, sewing=("hand-pocket bag", "hand-pocket mouth"))).order
        assert [one.first for one in wished.against] == ["hand-pocket mouth"]


def test_of_the_seams_that_close_a_leg_the_felled_one_is_sewn_flat():
    """Common practice, no source: a fold is not stitched down within a tube."""

    def felled(*names, wished=()):
        plain = plain_design(ORCHARD_BODY)
        joins = tuple(
            replace(join, construction="felled" if join.name in names else "plain")
            for join in plain.joins
        )
        return evaluate(replace(plain, joins=joins, sewing=wished)).order

    assert comes("side seam", "inseam", felled())
    assert comes("side seam", "inseam", felled("side seam"))
    assert comes("inseam", "side seam", felled("inseam"))
    assert comes("side seam", "inseam", felled("side seam", "inseam"))
    assert comes("inseam", "crotch seam", felled("crotch seam"))
    wished = felled("inseam", wished=("side seam", "inseam"))
    assert comes("side seam", "inseam", wished)
    assert wished.against == ()


def test_a_seam_with_rows_of_its_own_is_sewn_flat_as_a_felled_one_is():
    plain = plain_design(ORCHARD_BODY)
    joins = tuple(
        replace(join, rows=(2.0,)) if join.name == "inseam" else join for join in plain.joins
    )
    assert comes("inseam", "side seam", evaluate(replace(plain, joins=joins)).order)
    banded = with_parts(replace(plain, joins=joins), HandPocket(), Fly(), ShapedWaistband())
    order = evaluate(banded).order
    assert holds(order)
    assert comes("inseam", "side seam", order)
    assert comes("band side", "band seam", order)
