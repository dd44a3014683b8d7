"""What is wrong with a lay is told of each piece, by the names of copies."""

from studio.cloth.fault_words import counted, troubles_of
from studio.cloth.table import table_of
from studio.demo import demo_design
from studio.design.cloth import Cloth, Lay, Placement, Roll
from studio.pattern import evaluate

PATTERN = evaluate(demo_design())
ROLLS = (Roll("canvas", "main", 1500.0, 900.0), Roll("waxed", "knee", 600.0, 600.0))


def told(*placements, unit="mm"):
    cloths = (Cloth("main", "#000000"), Cloth("knee", "#000000"))
    table = table_of(PATTERN.pieces, cloths, (), ROLLS, Lay(placements, gap=2.0))
    return troubles_of(table, lambda key: f"{key[0]} {key[1] + 1}", unit)


def test_nothing_is_told_of_what_can_be_cut():
    assert told(Placement("bearer", 0, "canvas", (200.0, 300.0))) == {}


def test_two_pieces_over_one_another_are_told_of_both():
    found = told(
        Placement("bearer", 0, "canvas", (200.0, 300.0)),
        Placement("bearer", 1, "canvas", (220.0, 300.0)),
    )
    assert found == {
        ("bearer", 0): "Lies over bearer 2.",
        ("bearer", 1): "Lies over bearer 1.",
    }


def test_a_gap_too_narrow_is_told_in_the_makers_unit():
    loops = [Placement("belt-loop", at, "canvas", (300.0 + 36.5 * at, 300.0)) for at in range(2)]
    found = told(*loops)
    assert found[("belt-loop", 0)].endswith("mm too near to belt-loop 2.")
    assert "cm too near" in told(*loops, unit="cm")[("belt-loop", 0)]


def test_off_the_cloth_turned_and_on_the_wrong_cloth_are_told():
    off = told(Placement("bearer", 0, "canvas", (60.0, 300.0)))[("bearer", 0)]
    assert off.startswith("It reaches ")
    assert off.endswith("beyond usable cloth.")
    turned = told(Placement("bearer", 0, "canvas", (400.0, 400.0), turn=30.0))[("bearer", 0)]
    assert turned == "It is turned 30.0° further than it may be."
    wrong = told(Placement("bearer", 0, "waxed", (300.0, 300.0)))[("bearer", 0)]
    assert wrong == "It may not be cut from waxed."
    face = told(Placement("bearer", 0, "canvas", (400.0, 400.0), flipped=True))[("bearer", 0)]
    assert face == "It lies with the wrong side up."


def test_what_is_wrong_by_less_than_is_told_is_told_by_something():
    """The referee sees 0.01 mm: "0.0 mm too near" stood there."""
    loops = [Placement("belt-loop", at, "canvas", (300.0 + 37.97 * at, 300.0)) for at in range(2)]
    for unit, least in (("mm", "0.1 mm"), ("cm", "0.01 cm"), ("inch", "0.001 inch")):
        words = told(*loops, unit=unit)[("belt-loop", 0)]
        # 0.03 mm are 0.0012 inch, which digits in inches show.
        assert (
            words
            == f"Lies {'' if unit == 'inch' else 'less than '}{least} too near to belt-loop 2."
        )
    turned = told(Placement("bearer", 0, "canvas", (400.0, 400.0), turn=0.04))[("bearer", 0)]
    assert turned == "It is turned less than 0.1° further than it may be."


def test_names_stand_in_a_row():
    assert counted([("yoke", 0), ("bearer", 1)], lambda key: key[0]) == "yoke; bearer"
