"""The demonstration's recipe on every second of 507 measured bodies, to spare time: every step and
line is done on each.

Bodies: see `bdims.py`. The only findings are of fit, and each has its cause in the body: a wearer
larger at the waist than the hips leaves too little of a waist that was swung in, a slender one too
much, and on the narrowest backs a back pocket of one size for all hangs over the side seam; each is
told with what to do.
"""

import collections

import msgspec

from studio.demo import demo_design
from studio.pattern import evaluate
from tests.outside.bdims import bodies

FIT = {"girth-small", "waist-large", "laid-over"}


def test_the_recipe_runs_on_each_body_and_only_fit_is_left_to_the_maker():
    design = demo_design()
    found = collections.Counter()
    for body in bodies()[::2]:
        pattern = evaluate(msgspec.structs.replace(design, body=body))
        assert len(pattern.pieces) == len(design.pieces)
        assert all(step.after is not None for step in pattern.steps)
        assert all(row.verdict == "match" for row in pattern.ledger), body.name
        found.update({finding.rule for finding in pattern.findings})
    assert set(found) <= FIT
    assert found["girth-small"] <= 45
    assert found["waist-large"] <= 30
    assert found["laid-over"] <= 10
