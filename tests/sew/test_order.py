"""The order of sewing: why one seam waits for another, and what the maker may choose."""

import itertools

from msgspec.structs import replace

from studio.demo import demo_design
from studio.design.joins import Join
from studio.design.plain import side
from studio.pattern import evaluate
from studio.sew import Parts, sewing_order

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
    assert len(PATTERN.order.steps) == len(design.joins) + len(worked) + len(darted)
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


def test_each_reason_says_why():
    why = {(one.first, one.then): one.why for one in PATTERN.order.reasons}
    assert "runs across" in why["yoke seam", "crotch seam"]
    assert "flat" in why["knee panel", "side seam"]
    assert "closes that end" in why["pocket mouth", "side seam"]


def test_a_wish_is_followed_where_nothing_speaks_against_it():
    design = PATTERN.design
    wished = ("inseam", "side seam", "yoke seam")
    order = evaluate(replace(design, sewing=wished)).order
    assert holds(order)
    assert comes("inseam", "side seam", order)
    assert comes("side seam", "inseam")
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
