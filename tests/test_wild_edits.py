"""Whatever is changed in a design, what is remembered gives what a fresh start gives, and the work
sheet is written.
"""

import random

import msgspec
import pytest
from msgspec.structs import replace

from studio import pattern as road
from studio.cut.count import with_count
from studio.cut.parts import PARTS, ShapedWaistband, Waistband
from studio.demo import ORCHARD_BODY, demo_design
from studio.design.file import decoded, encoded
from studio.design.naming import renamed_line
from studio.design.plain import plain_design
from studio.errors import YokewrightError
from studio.exchange.work_sheet import work_sheet_of
from studio.pattern import evaluate, with_parts
from tests.test_draft import DRAWN

EDITS = 12
UNREAD = ("name", "notes", "toile", "stash", "lay", "cutting")
"""Parts of a design that no pattern is made from."""


def with_all_parts(band):
    kinds = [kind for kind in PARTS if kind not in (Waistband, ShapedWaistband)]
    return with_parts(plain_design(ORCHARD_BODY), *(kind() for kind in kinds), band())


DESIGNS = {
    "demonstration": demo_design,
    "straight band": lambda: with_all_parts(Waistband),
    "shaped band": lambda: with_all_parts(ShapedWaistband),
}


def values(value, path=()):
    """Every number and every tuple of a design with the way to it."""
    if isinstance(value, msgspec.Struct):
        for field in value.__struct_fields__:
            yield from values(getattr(value, field), (*path, field))
    elif isinstance(value, tuple):
        yield path, value
        for index, one in enumerate(value):
            yield from values(one, (*path, index))
    elif isinstance(value, int | float):
        yield path, value


def plain(value):
    """A value without what its curves remember of themselves."""
    if isinstance(value, msgspec.Struct):
        fields = [field for field in value.__struct_fields__ if not field.startswith("_")]
        return type(value).__name__, [plain(getattr(value, field)) for field in fields]
    if isinstance(value, tuple | list):
        return [plain(one) for one in value]
    if isinstance(value, dict):
        return {name: plain(one) for name, one in value.items()}
    return value


def put(value, path, new):
    if not path:
        return new
    first, *others = path
    if isinstance(first, str):
        return replace(value, **{first: put(getattr(value, first), others, new)})
    return (*value[:first], put(value[first], others, new), *value[first + 1 :])


def other(value, draw):
    """A value near to another, or a tuple without one of its items or in another order."""
    if isinstance(value, bool):
        return not value
    if isinstance(value, int):
        return max(0, value + draw.choice((-1, 1, 2)))
    if isinstance(value, float):
        return value * draw.gauss(1.0, 0.05) + draw.gauss(0.0, 1.0)
    if draw.random() < 0.5:
        left = list(value)
        del left[draw.randrange(len(left))]
        return tuple(left)
    return tuple(draw.sample(value, len(value)))


def edited(design, draw):
    """The design with one change of any kind; raises YokewrightError or ValidationError when it is
    refused.
    """
    kind = draw.random()
    if kind < 0.08 and design.lines:
        name = draw.choice(design.lines).name
        return renamed_line(design, name, f"{name}-x")
    if kind < 0.16 and design.pieces:
        return with_count(design, draw.choice(design.pieces).name, draw.randint(1, 9))
    if kind < 0.24:
        return with_parts(design, draw.choice(PARTS)(name=f"part-{draw.randint(0, 999)}"))
    if kind < 0.6 and design.lines:
        line = draw.choice(design.lines)
        path, value = draw.choice([one for one in values(line) if isinstance(one[1], float)])
        return design.with_line(put(line, path, value + draw.gauss(0.0, 0.05 * max(1.0, value))))
    found = [one for one in values(design) if one[0][0] not in UNREAD and one[1] != ()]
    part = draw.choice(sorted({path[0] for path, _ in found}))
    path, value = draw.choice([one for one in found if one[0][0] == part])
    changed = put(design, path, other(value, draw))
    decoded(encoded(changed))
    # Not what was read back: that shares nothing with the design, and all would be made anew.
    return changed


@pytest.mark.parametrize("start", DESIGNS.values(), ids=DESIGNS)
def test_wild_edits_are_drawn_and_told_as_from_a_fresh_start(start):
    draw = random.Random(5)
    first = design = start()
    shown = evaluate(design)
    made = 0
    while made < EDITS:
        try:
            changed = edited(design, draw)
            draft = evaluate(changed, shown)
        except (YokewrightError, msgspec.ValidationError):
            continue
        made += 1
        whole = evaluate(changed)
        road.forget()
        fresh = evaluate(changed)
        for field in DRAWN:
            anew = plain(getattr(fresh, field))
            assert plain(getattr(draft, field)) == anew, (made, field)
            assert plain(getattr(whole, field)) == anew, (made, field)
        assert whole.findings == fresh.findings
        assert work_sheet_of(fresh).stages
        design, shown = (changed, draft) if draw.random() < 0.85 else (first, evaluate(first))
