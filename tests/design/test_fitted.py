"""A fit changed: what the back inseam is shorter by is what its seam is meant to be."""

import pytest
from msgspec.structs import replace

from studio.demo import ORCHARD_BODY, demo_design
from studio.design import ImportedBlock
from studio.design.body import Fit
from studio.design.fitted import with_fit
from studio.design.plain import plain_design
from studio.pattern import evaluate


def inseam(design):
    (row,) = [row for row in evaluate(design).ledger if row.name == "inseam"]
    return row


@pytest.mark.parametrize("stretch", [0.0, 3.0, 6.0])
def test_a_plain_pair_with_a_back_inseam_to_be_stretched_in_has_no_finding(stretch):
    design = plain_design(ORCHARD_BODY, Fit(inseam_stretch=stretch))
    row = inseam(design)
    assert row.verdict == "match"
    assert row.length_a - row.length_b == pytest.approx(stretch, abs=1e-4)
    assert not [f for f in evaluate(design).findings if f.gravity == "grave"]


def test_it_follows_to_and_fro_and_leaves_what_else_is_eased():
    plain = plain_design(ORCHARD_BODY)
    eased = replace(
        plain, joins=tuple(replace(j, ease=1.5) if j.name == "inseam" else j for j in plain.joins)
    )
    there = with_fit(eased, Fit(inseam_stretch=4.0))
    assert [j.ease for j in there.joins if j.name == "inseam"] == [-2.5]
    assert with_fit(there, Fit()) == eased
    turned = replace(
        eased,
        joins=tuple(replace(j, a=j.b, b=j.a) if j.name == "inseam" else j for j in eased.joins),
    )
    there = with_fit(turned, Fit(inseam_stretch=4.0))
    assert [j.ease for j in there.joins if j.name == "inseam"] == [5.5]


def test_a_cut_leg_follows_too_and_a_drawn_block_stays_as_it_is():
    design = demo_design()
    fit = replace(design.block.fit, inseam_stretch=design.block.fit.inseam_stretch + 2.0)
    assert inseam(with_fit(design, fit)).verdict == "match"
    drawn = replace(design, block=ImportedBlock(()))
    assert with_fit(drawn, fit) is drawn
