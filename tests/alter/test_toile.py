"""Notes of a toile become steps whose sum is what was noted, and seams still match."""

import msgspec
import pytest

from studio.alter.toile import MISFITS, proposed, said
from studio.curves import level_meetings
from studio.demo import ORCHARD_BODY, demo_design
from studio.design import FoldPleat, Lengthen
from studio.design.plain import plain_design
from studio.design.toile import ToileNote
from studio.errors import GeometryRefused
from studio.pattern import evaluate
from tests.shapes import deep_dart

PLAIN = plain_design(ORCHARD_BODY)
BEFORE = evaluate(PLAIN)


def mended(note, design=PLAIN):
    pattern = evaluate(design)
    steps = proposed(note, pattern.panels).steps
    return evaluate(msgspec.structs.replace(design, alterations=(*design.alterations, *steps)))


def panel(pattern, name):
    return next(panel for panel in pattern.panels if panel.name == name)


def width(pattern, name, level):
    """Width of a panel on a level line, mm."""
    it = panel(pattern, name)
    places = [
        hit.point.x for edge in it.outline for hit in level_meetings(edge.chain, it.levels[level])
    ]
    return max(places) - min(places)


def girth(pattern, level):
    return sum(width(pattern, name, level) for name in ("front", "back"))


def sewn_waist(pattern):
    return 2.0 * sum(panel(pattern, n).sewn_length(f"{n}.waist") for n in ("front", "back"))


@pytest.mark.parametrize("amount", [16.0, 38.0])
def test_a_waist_too_large_loses_the_whole_amount(amount):
    # Waist 38 too large: common practice, no source.
    made = mended(ToileNote("waist", "large", amount))
    assert sewn_waist(BEFORE) - sewn_waist(made) == pytest.approx(amount, abs=1.0)


def test_a_waist_too_tight_gains_the_whole_amount():
    made = mended(ToileNote("waist", "tight", 20.0))
    assert sewn_waist(made) - sewn_waist(BEFORE) == pytest.approx(20.0, abs=0.1)


def test_a_back_rise_15_short_gains_about_15():
    # Back rise 15 short: common practice, no source. Drawn fair, it may differ by a tenth of it.
    made = mended(ToileNote("back rise", "short", 15.0))
    gain = (
        panel(made, "back").outline.edge("back.rise").length
        - panel(BEFORE, "back").outline.edge("back.rise").length
    )
    assert gain == pytest.approx(15.0, abs=2.5)


@pytest.mark.parametrize(("place", "level"), [("hip", "hip"), ("knee", "knee")])
def test_girths_change_by_what_was_noted(place, level):
    legs = 2.0 if place == "hip" else 1.0
    for misfit, sign in (("large", -1.0), ("tight", 1.0)):
        made = mended(ToileNote(place, misfit, 20.0))
        change = legs * (girth(made, level) - girth(BEFORE, level))
        assert change == pytest.approx(sign * 20.0, abs=0.05)


def test_a_thigh_tight_by_20_gains_20_on_the_crotch_line():
    # Thigh tight by 20: common practice, no source. The back's fork lies a little below the line,
    # so that there the rise moves by a hair less than its end.
    made = mended(ToileNote("thigh", "tight", 20.0))
    change = girth(made, "crotch") - girth(BEFORE, "crotch")
    assert change == pytest.approx(20.0, abs=0.1)
    hip = girth(made, "hip") - girth(BEFORE, "hip")
    assert hip == pytest.approx(0.0, abs=1e-6)


def test_a_hem_is_narrowed_and_a_leg_shortened_by_what_was_noted():
    # Hem 10 long: common practice, no source.
    narrower = mended(ToileNote("hem", "large", 24.0))
    hems = [
        sum(panel(p, n).outline.edge(f"{n}.hem").length for n in ("front", "back"))
        for p in (BEFORE, narrower)
    ]
    assert hems[0] - hems[1] == pytest.approx(24.0, abs=1e-3)
    shorter = mended(ToileNote("leg", "long", 10.0))
    heights = [panel(p, "front").levels["waist"] for p in (BEFORE, shorter)]
    assert heights[0] - heights[1] == pytest.approx(10.0, abs=1e-9)


CASES = [(place, misfit) for place, known in MISFITS.items() for misfit in known]


@pytest.mark.parametrize(("place", "misfit"), CASES)
@pytest.mark.parametrize("design", [PLAIN, demo_design()], ids=["plain", "demo"])
def test_every_note_can_be_taken_and_the_long_seams_still_match(place, misfit, design):
    made = mended(ToileNote(place, misfit, 12.0), design)
    assert all(step.after is not None for step in made.steps)
    rows = {row.name: row for row in made.ledger}
    for name in ("side seam", "inseam"):
        assert abs(rows[name].difference - rows[name].ease) <= 1.0, name


def test_a_note_that_says_nothing_is_refused():
    for note in (ToileNote("leg", "tight", 5.0), ToileNote("hip", "large", 0.0)):
        with pytest.raises(GeometryRefused, match="cannot be answered"):
            proposed(note, BEFORE.panels)
    with pytest.raises(GeometryRefused, match="front and a back"):
        proposed(ToileNote("hip", "large", 5.0), ())
    assert said(ToileNote("waist", "large", 38.0)) == "waist 38.0 mm too large"


DEEP = deep_dart()


def test_a_step_that_a_pleat_lies_in_the_way_of_is_not_proposed_but_told():
    pleated = msgspec.structs.replace(PLAIN, alterations=(DEEP, FoldPleat("front", "deep")))
    panels = evaluate(pleated).panels
    with pytest.raises(GeometryRefused, match="Hinge open: The line crosses the dart deep"):
        proposed(ToileNote("front rise", "short", 12.0), panels)
    assert proposed(ToileNote("front rise", "long", 12.0), panels).steps
    with pytest.raises(GeometryRefused, match=r"cannot open by 300\.0 mm"):
        proposed(ToileNote("back rise", "short", 300.0), BEFORE.panels)


@pytest.mark.parametrize("knee_to_hem", [60.0, 110.0, 220.0])
@pytest.mark.parametrize(("misfit", "by"), [("long", -12.0), ("short", 12.0)])
def test_the_leg_of_cropped_trousers_changes_below_the_knee_too(knee_to_hem, misfit, by):
    level = panel(BEFORE, "front").levels
    off = knee_to_hem - (level["knee"] - level["hem"])
    cropped = msgspec.structs.replace(
        PLAIN,
        alterations=tuple(Lengthen(name, "hem", off, 20.0) for name in ("front", "back")),
    )
    before, after = evaluate(cropped), mended(ToileNote("leg", misfit, 12.0), cropped)
    for name in ("front", "back"):
        one, two = panel(before, name).levels, panel(after, name).levels
        assert one["knee"] - one["hem"] == pytest.approx(knee_to_hem, abs=1e-9)
        assert (two["knee"] - two["hem"]) - knee_to_hem == pytest.approx(by, abs=1e-9)
        assert two["waist"] - two["knee"] == pytest.approx(one["waist"] - one["knee"], abs=1e-9)
