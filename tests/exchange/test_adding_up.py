"""What is told beside each other adds up, or is said to be rounded by itself."""

import re
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from studio import numbers
from studio.cut.parts import BeltLoops, Fly, HandPocket, ShapedWaistband
from studio.demo import ORCHARD_BODY
from studio.design.plain import plain_design
from studio.exchange.adding_up import DIFFERENCES_ROUNDED, EACH_ROUNDED, adds_up
from studio.exchange.along import sheet_of
from studio.exchange.report import report_text
from studio.exchange.work_sheet import work_sheet_of
from studio.pattern import evaluate, with_parts

BAND = ShapedWaistband(name="band", width=1.6875 * 25.4)
MADE = evaluate(with_parts(plain_design(ORCHARD_BODY), HandPocket(), Fly(), BAND, BeltLoops()))
UNITS = numbers.DECIMAL_UNITS


def said(sheet):
    return " ".join(sentence for stage in sheet.stages for sentence in stage.sentences)


def of(cell):
    """The digits as they stand, read by the standard library alone."""
    return Decimal(re.match(r"[-+\N{MINUS SIGN}]?[\d.]+", cell)[0].replace("\N{MINUS SIGN}", "-"))


@given(
    st.integers(0, 10**7),
    st.integers(0, 10**7),
    st.sampled_from(UNITS),
)
def test_three_lengths_add_up_where_their_digits_do_and_are_one_off_at_most(a, b, unit):
    told = [
        numbers.length(mm / 1000.0, unit, numbers.DECIMALS[unit], signed=signed)
        for mm, signed in ((a, False), (b, False), (b - a, True))
    ]
    first, second, over = map(of, told)
    assert adds_up(*told) == (second - first == over)
    # Each is at most half of the last digit off, and a little for halves, so the three are less
    # than two.
    last = Fraction(1, 10 ** numbers.DECIMALS[unit])
    assert abs(Fraction(second - first - over)) in (0, last)


@pytest.mark.parametrize(
    "row",
    [
        ("not measured", "91.1 mm", ""),
        ("", "", ""),
        ("\N{ALMOST EQUAL TO}12 3/16 inch", "12 1/4 inch", "\N{ALMOST EQUAL TO}+1/16 inch"),
    ],
)
def test_beside_what_is_no_decimal_there_is_nothing_to_add(row):
    assert adds_up(*row)


@pytest.mark.parametrize("unit", UNITS)
def test_the_ledger_says_so_where_a_row_does_not_add_up(unit):
    text = report_text(MADE, unit)
    parts = re.split(r"\n(?:Seams|Girths|Pieces)\n", text)
    found = 0
    for table in parts[1:3]:
        rows = [re.findall(rf"(\S+) {unit}\b", line)[:3] for line in table.splitlines()]
        off = [row for row in rows if len(row) == 3 and of(row[1]) - of(row[0]) != of(row[2])]
        assert (DIFFERENCES_ROUNDED in table) == bool(off)
        found += len(off)
    # The band's top in mm and cm, two girths in inches: else this looks at nothing.
    assert found


def test_a_seam_on_the_sheets_says_so_where_its_lengths_do_not_add_up():
    top = next(row for row in MADE.ledger if row.name == "band top")
    seen = set()
    for by in (0.0, 0.02, 0.04, 0.06, 0.08):
        rows = tuple(
            replace(row, length_a=row.length_a + by, length_b=row.length_b + by)
            if row is top
            else row
            for row in MADE.ledger
        )
        walked = said(sheet_of(replace(MADE, ledger=rows)))
        found = re.search(
            r"Band top: ([\d.]+) mm against ([\d.]+) mm, the second ([\d.]+) mm "
            r"shorter( \([^)]*\))? and stretched to fit",
            walked,
        )
        is_off = of(found[1]) - of(found[2]) != of(found[3])
        assert found[4] == (EACH_ROUNDED if is_off else None)
        seen.add(is_off)
    assert seen == {True, False}


@pytest.mark.parametrize("unit", UNITS)
def test_the_work_sheet_says_so_of_the_very_seam(unit):
    found = re.search(
        rf"The seam is ([\d.]+) {unit} on ([\d.]+) {unit} long, the second side ([\d.]+) {unit} "
        r"shorter( \([^)]*\))?: stretch it to fit",
        said(work_sheet_of(MADE, unit)),
    )
    is_off = of(found[1]) - of(found[2]) != of(found[3])
    assert found[4] == (EACH_ROUNDED if is_off else None)
    assert is_off == (unit != "inch")
